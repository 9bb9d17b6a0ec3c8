import { expect, test } from 'vitest';
import { createCoverage } from '../../../../src/core/coverage/index.ts';
import { resolveFloor } from '../../../../src/core/floor/index.ts';
import { isMasked } from '../../../../src/core/sight/index.ts';
import { findBlindCorners } from '../../../../src/ui/scene/field/blind-corners.ts';
import { boxOf, boxOutline, joinBoxes, outlineExtent } from '../../../../src/ui/scene/geometry/extents.ts';
import {
  arcOf,
  listGrips,
  nadirOfRadius,
  radiusOfNadir,
  shapeMask,
} from '../../../../src/ui/scene/geometry/mask-shape.ts';
import { crossPerson, drawPerson } from '../../../../src/ui/scene/geometry/person.ts';
import { hangCurtain } from '../../../../src/ui/scene/geometry/shadow-curtain.ts';
import { frameFloor } from '../../../../src/ui/scene/local-frame.ts';
import { SMALL_FLOOR } from '../../../editor/open-floor.ts';

const floor = resolveFloor(SMALL_FLOOR);
const frame = frameFloor(floor);
const detector = floor.detectors[0]!;
const shelf = floor.furniture[0]!;

test('a mask is drawn where it masks', () => {
  const turned = { ...detector, turn: 20, masks: [{ from: 350, to: 40, inner: 30, outer: 60 }] };
  const shape = shapeMask({ ...floor, detectors: [turned] }, turned, turned.masks[0]!, 'seated', frame);
  const lens = createCoverage({ ...floor, detectors: [turned] }).scene.lenses[0]!;
  let inside = 0;
  for (let a = 0; a < 360; a += 3.7) {
    for (let radius = 0.2; radius < 6; radius += 0.13) {
      const angle = (a * Math.PI) / 180;
      const from = (((angle - shape.from) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
      const drawn = from <= shape.to - shape.from && radius >= shape.inner && radius <= shape.outer;
      const target = { x: 3 + radius * Math.cos(angle), y: 3 + radius * Math.sin(angle), h: shape.z };
      expect(drawn, `${a}° at ${radius} m`).toBe(isMasked(lens, target));
      if (drawn) inside++;
    }
  }
  expect(inside).toBeGreaterThan(100);
  expect(shape.open).toBe(false);
});

test('a mask to the horizon is drawn to where the range ends, and says so', () => {
  const shape = shapeMask(floor, detector, { from: 90, to: 120, inner: 40, outer: 90 }, 'seated', frame);
  expect(shape.open).toBe(true);
  expect(shape.outer).toBeCloseTo(6, 6);
  expect(shape.inner).toBeCloseTo(radiusOfNadir(40, 2.2), 6);
  const arc = arcOf(shape, shape.outer);
  expect(Math.hypot(arc[0]! - shape.x, arc[1]! - shape.y)).toBeCloseTo(6, 6);
});

test('every handle lies on the part it moves', () => {
  const shape = shapeMask(floor, detector, { from: 90, to: 120, inner: 40, outer: 60 }, 'seated', frame);
  const grips = listGrips(shape);
  expect(grips.map((grip) => grip.part)).toEqual(['from', 'to', 'inner', 'outer', 'turn']);
  for (const { part, x, y } of grips) {
    const azimuth = (Math.atan2(y - shape.y, x - shape.x) * 180) / Math.PI;
    const nadir = nadirOfRadius(Math.hypot(x - shape.x, y - shape.y), shape.lens - shape.z);
    if (part === 'from') expect(azimuth).toBeCloseTo(90, 6);
    if (part === 'to') expect(azimuth).toBeCloseTo(120, 6);
    if (part === 'turn') expect(azimuth).toBeCloseTo(105, 6);
    expect(nadir).toBeCloseTo(part === 'inner' ? 40 : 60, 6);
  }
});

test('a curtain comes down where the line from the lens over the edge meets the plane', () => {
  const lens = [3 - frame.x, 3 - frame.y, 3] as const;
  const curtain = hangCurtain(shelf, lens, 0.8, 100, frame)!;
  expect(curtain.rays).toHaveLength(2);
  for (const [from, to] of curtain.rays) {
    expect(from[2]).toBe(2.2);
    expect(to[2]).toBeCloseTo(0.8, 9);
    const [ax, ay, az] = [from[0] - lens[0], from[1] - lens[1], from[2] - lens[2]];
    const [bx, by, bz] = [to[0] - lens[0], to[1] - lens[1], to[2] - lens[2]];
    expect(Math.hypot(ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx)).toBeCloseTo(0, 9);
  }
  const cut = hangCurtain(shelf, lens, 0.8, 4, frame)!;
  for (const [, [x, y, z]] of cut.rays) {
    expect(Math.hypot(x - lens[0], y - lens[1])).toBeCloseTo(4, 9);
    expect(z).toBeGreaterThan(0.8);
  }
});

test('what is no higher than the plane, or as high as the lens, throws no curtain', () => {
  const lens = [3 - frame.x, 3 - frame.y, 3] as const;
  expect(hangCurtain({ ...shelf, top: 0.8 }, lens, 0.8, 100, frame)).toBeNull();
  expect(hangCurtain({ ...shelf, top: 3 }, lens, 0.8, 100, frame)).toBeNull();
  expect(hangCurtain({ ...shelf, base: 3, top: 3.1 }, lens, 0.8, 100, frame)).toBeNull();
});

test('outlines of ranges have the size they are of', () => {
  const round = outlineExtent({ kind: 'round', radius: 4 }, 1, 2, 0);
  for (let i = 0; i < round.length; i += 2) expect(Math.hypot(round[i]! - 1, round[i + 1]! - 2)).toBeCloseTo(4, 9);
  const rectangle = outlineExtent({ kind: 'rectangular', length: 6, width: 2 }, 0, 0, 90);
  expect(Math.max(...rectangle.filter((_, i) => i % 2 === 0))).toBeCloseTo(1, 9);
  expect(Math.max(...rectangle.filter((_, i) => i % 2 === 1))).toBeCloseTo(3, 9);
});

test('boxes lie along the longest edge, and join', () => {
  const box = boxOutline([0, 0, 4, 4, 3, 5, -1, 1], 0, 2);
  expect(box.halfU).toBeCloseTo(2 * Math.SQRT2, 9);
  expect(box.halfV).toBeCloseTo(Math.SQRT1_2, 9);
  const seats = ['near', 'far'].map((id) => boxOf(floor, id, frame)!);
  const joined = joinBoxes(seats)!;
  expect(joined.halfU).toBeCloseTo((6.2 - 2) / 2 + 0.5, 9);
  expect(joined.halfV).toBeCloseTo(0.5, 9);
  expect(boxOf(floor, 'nothing', frame)).toBeNull();
});

test('uprights stand at corners of blind areas', () => {
  const coverage = createCoverage(floor);
  const corners = findBlindCorners(coverage, 'seated');
  expect(corners.length).toBeGreaterThan(3);
  const { x0, y0, cell, nx } = coverage.grid.lattice;
  for (let k = 0; k < corners.length; k += 2) {
    const i = Math.round((corners[k]! - x0) / cell);
    const j = Math.round((corners[k + 1]! - y0) / cell);
    const blind = [
      [i - 1, j - 1],
      [i, j - 1],
      [i - 1, j],
      [i, j],
    ].filter(([u, v]) => u! >= 0 && v! >= 0 && u! < nx && coverage.seated.state[v! * nx + u!] === 2);
    expect(blind).toHaveLength(1);
  }
});

test('somebody is as tall as the plane they are looked for on allows, and level lines cross them in pairs', () => {
  for (const [posture, tallest] of [
    ['standing', 1.73],
    ['seated', 1.33],
  ] as const) {
    const person = drawPerson(posture);
    const heights = person.rings.flatMap((ring) => ring.filter((_, i) => i % 2 === 1));
    expect(Math.max(...heights)).toBeCloseTo(tallest, 6);
    expect(Math.min(...heights)).toBe(0);
    for (let z = 0.03; z < tallest; z += 0.05) expect(crossPerson(person, z).length % 2).toBe(0);
    expect(person.corners.length % 6).toBe(0);
  }
});
