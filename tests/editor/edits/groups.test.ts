import { expect, test } from 'vitest';
import type { FloorFile } from '../../../src/core/floor/index.ts';
import {
  addRevision,
  changeRevision,
  removeRevision,
  setAnalysis,
  setFloorName,
  setNorth,
} from '../../../src/editor/edits/floor-settings.ts';
import {
  addExtensions,
  addGroup,
  removeFromGroups,
  setGroupSettings,
  setMain,
  setServed,
} from '../../../src/editor/edits/groups.ts';
import { findItem } from '../../../src/editor/edits/lists.ts';
import { addLuminaire, addSource, addZone, setZoneGroups } from '../../../src/editor/edits/zones.ts';
import { made, planned, refusalOf } from './made.ts';
import { TRIAL_FLOOR } from './trial-floor.ts';

const groupOf = (file: FloorFile, id: string) => findItem(file, 'groups', id);

test('a new group takes its detectors out of the groups they were in', () => {
  const asked = planned(addGroup(TRIAL_FLOOR, 'D1', ['D3', 'D1']));
  expect(asked.name).toBe('Added Group 1');
  const file = made(TRIAL_FLOOR, asked);
  // D2 leads what is left of the first group; the second is empty and gone.
  expect(file.groups).toEqual([
    { id: 'G1', name: 'Office', main: 'D2', extensions: [], serves: ['R1', 'R2'], ventilation: ['R1'] },
    { id: 'G3', name: 'Group 1', main: 'D1', extensions: ['D3'] },
  ]);
  expect(refusalOf(addGroup(TRIAL_FLOOR, 'D9'))).toBe('The detector is no longer there. Select another.');
});

test('a group that loses its last detector is forgotten by luminaires, zones and records', () => {
  const about: FloorFile = {
    ...TRIAL_FLOOR,
    luminaires: [{ id: 'L1', name: 'Panel', at: [3, 5], size: [0.6, 0.6], base: 2.98, top: 3, group: 'G2' }],
    zones: (TRIAL_FLOOR.zones ?? []).map((zone) => ({ ...zone, groups: ['G2', 'G1'] })),
    records: (TRIAL_FLOOR.records ?? []).map((record) => ({ ...record, about: 'G2' })),
  };
  const file = made(about, addExtensions(about, 'G1', ['D3', 'D2']));
  expect(file.groups).toEqual([{ ...about.groups?.[0], extensions: ['D2', 'D3'] }]);
  expect(file.luminaires?.[0]).not.toHaveProperty('group');
  expect(file.zones?.[0]?.groups).toEqual(['G1']);
  expect(file.records).toEqual([]);
});

test('extensions join, leave, and lead', () => {
  expect(refusalOf(addExtensions(TRIAL_FLOOR, 'G1', ['D2']))).toBe('D2 is in Office already. Choose another detector.');
  const out = planned(removeFromGroups(TRIAL_FLOOR, ['D1']));
  expect(out.name).toBe('Took D1 out of its group');
  expect(groupOf(made(TRIAL_FLOOR, out), 'G1')).toMatchObject({ main: 'D2', extensions: [] });
  const led = planned(setMain(TRIAL_FLOOR, 'G1', 'D2'));
  expect(led.name).toBe('D2 leads Office');
  expect(groupOf(made(TRIAL_FLOOR, led), 'G1')).toMatchObject({ main: 'D2', extensions: ['D1'] });
  const foreign = made(TRIAL_FLOOR, setMain(TRIAL_FLOOR, 'G1', 'D3'));
  expect(foreign.groups).toEqual([{ ...TRIAL_FLOOR.groups?.[0], main: 'D3', extensions: ['D1', 'D2'] }]);
  expect(refusalOf(setMain(TRIAL_FLOOR, 'G1', 'D1'))).toBe('D1 leads Office already. Choose another detector.');
});

test('what a group serves and ventilates is said, and unsaid', () => {
  const serves = made(TRIAL_FLOOR, setServed(TRIAL_FLOOR, 'G2', ['R3', 'Z1', 'R3']));
  expect(groupOf(serves, 'G2')?.serves).toEqual(['R3', 'Z1']);
  const vented = made(TRIAL_FLOOR, setServed(TRIAL_FLOOR, 'G2', ['R3'], 'ventilation'));
  expect(groupOf(vented, 'G2')).toMatchObject({ serves: ['Z1'], ventilation: ['R3'] });
  expect(groupOf(made(TRIAL_FLOOR, setServed(TRIAL_FLOOR, 'G2', null)), 'G2')).not.toHaveProperty('serves');
  expect(refusalOf(setServed(TRIAL_FLOOR, 'G2', ['F1']))).toBe('The room or zone is no longer there. Select another.');
});

