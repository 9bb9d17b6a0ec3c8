import { expect, test } from 'vitest';
import { check } from '../../src/core/coverage/index.ts';
import { filterFindings, goToFinding, listFindings, stepFinding, writeFindings } from '../../src/editor/findings.ts';
import { measureToWalls, sideOf } from '../../src/editor/measure.ts';
import { addMaskToHeld, nudgeDetector, nudgeMaskHandle, nudgeTurn, stepMaskHandle } from '../../src/editor/nudges.ts';
import { replaceDocument, setResult } from '../../src/editor/store.ts';
import { findThing, listThings } from '../../src/editor/things.ts';
import { holdMaskHandle, refuse, select, setPlane, setShow, setTool, stepBack } from '../../src/editor/view.ts';
import { openTrial, SMALL_FLOOR } from './open-floor.ts';

test('arrows move the selected detector and nothing when none is selected', () => {
  const { store } = openTrial();
  expect(nudgeDetector(store, 0.1, 0)).toBe(false);
  select(store, ['D1']);
  expect(nudgeDetector(store, 0.1, 0)).toBe(true);
  expect(nudgeDetector(store, 0, -0.6)).toBe(true);
  expect(store.getState().floor.detectors[0]?.at).toEqual([3.1, 2.4]);
  expect(store.getState().past.map((step) => step.name)).toEqual(['Moved D1 by 0.61 m']);
  nudgeTurn(store, -15);
  expect(store.getState().floor.detectors[0]?.turn).toBe(345);
});

test('a step into a wall is not taken, and the foot says why', () => {
  const { store } = openTrial();
  select(store, ['D1']);
  nudgeDetector(store, -3, 0);
  expect(store.getState().floor.detectors[0]?.at).toEqual([3, 3]);
  expect(store.getState().refusal).toBeNull();
  expect(store.getState().notice?.text).toMatch(/^D1 .*wall/u);
});

test('mask handles: edges turn, inner stays under outer, Tab goes round all of them', () => {
  const { store } = openTrial();
  const mask = () => store.getState().floor.detectors[0]?.masks[0];
  holdMaskHandle(store, { detector: store.getState().floor.detectors[0]!.id, mask: 0, part: 'to' });
  nudgeMaskHandle(store, 8);
  nudgeMaskHandle(store, 1);
  expect(mask()).toMatchObject({ from: 90, to: 129 });
  expect(store.getState().past).toHaveLength(1);
  nudgeMaskHandle(store, -39);
  expect(mask()).toMatchObject({ from: 90, to: 129 });
  const parts = Array.from({ length: 5 }, () => {
    stepMaskHandle(store, 1);
    return store.getState().maskHandle?.part;
  });
  expect(parts).toEqual(['inner', 'outer', 'turn', 'from', 'to']);
  stepMaskHandle(store, 1);
  nudgeMaskHandle(store, 60);
  expect(mask()?.inner).toBe(40);
  stepMaskHandle(store, 1);
  stepMaskHandle(store, 1);
  nudgeMaskHandle(store, -10);
  expect(mask()).toMatchObject({ from: 80, to: 119 });
});

test('the mask tool adds a mask to the selected detector and takes its edge in hand', () => {
  const { store } = openTrial();
  setTool(store, 'mask');
  expect(addMaskToHeld(store)).toBe(false);
  select(store, ['D1']);
  expect(addMaskToHeld(store)).toBe(true);
  expect(store.getState().floor.detectors[0]?.masks).toHaveLength(2);
  expect(store.getState().maskHandle).toEqual({ detector: 'D1', mask: 1, part: 'to' });
});

test('Escape goes back one step at a time', () => {
  const { store } = openTrial();
  setTool(store, 'mask');
  select(store, ['D1']);
  holdMaskHandle(store, { detector: store.getState().floor.detectors[0]!.id, mask: 0, part: 'from' });
  refuse(store, { fileName: 'bad.json', faults: [{ path: '', what: 'is no JSON', remedy: '' }] });
  const left: string[] = [];
  while (stepBack(store)) {
    const { maskHandle, refusal, tool, selection } = store.getState();
    left.push([maskHandle && 'handle', refusal && 'refusal', tool, ...selection].filter(Boolean).join(' '));
  }
  expect(left).toEqual(['refusal mask D1', 'mask D1', 'select D1', 'select']);
});

