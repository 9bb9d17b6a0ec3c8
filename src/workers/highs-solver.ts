/** The exact solver: HiGHS, a solver for mixed whole-number programs (MIT), compiled to WebAssembly. One thread. */
import loadHighs from 'highs';
import type { Solver, SolverAnswer } from '../core/planning/arrange/index.ts';

/** HiGHS says these of a model (`HighsModelStatus`). */
const OPTIMAL = 7;
const INFEASIBLE = 8;

/**
 * Loads the solver.
 * @param wasmUrl where a browser finds the WebAssembly; left out in Node, which finds it beside the package
 */
export async function loadSolver(wasmUrl?: string): Promise<Solver> {
  const highs = await loadHighs({
    ...(wasmUrl === undefined ? {} : { locateFile: () => wasmUrl }),
    print() {},
    printErr() {},
  });
  return ({ model, whole, start, seconds, onBounds }): SolverAnswer => {
    const numCols = model.costs.length;
    const numRows = model.starts.length - 1;
    const solver = highs.createModel({
      numCols,
      numRows,
      colCost: model.costs,
      colLower: new Float64Array(numCols),
      colUpper: new Float64Array(numCols).fill(1),
      rowLower: model.lower,
      rowUpper: model.upper,
      matrix: {
        format: 'csr',
        numRows,
        numCols,
        starts: model.starts,
        indices: model.columns,
        values: model.values,
      },
      ...(whole ? { integrality: new Int32Array(numCols).fill(1) } : {}),
    });
    try {
      solver.options.set({
        output_flag: false,
        time_limit: Math.max(0.01, seconds),
        mip_rel_gap: 0,
        random_seed: 1,
        // Good choices come from the search before; here the bound is wanted, which these do nothing for.
        mip_heuristic_effort: 0,
        mip_heuristic_run_feasibility_jump: false,
        mip_heuristic_run_root_reduced_cost: false,
        mip_heuristic_run_rins: false,
        mip_heuristic_run_rens: false,
        mip_allow_cut_separation_at_nodes: false,
        mip_detect_symmetry: false,
        mip_pscost_minreliable: 4,
      });
      if (whole && start) solver.setSolution({ colValue: start });
      let bound = 0;
      solver.run({
        [highs.constants.callbackType.mipInterrupt](event) {
          const { mip_primal_bound: best = Infinity, mip_dual_bound: low = 0 } = event.data;
          if (Number.isFinite(low)) bound = Math.max(bound, low);
          if (!onBounds(best, bound)) event.interrupt();
        },
      });
      const status = solver.getModelStatus();
      if (status === INFEASIBLE) return { status: 'infeasible', x: null, bound: Infinity };
      const { colValue } = solver.getSolution();
      const x = colValue.length === numCols ? Float64Array.from(colValue) : null;
      if (status === OPTIMAL) {
        return {
          status: 'optimal',
          x,
          bound: whole ? Math.max(bound, Number(solver.info.get('mip_dual_bound'))) : solver.getObjectiveValue(),
        };
      }
      return { status: 'stopped', x: whole ? x : null, bound: whole ? bound : 0 };
    } finally {
      solver.dispose();
    }
  };
}
