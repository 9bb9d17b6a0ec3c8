import { describe, expect, test } from 'vitest';
import { check, createCoverage } from '../../../../src/core/coverage/index.ts';
import { type Floor, resolveFloor } from '../../../../src/core/floor/index.ts';
import { planGroups } from '../../../../src/core/planning/groups/group-plan.ts';
import { type GroupsProposal, proposeGroups } from '../../../../src/core/planning/groups/propose-groups.ts';
import { randomFloor } from '../../../models/random-floor.ts';
import { type Change, soundFile } from '../../coverage/finding-cases.ts';
import { readFloor } from '../../sight/build-floor.ts';

/** The floor with a proposal's groups in the place of its own. */
function withGroups(floor: Floor, { groups }: GroupsProposal): Floor {
  return {
    ...floor,
    zones: floor.zones.map(({ groups: _, ...zone }) => zone),
    luminaires: floor.luminaires.map(({ group: _, ...luminaire }) => luminaire),
    groups: groups.map(({ main, extensions, serves, name }, k) => ({
      id: `new ${k}` as Floor['groups'][number]['id'],
      name,
      main,
      extensions,
      serves,
      settings: {},
    })),
  };
}
function propose(...changes: readonly Change[]) {
  const file = soundFile();
  for (const change of changes) change(file);
  return proposeGroups(createCoverage(readFloor(file)));
}
const members = ({ groups }: GroupsProposal) => groups.map(({ main, extensions }) => [main, ...extensions]);
const row =
  (count: number, limits: object = {}): Change =>
  (file) => {
    file.rooms[0]!.outline = [
      [0, 0],
      [3 * count, 0],
      [3 * count, 6],
      [0, 6],
    ];
    file.detectors = Array.from({ length: count }, (_, k) => ({
      id: `D${k}`,
      name: `D${k}`,
      type: 'T',
      at: [1.5 + 3 * k, 3],
    }));
    file.groups = [];
    Object.assign(file.types[0]!, limits);
  };

