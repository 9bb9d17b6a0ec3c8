import { expect, test } from 'vitest';
import { resolveFloor } from '../../../../src/core/floor/index.ts';
import { CameraRig } from '../../../../src/ui/scene/camera/camera-rig.ts';
import { frameFloor } from '../../../../src/ui/scene/local-frame.ts';
import { createSharedUniforms } from '../../../../src/ui/scene/materials/shared-uniforms.ts';
import { findNearestWalls } from '../../../../src/ui/scene/pointer/nearest-walls.ts';
import { pickDetector, pickInFrame, pickThing } from '../../../../src/ui/scene/pointer/pick.ts';
import { snapToCeiling } from '../../../../src/ui/scene/pointer/snap.ts';
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

test('a frame takes what has its place in it', () => {
  const rig = look('plan');
  const [x0, y1] = screen(rig, 1.5, 2.5, 0);
  const [x1, y0] = screen(rig, 3.5, 3.5, 0);
  expect(pickInFrame(floor, rig, frame, [x0, y0, x1, y1]).sort()).toEqual(['D1', 'near']);
  const [u0, v1] = screen(rig, 4.9, 0.9, 0);
  const [u1, v0] = screen(rig, 5.5, 5.1, 0);
  expect(pickInFrame(floor, rig, frame, [u0, v0, u1, v1])).toEqual(['shelf']);
});

test('a detector comes to hang in the middle of a tile, turned or not', () => {
  const room = { ...floor.rooms[0]!, tiles: { origin: [0.1, 0.2] as const, pitch: [0.6, 0.6] as const, turn: 0 } };
  const tiled = { ...floor, rooms: [room] };
  expect(snapToCeiling(tiled, [1, 1])[0]).toBeCloseTo(1, 9);
  expect(snapToCeiling(tiled, [1.29, 1])[0]).toBeCloseTo(1, 9);
  expect(snapToCeiling(tiled, [1.31, 1])[0]).toBeCloseTo(1.6, 9);
  const turned = { ...floor, rooms: [{ ...room, tiles: { ...room.tiles, turn: 30 } }] };
  const [x, y] = snapToCeiling(turned, [3, 2]);
  const [c, s] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)];
  expect(((c * (x - 0.1) + s * (y - 0.2)) / 0.6) % 1).toBeCloseTo(0.5, 9);
  expect(((c * (y - 0.2) - s * (x - 0.1)) / 0.6 + 10) % 1).toBeCloseTo(0.5, 9);
});

test('without tiles a hand sets to five centimetres', () => {
  const [x, y] = snapToCeiling(floor, [3.012, 2.98]);
  expect(x).toBeCloseTo(3, 9);
  expect(y).toBeCloseTo(3, 9);
});

test('the nearest wall is found along either axis', () => {
  const walls = findNearestWalls(floor.rooms[0]!, [6.5, 2]);
  expect(walls.map(({ axis, distance }) => [axis, Math.round(distance * 1e6) / 1e6])).toEqual([
    [0, 1.5],
    [1, 2],
  ]);
});
