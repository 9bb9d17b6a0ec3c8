/** The scene as GLB: by the validator of the Khronos Group, and its sizes against the floor. */
import { readFileSync } from 'node:fs';
import { WebIO } from '@gltf-transform/core';
import { validateBytes } from 'gltf-validator';
import { describe, expect, test } from 'vitest';
import type { Floor } from '../../src/core/floor/index.ts';
import { parseFloor } from '../../src/core/floor/index.ts';
import { createJob } from '../../src/handover/job.ts';
import { makeSceneGlb } from '../../src/handover/scene/scene-glb.ts';
import { buildFloor, rect, row } from '../core/sight/build-floor.ts';

function readModel(name: string): Floor {
  const parsed = parseFloor(readFileSync(new URL(`../../models/floors/${name}.json`, import.meta.url), 'utf8'));
  if (!parsed.ok) throw new Error(`${name} is faulty.`);
  return parsed.floor;
}

describe.each(['open-plan-office', 'small-rooms', 'archive'])('%s', (name) => {
  const floor = readModel(name);
  const made = makeSceneGlb(createJob(floor));

  test('the validator finds no error and no warning', async () => {
    const { issues } = await validateBytes(await made);
    expect(issues.messages.filter(({ severity }) => severity <= 1)).toEqual([]);
    expect(issues.numErrors).toBe(0);
  });

  test('every room, piece and detector is there, with its id, its heights and its footprint', async () => {
    const document = await new WebIO().readBinary(await made);
    const nodes = document.getRoot().listNodes();
    const find = (id: string) => nodes.find((node) => node.getExtras().id === id);
    const [ox, oy] = nodes.find((node) => node.getName() === 'rooms')!.getExtras().origin as [number, number];
    for (const { id } of [...floor.rooms, ...floor.detectors]) expect(find(id), id).toBeDefined();
    for (const piece of floor.furniture) {
      const position = find(piece.id)?.getMesh()?.listPrimitives()[0]?.getAttribute('POSITION');
      const [least, most] = [position?.getMin([]) ?? [], position?.getMax([]) ?? []];
      // y is up, and what runs north on the floor runs to −z.
      expect(least[1]).toBeCloseTo(piece.base, 5);
      expect(most[1]).toBeCloseTo(piece.top, 5);
      expect(least[0]! + ox).toBeCloseTo(Math.min(...piece.outline.map(([x]) => x)), 4);
      expect(oy - least[2]!).toBeCloseTo(Math.max(...piece.outline.map(([, y]) => y)), 4);
    }
  });
});

test('the same floor gives the same bytes', async () => {
  const floor = readModel('small-rooms');
  const [first, second] = await Promise.all([makeSceneGlb(createJob(floor)), makeSceneGlb(createJob(floor))]);
  expect(Buffer.compare(Buffer.from(first), Buffer.from(second))).toBe(0);
});

test('without detectors, with odd names and ten kilometres off it is valid all the same', async () => {
  const floor = buildFloor({
    rooms: [{ id: 'R', name: '<b>=1</b>\u0007 مكتب 😀', outline: rect(9000, 9000, 9006, 9004), ceiling: 3 }],
    types: [{ id: 'T', name: 'T', ranges: [row('minor', 3, 0.8, 6)] }],
  });
  const bytes = await makeSceneGlb(createJob(floor));
  const { issues } = await validateBytes(bytes);
  expect(issues.numErrors).toBe(0);
  const room = (await new WebIO().readBinary(bytes))
    .getRoot()
    .listNodes()
    .find((node) => node.getExtras().id === 'R');
  const position = room?.getMesh()?.listPrimitives()[0]?.getAttribute('POSITION');
  expect(Math.max(...(position?.getMax([]) ?? [999]))).toBeLessThan(10);
});