test('headings are shown on the walking plane only', () => {
  const { store } = openTrial();
  setShow(store, 'headings');
  expect(store.getState()).toMatchObject({ show: 'headings', plane: 'walking' });
  setPlane(store, 'seated');
  expect(store.getState()).toMatchObject({ show: 'blind', plane: 'seated' });
});

test('findings are read fail, warn, note; a step selects what the finding is about and goes there', () => {
  const { store } = openTrial();
  const result = check(store.getState().floor);
  setResult(store, result, store.getState().floor);
  const findings = listFindings(result);
  expect(findings.length).toBeGreaterThan(1);
  expect(findings.map((finding) => finding.level)).toEqual(
    [...findings.map((finding) => finding.level)].sort((a, b) => 'fwn'.indexOf(a[0]!) - 'fwn'.indexOf(b[0]!)),
  );
  expect(findings[0]).toMatchObject({ level: 'fail', code: 'workplace-hidden' });
  stepFinding(store, 1);
  expect(store.getState().finding).toBe(0);
  expect(store.getState().selection.at(-1)).toBe(findings[0]?.about[0]);
  expect(store.getState().flyTo?.at).toEqual(findings[0]?.at);
  stepFinding(store, -1);
  expect(store.getState().finding).toBe(findings.length - 1);
  goToFinding(store, 999);
  expect(store.getState().finding).toBe(findings.length - 1);
  expect(filterFindings(findings, 'SHELF fail').map((row) => row.index)).toContain(0);
  expect(filterFindings(findings, 'no such word')).toEqual([]);
  expect(writeFindings(findings).split('\n')).toHaveLength(findings.length);
});

test('another document takes the place of the open one with a history of its own', () => {
  const { store } = openTrial();
  select(store, ['D1']);
  nudgeDetector(store, 0.1, 0);
  replaceDocument(store, { ...SMALL_FLOOR, name: 'Other' }, 'other.json');
  expect(store.getState()).toMatchObject({ fileName: 'other.json', past: [], future: [], selection: [], result: null });
  expect(store.getState().coverage?.floor).toBe(store.getState().floor);
});

test('distances are measured to the walls on the west and the south, named by the floor’s north', () => {
  const { floor } = openTrial().store.getState();
  expect(measureToWalls(floor, [3, 2.5])).toEqual([
    { axis: 0, side: 'west', distance: 3, wall: 0, sign: 1 },
    { axis: 1, side: 'south', distance: 2.5, wall: 0, sign: 1 },
  ]);
  expect(measureToWalls({ ...floor, north: 180 }, [3, 2.5]).map((each) => each.side)).toEqual(['north', 'west']);
  expect(measureToWalls(floor, [9, 9])).toEqual([]);
  expect([0, 90, 180, 270, -90].map((direction) => sideOf(direction, 90))).toEqual([
    'east',
    'north',
    'west',
    'south',
    'south',
  ]);
});

test('things are walked room by room, from the top left to the bottom right', () => {
  const { floor } = openTrial().store.getState();
  expect(listThings(floor).map((thing) => thing.value.id)).toEqual(['room', 'near', 'D1', 'shelf', 'far']);
  expect(findThing(floor, 'shelf')?.kind).toBe('furniture');
  expect(findThing(floor, 'nothing')).toBeUndefined();
});

test('a walk begins in the first open door and looks where the wall across is farther', () => {
  const room = (id: string, x0: number, x1: number) => ({
    id,
    name: id,
    outline: [
      [x0, 0],
      [x1, 0],
      [x1, 4],
      [x0, 4],
    ] as [number, number][],
    ceiling: 3,
  });
  const { store } = openTrial({
    ...SMALL_FLOOR,
    rooms: [room('small', 0, 3), room('large', 3, 12)],
    furniture: [],
    workplaces: [],
    openings: [
      { id: 'out', kind: 'door', from: [1, 0], to: [2, 0] },
      { id: 'between', kind: 'door', from: [3, 3], to: [3, 2], state: 'open' },
    ],
  });
  const { at, heading } = store.getState().walker;
  expect(at[0]).toBeGreaterThan(3);
  expect(at[1]).toBeCloseTo(2.5, 9);
  expect(heading).toBeCloseTo(0, 9);
});
