import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { parseFloor, serialiseFloor } from '../../src/core/floor/index.ts';
import { assembleFloor } from '../../src/importers/assembly/assemble.ts';
import { readSource } from '../../src/importers/source.ts';
import { openIfcApi } from '../../src/workers/ifc-api.ts';
import { ImportEnded, openImportLine, type SpawnImport } from '../../src/workers/import-line.ts';
import type { ImportRequest } from '../../src/workers/import-session.ts';
import { spawnImportTwin } from '../../src/workers/import-twin.ts';
import { JobFailed } from '../../src/workers/pool.ts';
import { findOutsideFolder } from '../outside/visibility-files.ts';

const PLATFORM = { ifcApi: openIfcApi };
const nothing = (): void => {};
const read = (...path: string[]) => ({
  name: path.at(-1) ?? '',
  bytes: new Uint8Array(readFileSync(join(findOutsideFolder(), ...path))),
});

test.each([
  ['ifc', 'revit_quantities.ifc'],
  ['dxf', 'ISO-Office.dxf'],
  ['other', 'wrld-westport-house', 'westport-house-floor-2.geojson'],
])('a session gives the same floor as the functions it is made of: %s/%s', async (...path) => {
  const stages: string[] = [];
  const line = openImportLine(spawnImportTwin(PLATFORM));
  const summary = await line.read([read(...path)], {}, (share, stage) => {
    expect(share).toBeGreaterThanOrEqual(0);
    expect(share).toBeLessThanOrEqual(1);
    stages.push(stage);
  });
  if (!summary.ok) throw new Error(summary.reason);
  expect(stages.length).toBeGreaterThan(0);
  const built = await line.build({ storey: summary.main, answers: { ceiling: 3.1 }, onto: null });
  line.end();

  const { source } = await readSource([read(...path)], {}, PLATFORM, nothing);
  if (!source.ok) throw new Error(source.reason);
  const storey = source.storeys[summary.main];
  if (storey === undefined) throw new Error('the main storey is missing');
  expect(serialiseFloor(built.floor)).toBe(serialiseFloor(assembleFloor(storey, { ceiling: 3.1 }, source).floor));
  expect(parseFloor(serialiseFloor(built.floor)).ok).toBe(true);
  expect(built.plan.box).not.toBeNull();
  expect(summary.storeys[summary.main]?.plan.rooms.length ?? 0).toBeGreaterThanOrEqual(0);
});

test('the source is read once for many answers, and again when the drawing is answered', async () => {
  const line = openImportLine(spawnImportTwin(PLATFORM));
  const summary = await line.read([read('dxf', 'floorplan.dxf')], {}, nothing);
  expect(summary).toMatchObject({ ok: true, survey: { unit: { taken: 'in' } } });
  const first = await line.build({ storey: 0, answers: {}, onto: null });
  const second = await line.build({ storey: 0, answers: { ceiling: 2.4 }, onto: null });
  expect([first.floor.rooms[0]?.ceiling, second.floor.rooms[0]?.ceiling]).toEqual([2.8, 2.4]);
  const again = await line.reread({ dxf: { unit: 'ft' } }, nothing);
  const widthOf = (read: typeof again): number => (read.ok ? (read.storeys[0]?.plan.box?.[2] ?? 0) : 0);
  expect(widthOf(again)).toBeGreaterThan(5 * widthOf(summary));
  line.end();
});

test('a source that cannot be used is refused, and the line goes on', async () => {
  const line = openImportLine(spawnImportTwin(PLATFORM));
  expect(await line.read([read('ifc', 'NEG_EmptyTest.ifc')], {}, nothing)).toMatchObject({ ok: false });
  expect(await line.read([read('dxf', 'ISO-Corner.dxf')], {}, nothing)).toMatchObject({ ok: true });
  line.end();
});

interface FakeWorker {
  readonly requests: ImportRequest[];
  isEnded: boolean;
  die(message: string): void;
}

function createFake(): { readonly worker: FakeWorker; readonly spawn: SpawnImport } {
  const worker: FakeWorker = { requests: [], isEnded: false, die: nothing };
  const spawn: SpawnImport = (_onReply, onDeath) => {
    worker.die = onDeath;
    return {
      post: (request) => worker.requests.push(request),
      end: () => {
        worker.isEnded = true;
      },
    };
  };
  return { worker, spawn };
}

test('calling an import off ends the worker at once and rejects what runs', async () => {
  const { worker, spawn } = createFake();
  const line = openImportLine(spawn);
  const reading = line.read([], {}, nothing);
  line.end();
  expect(worker.isEnded).toBe(true);
  await expect(reading).rejects.toBeInstanceOf(ImportEnded);
  await expect(line.build({ storey: 0, answers: {}, onto: null })).rejects.toBeInstanceOf(ImportEnded);
});

test('a worker that dies rejects what runs with the reason, and is ended', async () => {
  const { worker, spawn } = createFake();
  const line = openImportLine(spawn);
  const reading = line.read([], {}, nothing);
  worker.die('out of memory');
  await expect(reading).rejects.toThrow(JobFailed);
  await expect(reading).rejects.toThrow('out of memory');
  expect(worker.isEnded).toBe(true);
});
