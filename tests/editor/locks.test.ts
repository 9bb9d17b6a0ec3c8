import { expect, test } from 'vitest';
import { describeKindLock, describeLock, planByHand } from '../../src/editor/locks.ts';
import { addMaskToHeld, nudgeDetector, nudgeMaskHandle, nudgeTurn } from '../../src/editor/nudges.ts';
import { moveDetector } from '../../src/editor/recipes.ts';
import type { EditorStore } from '../../src/editor/store.ts';
import { holdMaskHandle, select } from '../../src/editor/view.ts';
import { openTrial, SMALL_FLOOR } from './open-floor.ts';

const LOCKED = { ...SMALL_FLOOR, detectors: SMALL_FLOOR.detectors.map((each) => ({ ...each, locked: true })) };

function tryAll(store: EditorStore): void {
  select(store, ['D1']);
  expect(nudgeDetector(store, 0.1, 0)).toBe(true);
  expect(nudgeTurn(store, 15)).toBe(true);
  expect(addMaskToHeld(store)).toBe(true);
  holdMaskHandle(store, { detector: 'D1' as never, mask: 0, part: 'to' });
  nudgeMaskHandle(store, 5);
}

test('keys leave a locked detector as it is, and say so', () => {
  const { store } = openTrial(LOCKED);
  tryAll(store);
  expect(store.getState().file).toBe(LOCKED);
  expect(store.getState().notice?.text).toBe('D1 is locked. Unlock it first: its place, in the margin.');
});

test('keys leave a detector of a locked kind as it is, and say how to free it', () => {
  const { store } = openTrial();
  store.setState({ lockedKinds: new Set(['detector']) });
  tryAll(store);
  expect(store.getState().file).toBe(SMALL_FLOOR);
  expect(store.getState().notice?.text).toBe('Detectors are locked. "Lock or unlock detectors" in Find frees them.');
});

test('keys move one that is free', () => {
  const { store } = openTrial();
  tryAll(store);
  expect(store.getState().past.map(({ name }) => name)).toEqual([
    'Moved D1 by 0.10 m',
    'Turned D1',
    'Added a mask to D1',
    'Mask of D1, to: 125°',
  ]);
});

test('a field asks before it changes a thing', () => {
  const { store } = openTrial(LOCKED);
  expect(planByHand(store.getState(), 'D1', moveDetector('D1', [1, 1]))).toMatchObject({
    ok: false,
    what: 'D1 is locked',
  });
  expect(describeLock(store.getState(), 'shelf')).toBeNull();
  expect(describeLock(store.getState(), 'nothing')).toBeNull();
});

test('things of a locked kind are told from those of another, and from new ones', () => {
  const { store } = openTrial();
  store.setState({ lockedKinds: new Set(['furniture']) });
  expect(describeKindLock(store.getState(), ['D1', 'new'])).toBeNull();
  expect(describeKindLock(store.getState(), ['D1', 'shelf'])?.what).toBe('Pieces of furniture are locked');
});
