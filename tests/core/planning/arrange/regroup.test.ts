/** Groups of an arrangement: what a main may carry, by number and by cable, as the plan of groups judges it. */
import { expect, test } from 'vitest';
import { createCoverage } from '../../../../src/core/coverage/index.ts';
import type { FloorFile } from '../../../../src/core/floor/index.ts';
import { regroup } from '../../../../src/core/planning/arrange/regroup.ts';
import { planGroups } from '../../../../src/core/planning/groups/group-plan.ts';
import { readFloor, rect, row } from '../../sight/build-floor.ts';

type Limits = Partial<FloorFile['types'][number]>;

/** A row of detectors 3 m apart in one room; the first so many are kept in a group, the others are new. */
function regroupRow(count: number, limits: Limits, kept = 0) {
  const detectors: FloorFile['detectors'] = Array.from({ length: count }, (_, k) => ({
    id: `D${k}`,
    name: `D${k}`,
    type: 'T',
    at: [1.5 + 3 * k, 3],
  }));
  const staying = detectors.slice(0, kept);
  const file: FloorFile = {
    format: 'lacuna/1',
    name: 'Row',
    rooms: [{ id: 'R', name: 'Room', outline: rect(0, 0, 3 * count, 6) as never, ceiling: 3 }],
    types: [{ id: 'T', name: 'Type', lightSensor: true, ranges: [row('minor', 3, 0.8, 6)], ...limits }],
    detectors: staying,
    groups: kept > 0 ? [{ id: 'G', name: 'G', main: 'D0', extensions: staying.slice(1).map(({ id }) => id) }] : [],
  };
  const floor = readFloor(file);
  const added = detectors.slice(kept).map((each) => ({ file: each, room: 0, type: floor.types[0]! }));
  const { groups } = regroup(floor, file, new Set(staying.map(({ id }) => id)), added);
  return {
    members: groups.map(({ main, extensions }) => [main, ...(extensions ?? [])]),
    plans: planGroups(createCoverage(readFloor({ ...file, detectors, groups }))),
  };
}

// A leg of 3 m has 1.6 m of drops, and a tenth is added: 5.06 m.
test.each<[number, Limits, number, number[]]>([
  [5, { cableLimit: 20.24 }, 0, [5]],
  [5, { cableLimit: 20.23 }, 0, [4, 1]],
  [5, { cableLimit: 5 }, 0, [1, 1, 1, 1, 1]],
  [12, { extensionLimit: 10 }, 0, [11, 1]],
  [12, { extensionLimit: 3, cableLimit: 1000 }, 0, [4, 4, 4]],
  [12, { extensionLimit: 10, cableLimit: 26 }, 0, [6, 6]],
  [5, {}, 0, [5]],
  [6, { cableLimit: 20.24 }, 2, [5, 1]],
  [6, { cableLimit: 20.23 }, 2, [4, 2]],
])('a row of %i under %j, %i of them kept: groups of %j', (count, limits, kept, sizes) => {
  const { members, plans } = regroupRow(count, limits, kept);
  expect(members.map((each) => each.length)).toEqual(sizes);
  expect(members.flat().sort()).toEqual(Array.from({ length: count }, (_, k) => `D${k}`).sort());
  expect(plans).toHaveLength(sizes.length);
  for (const { limits: judged } of plans) {
    for (const { kind, met } of judged) if (kind === 'extensions' || kind === 'cable') expect(met).not.toBe(false);
  }
});
