/** Arranging: the fewest detectors over a grid of places, with how far the proof came. Seconds by the wall clock. */
import { readFileSync } from 'node:fs';
import type { FloorFile } from '../../src/core/floor/index.ts';
import { ARRANGE_DEFAULTS, type ArrangeOptions, arrange } from '../../src/core/planning/arrange/index.ts';
import { loadSolver } from '../../src/workers/highs-solver.ts';
import { generateFloor } from '../models/generate-floor.ts';
import { readOfficeText } from './bench-floors.ts';

export interface ArrangeRecord {
  readonly case: string;
  readonly areaM2: number;
  readonly workplaces: number;
  readonly zones: number;
  readonly candidates: number;
  readonly greedy: number;
  readonly count: number;
  readonly bound: number;
  readonly proved: boolean;
  readonly gapPercent: number;
  readonly seeingS: number;
  readonly firstS: number;
  readonly allS: number;
}

const PITCH = 1.2;
const SECONDS = 60;

/** A generated floor of 1,000 m², once for its workplaces and once for every cell of it; and the demo office with all its needs. */
export async function runArrangeCases(tell: (what: string) => void): Promise<ArrangeRecord[]> {
  const solver = await loadSolver();
  const generated = generateFloor({ areaM2: 1_000, seed: 7 });
  const { types } = JSON.parse(readFileSync('models/detectors/types.json', 'utf8')) as { types: FloorFile['types'] };
  const open: FloorFile = { ...generated, types, detectors: [], groups: [] };
  const seats = { ...open, zones: [], workplaces: open.workplaces?.slice(0, 100) ?? [] };
  const cells: FloorFile = {
    ...open,
    workplaces: [],
    zones: open.rooms.map(({ id, outline }) => ({
      id: `all ${id}`,
      name: 'All',
      outline,
      need: 'seated',
      share: 0.95,
    })),
  };
  const office = JSON.parse(readOfficeText()) as FloorFile;
  const cases: readonly (readonly [name: string, areaM2: number, file: FloorFile, type: string])[] = [
    ['1,000 m², 100 workplaces', 1_000, seats, 'round-6'],
    ['1,000 m², 95 % of all cells', 1_000, cells, 'wide-9'],
    ['open-plan office, all needs', 986, office, 'wide-9'],
  ];
  return cases.map(([name, areaM2, file, type]) => {
    tell(`arrange: ${name}`);
    const options: ArrangeOptions = {
      ...ARRANGE_DEFAULTS,
      types: [type] as never,
      grid: { kind: 'pitch', pitch: PITCH },
      seconds: SECONDS,
    };
    const arranged = arrange(file, options, {
      solver,
      now: () => performance.now(),
      shouldStop: () => false,
      onNews: () => {},
    });
    if (!arranged.ok) throw new Error(`${name}: ${arranged.text}`);
    const { result } = arranged;
    return {
      case: name,
      areaM2,
      workplaces: result.workplacesMet[1],
      zones: result.zonesMet[1],
      candidates: result.grid.candidates,
      greedy: result.greedyCost,
      count: result.count,
      bound: result.bound,
      proved: result.proved,
      gapPercent: result.gapPercent,
      seeingS: result.seconds.seeing,
      firstS: result.seconds.first,
      allS: result.seconds.all,
    };
  });
}
