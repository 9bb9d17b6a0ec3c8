import { expect, test } from 'vitest';
import { CameraRig } from '../../../../src/ui/scene/camera/camera-rig.ts';
import { ease, nearestTurn } from '../../../../src/ui/scene/camera/easing.ts';
import { createSharedUniforms } from '../../../../src/ui/scene/materials/shared-uniforms.ts';

const FRAME = { x: 0, y: 0, midX: 0, midY: 0, halfWidth: 20, halfDepth: 12, height: 3 };

function createRig(dpr = 1): { readonly rig: CameraRig; readonly shared: ReturnType<typeof createSharedUniforms> } {
  const shared = createSharedUniforms();
  const rig = new CameraRig(shared);
  rig.setFloor(FRAME);
  rig.setScreen(1_000, 700, dpr);
  rig.setView(rig.viewOfAll(FRAME));
  rig.step(0);
  return { rig, shared };
}

const at = (rig: CameraRig, x: number, y: number, z = 0): readonly [number, number] => {
  const px = rig.project(x, y, z);
  if (px === null) throw new Error('Behind the eye.');
  return px;
};

test('the plan is to scale, whatever the height', () => {
  const { rig, shared } = createRig();
  const scale = shared.pxPerMetre.value;
  const [x0, y0] = at(rig, 0, 0);
  for (const z of [0, 0.8, 3]) {
    const [x1, y1] = at(rig, 3, 2, z);
    expect(x1 - x0).toBeCloseTo(3 * scale, 4);
    expect(y0 - y1).toBeCloseTo(2 * scale, 4);
  }
});

test('all of the floor is in sight at first, clear of the rim', () => {
  const { rig } = createRig();
  for (const [x, y] of [
    [-20, -12],
    [20, 12],
  ] as const) {
    const [px, py] = at(rig, x, y);
    expect(px).toBeGreaterThan(12);
    expect(px).toBeLessThan(988);
    expect(py).toBeGreaterThan(12);
    expect(py).toBeLessThan(660);
  }
});

test('zooming keeps the place under the pointer, in plan and in the model', () => {
  for (const kind of ['plan', 'model'] as const) {
    const { rig } = createRig();
    rig.change(kind, 0, 0);
    rig.step(0);
    const before = rig.placeAt(640, 420);
    rig.zoomAt(640, 420, 1.8);
    rig.step(0);
    const after = rig.placeAt(640, 420);
    expect(after?.[0]).toBeCloseTo(before?.[0] ?? Number.NaN, kind === 'plan' ? 6 : 2);
    expect(after?.[1]).toBeCloseTo(before?.[1] ?? Number.NaN, kind === 'plan' ? 6 : 2);
  }
});

test('a px and its place answer each other', () => {
  for (const kind of ['plan', 'model', 'walk'] as const) {
    const { rig } = createRig();
    rig.walker = { x: 1, y: -4, heading: 70, shift: 0.1 };
    rig.change(kind, 0, 0);
    rig.step(0);
    for (const z of [0, 0.8]) {
      const place = rig.placeAt(430, 600, z);
      if (place === null) throw new Error('No place.');
      const [px, py] = at(rig, place[0], place[1], z);
      expect(px).toBeCloseTo(430, 2);
      expect(py).toBeCloseTo(600, 2);
    }
  }
});

test('the plan leans up into the model with the middle held, in one steady movement', () => {
  const { rig } = createRig();
  rig.setView({ x: 2, y: 1 });
  rig.change('model', 1_000, 600);
  let lean = 0;
  for (let now = 1_000; now < 1_600; now += 20) {
    expect(rig.step(now)).toBe(true);
    expect(rig.lean).toBeGreaterThanOrEqual(lean);
    lean = rig.lean;
    const [px, py] = at(rig, 2, 1);
    expect(px).toBeCloseTo(500, 1);
    expect(py).toBeCloseTo(350, 1);
  }
  expect(rig.step(1_600)).toBe(false);
  expect(rig.lean).toBe(1);
});

test('with reduced motion cameras cut', () => {
  const { rig } = createRig();
  rig.change('model', 0, 0);
  expect(rig.step(0)).toBe(false);
  expect(rig.lean).toBe(1);
});

test('on a walk verticals stay vertical, however the lens is shifted', () => {
  const { rig } = createRig();
  for (const shift of [-0.6, 0, 0.5]) {
    rig.walker = { x: 0, y: 0, heading: 30, shift };
    rig.change('walk', 0, 0);
    rig.step(0);
    for (const [x, y] of [
      [5, 2],
      [4, 4.5],
    ] as const) {
      const [low] = at(rig, x, y, 0);
      const [high] = at(rig, x, y, 2.7);
      expect(high).toBeCloseTo(low, 6);
    }
    // The horizon lies at eye height.
    expect(at(rig, 50, 30, 1.62)[1]).toBeCloseTo(at(rig, 5, 2, 1.62)[1], 4);
  }
});

test('px per metre do not know how many device px a px has', () => {
  expect(createRig(2).shared.pxPerMetre.value).toBe(createRig(1).shared.pxPerMetre.value);
});

test('the curve begins fast, ends slow and never goes back', () => {
  expect(ease(0)).toBe(0);
  expect(ease(1)).toBe(1);
  expect(ease(0.5)).toBeGreaterThan(0.8);
  let before = 0;
  for (let t = 0; t <= 1; t += 0.01) {
    expect(ease(t)).toBeGreaterThanOrEqual(before);
    before = ease(t);
  }
});

test('a turn goes the short way round', () => {
  expect(nearestTurn(350, 10)).toBe(-10);
  expect(nearestTurn(10, 350)).toBe(370);
  expect(nearestTurn(190, 0)).toBe(-170);
});
