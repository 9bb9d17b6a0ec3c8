import { expect, test } from 'vitest';
import { resolveFloor } from '../../../../src/core/floor/index.ts';
import { CameraRig } from '../../../../src/ui/scene/camera/camera-rig.ts';
import { frameFloor } from '../../../../src/ui/scene/local-frame.ts';
import { createSharedUniforms } from '../../../../src/ui/scene/materials/shared-uniforms.ts';
import { pickDetector, pickThing } from '../../../../src/ui/scene/pointer/pick.ts';
import { SMALL_FLOOR } from '../../../editor/open-floor.ts';

const floor = resolveFloor(SMALL_FLOOR);
const frame = frameFloor(floor);

function look(kind: 'plan' | 'model'): CameraRig {
  const rig = new CameraRig(createSharedUniforms());
  rig.setFloor(frame);
  rig.setScreen(900, 700, 1);
  rig.setView(rig.viewOfAll(frame));
  rig.change(kind, 0, 0);
  rig.step(0);
  return rig;
}

const screen = (rig: CameraRig, x: number, y: number, z: number) => rig.project(x - frame.x, y - frame.y, z)!;

test('a lens is hit within its target, on either camera', () => {
  for (const kind of ['plan', 'model'] as const) {
    const rig = look(kind);
    const [px, py] = screen(rig, 3, 3, 3);
    expect(pickDetector(floor, rig, frame, px + 9, py - 9)).toBe('D1');
    expect(pickDetector(floor, rig, frame, px + 15, py)).toBeNull();
  }
});

test('a piece is hit on its top and on its side, the nearer one first', () => {
  const plan = look('plan');
  const [px, py] = screen(plan, 5.2, 3, 2.2);
  expect(pickThing(floor, plan, frame, px, py)).toBe('shelf');
  const model = look('model');
  const top = screen(model, 5.2, 4.6, 2.2);
  expect(pickThing(floor, model, frame, ...top)).toBe('shelf');
  const side = screen(model, 5.2, 1, 1);
  expect(pickThing(floor, model, frame, ...side)).toBe('shelf');
  const clear = screen(model, 1, 1, 0);
  expect(pickThing(floor, model, frame, ...clear)).toBeNull();
});

test('workplaces are hit by their sign, and empty floor is nothing', () => {
  const rig = look('plan');
  expect(pickThing(floor, rig, frame, ...screen(rig, 2, 3, 0.8))).toBe('near');
  expect(pickThing(floor, rig, frame, ...screen(rig, 1, 5.4, 0))).toBeNull();
});

test('a room is met at its walls, and of a hidden kind nothing is met', () => {
  const rig = look('plan');
  const wall = screen(rig, 4, 0, 0);
  expect(pickThing(floor, rig, frame, ...wall)).toBe(floor.rooms[0]?.id);
  expect(pickThing(floor, rig, frame, ...wall, new Set(['room']))).toBeNull();
  const shelf = screen(rig, 5.2, 4.6, 2.2);
  expect(pickThing(floor, rig, frame, ...shelf)).toBe('shelf');
  expect(pickThing(floor, rig, frame, ...shelf, new Set(['furniture']))).toBeNull();
});
