export type { Areas } from './areas.ts';
export type { ProbeAnswer } from './check.ts';
export { check, judgeCoverage, probeAt } from './check.ts';
export type { Change, Coverage } from './coverage.ts';
export { adoptCoverage, createCoverage } from './coverage.ts';
export type { Field } from './field.ts';
export { BLIND, CAUSES, OUTSIDE, SEEN, TAKEN } from './field.ts';
export type * from './result.ts';
export { updateCoverage } from './update.ts';