describe('proposed groups', () => {
  test('put all of a room under one main near its middle', () => {
    const proposal = propose(row(5));
    expect(proposal.groups).toHaveLength(1);
    expect(proposal.groups[0]).toMatchObject({ main: 'D2', serves: ['R'], keeps: null, name: 'Office' });
    expect(proposal).toMatchObject({ gone: [], left: [], isSame: false });
  });

  test('keep the limit of extensions exactly', () => {
    expect(members(propose(row(11, { extensionLimit: 10 }))).map((each) => each.length)).toEqual([11]);
    const divided = members(propose(row(12, { extensionLimit: 10 })));
    expect(divided.map((each) => each.length).sort()).toEqual([6, 6]);
    expect(divided.flat().sort()).toEqual(Array.from({ length: 12 }, (_, k) => `D${k}`).sort());
  });

  test('keep the limit of cable exactly', () => {
    // Four legs of 3 m, each with 1.6 m of drops, and a tenth: 20.24 m.
    expect(propose(row(5, { cableLimit: 20.24 })).groups).toHaveLength(1);
    const divided = propose(row(5, { cableLimit: 20.23 }));
    expect(divided.groups.length).toBe(2);
    for (const { cable } of divided.groups) expect(cable.totalM).toBeLessThanOrEqual(20.23);
  });

  test('say so where a type states no limit', () => {
    expect(propose(row(3)).groups[0]!.reasons.join(' ')).toContain('states no limit of extensions');
  });

  test('keep a group lit by so many square metres only', () => {
    const file = soundFile();
    row(6)(file);
    const coverage = createCoverage(readFloor(file));
    // 18 m² a detector.
    expect(proposeGroups(coverage, { mostM2: 36 }).groups).toHaveLength(4);
    expect(proposeGroups(coverage, { mostM2: 54 }).groups).toHaveLength(2);
    expect(proposeGroups(coverage, { mostM2: 10 }).groups[0]!.reasons.join(' ')).toContain('hang more detectors');
  });

  test('take a main that measures light, and one with a clear spot', () => {
    const mixedTypes: Change = (file) => {
      file.types.push({ ...file.types[0]!, id: 'X', name: 'Extension', lightSensor: false });
      file.detectors[2]!.type = 'X';
    };
    expect(propose(row(5), mixedTypes).groups[0]!.main).not.toBe('D2');
    const shelf: Change = (file) => {
      file.furniture = [
        {
          id: 'F',
          kind: 'shelving',
          name: 'Shelf',
          outline: [
            [7, 2.5],
            [8, 2.5],
            [8, 3.5],
            [7, 3.5],
          ],
          top: 2,
        },
      ];
    };
    expect(propose(row(5), shelf).groups[0]!.main).not.toBe('D2');
  });

  test('part at the daylight line where places lie on both sides, each with a light sensor', () => {
    const atWindow: Change = (file) => {
      file.rooms[0]!.outline = [
        [0, 0],
        [8, 0],
        [8, 12],
        [0, 12],
      ];
      file.openings!.push({ id: 'N', kind: 'window', from: [1, 0], to: [7, 0], sill: 0.9 });
      file.workplaces!.push({ id: 'W2', name: 'Desk 2', at: [4, 10] });
      file.detectors = [3, 9].map((y, k) => ({ id: `D${k}`, name: `D${k}`, type: 'T', at: [4, y] }));
      file.groups = [];
    };
    expect(propose(atWindow).groups.map(({ name }) => name)).toEqual(['Office, at the windows', 'Office, farther in']);
    const sensorless: Change = (file) => {
      file.types.push({ ...file.types[0]!, id: 'X', name: 'Extension', lightSensor: false });
      file.detectors[1]!.type = 'X';
    };
    expect(propose(atWindow, sensorless).groups).toHaveLength(1);
  });

  test('take a detector that hangs in a room its group does not serve into a group of that room', () => {
    const wrong: Change = (file) => {
      file.rooms.push({
        id: 'R2',
        name: 'Next',
        outline: [
          [8, 0],
          [14, 0],
          [14, 6],
          [8, 6],
        ],
        ceiling: 2.8,
      });
      file.detectors.push({ id: 'D2', name: 'D2', type: 'T', at: [11, 3] });
      file.groups![0]!.extensions = ['D2'];
    };
    const proposal = propose(wrong);
    expect(proposal.groups.map(({ keeps, main, serves }) => [keeps, main, serves])).toEqual([
      ['G', 'D1', ['R']],
      [null, 'D2', ['R2']],
    ]);
  });

  test('leave out what is to be removed, and are the same when proposed again', () => {
    const removed: Change = (file) => {
      file.detectors[1]!.status = 'remove';
    };
    expect(
      members(propose(row(3), removed))
        .flat()
        .sort(),
    ).toEqual(['D0', 'D2']);
    const file = soundFile();
    row(12, { extensionLimit: 5, cableLimit: 60 })(file);
    const floor = readFloor(file);
    const first = proposeGroups(createCoverage(floor));
    const after = withGroups(floor, first);
    const again = proposeGroups(createCoverage(after));
    expect(again.isSame).toBe(true);
    for (const { limits } of planGroups(createCoverage(after)))
      for (const { kind, met } of limits) if (kind === 'extensions' || kind === 'cable') expect(met).toBe(true);
  });
});

test('asking changes nothing, and groups that serve what was served change no verdict', () => {
  let compared = 0;
  for (let seed = 1; seed <= 40; seed++) {
    const floor = resolveFloor(randomFloor(seed));
    const before = check(floor);
    const coverage = createCoverage(floor);
    const proposal = proposeGroups(coverage);
    expect(check(floor), `seed ${seed}`).toEqual(before);
    const hung = [
      ...proposal.groups.flatMap(({ main, extensions }) => [main, ...extensions]),
      ...proposal.left.map((each) => each.detector),
    ];
    const staying = floor.detectors.filter(({ status }) => status !== 'remove').map(({ id }) => id);
    expect([...hung].sort(), `seed ${seed}`).toEqual([...staying].sort());
    const keepsServing = floor.detectors.every(({ id }, index) => {
      const now = coverage.serving.groups[coverage.serving.groupOf[index] ?? -1];
      const next = proposal.groups.find(({ main, extensions }) => main === id || extensions.includes(id));
      if (now === undefined || next === undefined) return false;
      const serves = [...now.rooms.map((k) => floor.rooms[k]!.id), ...now.zones.map((k) => floor.zones[k]!.id)];
      return [...serves].sort().join() === [...next.serves].sort().join();
    });
    if (!keepsServing) continue;
    compared += 1;
    const after = check(withGroups(floor, proposal));
    expect(after.workplaces, `seed ${seed}`).toEqual(before.workplaces);
    expect(after.planes, `seed ${seed}`).toEqual(before.planes);
    expect(after.entrances, `seed ${seed}`).toEqual(before.entrances);
  }
  expect(compared).toBeGreaterThan(4);
});
