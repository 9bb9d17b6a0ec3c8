/** Reads models in tests with the real geometry engine, which is started once. */
import { expect } from 'vitest';
import { computeSignedArea } from '../../../src/core/geometry/polygon.ts';
import type { IfcApi } from '../../../src/importers/ifc/engine.ts';
import { readIfc } from '../../../src/importers/ifc/read-ifc.ts';
import type { DrawnRoom, DrawnStorey, ReadSource, Refusal, Remark } from '../../../src/importers/storey.ts';
import { openIfcApi } from '../../../src/workers/ifc-api.ts';

let engine: Promise<IfcApi> | undefined;

/** The engine of all tests of a file; after it has ended itself a new one is started. */
function sharedEngine(): Promise<IfcApi> {
  engine ??= openIfcApi();
  return engine;
}

export function dropEngine(): void {
  engine = undefined;
}

export const toBytes = (text: string): Uint8Array => new TextEncoder().encode(text);

export const readAny = (model: string | Uint8Array): Promise<ReadSource | Refusal> =>
  readIfc(typeof model === 'string' ? toBytes(model) : model, { ifcApi: sharedEngine, name: 'invented.ifc' });

/** Reads a model that must not be refused. */
export async function readModel(model: string | Uint8Array): Promise<ReadSource> {
  const source = await readAny(model);
  if (!source.ok) throw new Error(`Refused: ${source.reason}`);
  return source;
}

/** The only or the named storey of a model. */
export async function readStorey(model: string | Uint8Array, name?: string): Promise<DrawnStorey> {
  const { storeys } = await readModel(model);
  const storey = name === undefined ? storeys[0] : storeys.find((each) => each.name === name);
  if (storey === undefined) throw new Error(`There is no storey ${name}.`);
  return storey;
}

export async function readRefusal(model: string | Uint8Array): Promise<Refusal> {
  const source = await readAny(model);
  if (source.ok) throw new Error('The model was read, and should have been refused.');
  expect(source.reason.length).toBeGreaterThan(10);
  expect(source.remedy.length).toBeGreaterThan(10);
  return source;
}

export const areaOf = ({ outline, holes }: Pick<DrawnRoom, 'outline' | 'holes'>): number =>
  holes.reduce((sum, hole) => sum - Math.abs(computeSignedArea(hole)), Math.abs(computeSignedArea(outline)));

/** Least and greatest x and y of an outline. */
export function boxOf(outline: DrawnRoom['outline']): readonly [number, number, number, number] {
  const xs = outline.map(([x]) => x);
  const ys = outline.map(([, y]) => y);
  const round = (value: number): number => Math.round(value * 1e6) / 1e6 + 0;
  return [round(Math.min(...xs)), round(Math.min(...ys)), round(Math.max(...xs)), round(Math.max(...ys))];
}

export const saying = (remarks: readonly Remark[], pattern: RegExp): readonly Remark[] =>
  remarks.filter(({ what, reason }) => pattern.test(`${what}: ${reason}`));
