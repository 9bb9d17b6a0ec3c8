export { type Arranged, type ArrangeNews, type ArrangePlatform, type ArrangeResult, arrange } from './arrange.ts';
export {
  ARRANGE_DEFAULTS,
  type ArrangeOptions,
  type CandidateGrid,
  type KeepOuts,
  type KeptDetectors,
} from './options.ts';
export type { HungPlace, Proposal } from './proposal.ts';
export type { RowModel, Solver, SolverAnswer, SolverRequest } from './solver.ts';
export type { Unmet } from './unmet.ts';