test('settings of several groups are changed; what is not named stays', () => {
  const first = made(TRIAL_FLOOR, setGroupSettings(TRIAL_FLOOR, ['G1', 'G2'], { level: 500, switchOn: 'manual' }));
  const second = made(first, setGroupSettings(first, ['G1'], { level: null, delay: 10 }));
  expect(groupOf(second, 'G1')?.settings).toEqual({ switchOn: 'manual', delay: 10 });
  expect(groupOf(second, 'G2')?.settings).toEqual({ level: 500, switchOn: 'manual' });
  expect(refusalOf(setGroupSettings(TRIAL_FLOOR, ['G1'], { background: 120 }))).toBe(
    'A setting of Office is 120. Give a number from 0 to 100.',
  );
});

test('zones, sources and luminaires are put on the floor', () => {
  const outline = [
    [7, 3],
    [8, 3],
    [8, 4],
  ] as const;
  const zone = made(TRIAL_FLOOR, addZone(TRIAL_FLOOR, outline, 'nobody', { share: 0.1 }));
  expect(zone.zones?.[1]).toEqual({ id: 'Z2', name: 'Zone 1', outline, need: 'nobody', share: 0.1 });
  expect(made(zone, setZoneGroups(zone, ['Z2'], ['G1', 'G1'])).zones?.[1]?.groups).toEqual(['G1']);
  expect(made(TRIAL_FLOOR, setZoneGroups(TRIAL_FLOOR, ['Z1'], null)).zones?.[0]).not.toHaveProperty('groups');
  const outlet = made(TRIAL_FLOOR, addSource(TRIAL_FLOOR, 'air outlet', [8, 4]));
  expect(outlet.sources?.[1]).toEqual({
    id: 'Q2',
    name: 'Air outlet 1',
    kind: 'air outlet',
    at: [8, 4],
    base: 2.78,
    top: 2.8,
  });
  expect(planned(addSource(TRIAL_FLOOR, 'heater', [8, 4])).name).toBe('Added Heater 2');
  const light = made(TRIAL_FLOOR, addLuminaire(TRIAL_FLOOR, [8, 4], [1.2, 0.3], { turn: -90, watts: 30 }));
  expect(light.luminaires?.[1]).toEqual({
    id: 'L2',
    name: 'Luminaire 1',
    at: [8, 4],
    size: [1.2, 0.3],
    turn: 270,
    watts: 30,
    base: 2.78,
    top: 2.8,
  });
  expect(refusalOf(addLuminaire(TRIAL_FLOOR, [30, 30], [1, 1]))).toMatch(/^The luminaire hangs in no room/);
  expect(refusalOf(addSource(TRIAL_FLOOR, 'heater', [8, 4], { base: 1, top: 1 }))).toMatch(/above the base\.$/);
});

test('name, north and analysis of the floor are set', () => {
  expect(made(TRIAL_FLOOR, setFloorName(TRIAL_FLOOR, ' Second floor ')).name).toBe('Second floor');
  expect(made(TRIAL_FLOOR, setNorth(TRIAL_FLOOR, -45)).north).toBe(315);
  const asked = planned(setAnalysis(TRIAL_FLOOR, { seatedPlane: 0.85 }));
  expect(asked.name).toBe('Changed the seated plane');
  const file = made(TRIAL_FLOOR, asked);
  expect(made(file, setAnalysis(file, { cell: 0.05, seatedPlane: null })).analysis).toEqual({ cell: 0.05 });
  expect(refusalOf(setAnalysis(TRIAL_FLOOR, { cell: 2 }))).toBe('The cell size is 2. Give a number from 0.02 to 1.');
});

test('revisions are added, changed and removed', () => {
  const first = { no: 'A', date: '2031-05-02', by: 'AB', text: 'First issue' };
  const added = made(TRIAL_FLOOR, addRevision(TRIAL_FLOOR, first));
  expect(added.revision).toEqual([first]);
  const changed = made(added, changeRevision(added, 0, { text: 'Shelves moved' }));
  expect(changed.revision).toEqual([{ ...first, text: 'Shelves moved' }]);
  expect(made(changed, removeRevision(changed, 0)).revision).toEqual([]);
  expect(refusalOf(removeRevision(TRIAL_FLOOR, 0))).toBe('The revision is no longer there. Select another.');
  expect(refusalOf(addRevision(TRIAL_FLOOR, { ...first, text: 'x'.repeat(10_001) }))).toMatch(
    /at most 10000 characters/,
  );
});
