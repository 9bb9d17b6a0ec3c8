/** Positions and directions in space, metres, z up, in double precision. */

export type Vec3 = readonly [number, number, number];

/** A coordinate system: its axes (of any length, right- or left-handed) and its origin, in the system around it. */
export interface Frame {
  readonly x: Vec3;
  readonly y: Vec3;
  readonly z: Vec3;
  readonly o: Vec3;
}

export const WORLD: Frame = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1], o: [0, 0, 0] };

export function toOuter({ x, y, z, o }: Frame, [a, b, c]: Vec3): Vec3 {
  return [
    x[0] * a + y[0] * b + z[0] * c + o[0],
    x[1] * a + y[1] * b + z[1] * c + o[1],
    x[2] * a + y[2] * b + z[2] * c + o[2],
  ];
}

/** A direction, unmoved by the origin. */
export function turnOuter({ x, y, z }: Frame, [a, b, c]: Vec3): Vec3 {
  return [x[0] * a + y[0] * b + z[0] * c, x[1] * a + y[1] * b + z[1] * c, x[2] * a + y[2] * b + z[2] * c];
}

/** The inner frame as seen from outside the outer one. */
export function compose(outer: Frame, inner: Frame): Frame {
  if (inner === WORLD) return outer;
  if (outer === WORLD) return inner;
  return {
    x: turnOuter(outer, inner.x),
    y: turnOuter(outer, inner.y),
    z: turnOuter(outer, inner.z),
    o: toOuter(outer, inner.o),
  };
}

export const subtract = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const scale = (a: Vec3, by: number): Vec3 => [a[0] * by, a[1] * by, a[2] * by];

/** Length one, or undefined for a direction of no length. */
export function normalise(a: Vec3): Vec3 | undefined {
  const length = Math.hypot(a[0], a[1], a[2]);
  return length > 1e-12 && Number.isFinite(length) ? scale(a, 1 / length) : undefined;
}

/** The frame of an origin, a z axis and an x axis that is squared to it, as the standard builds them. */
export function frameOf(o: Vec3, axis: Vec3 | undefined, ref: Vec3 | undefined): Frame {
  const z = (axis && normalise(axis)) ?? WORLD.z;
  const wanted = (ref && normalise(ref)) ?? (Math.abs(z[0]) > 0.999999 ? ([0, 0, 1] as const) : WORLD.x);
  const squared = normalise(subtract(wanted, scale(z, dot(wanted, z))));
  const x = squared ?? normalise(cross(Math.abs(z[2]) > 0.9 ? WORLD.y : WORLD.z, z)) ?? WORLD.x;
  return { x, y: cross(z, x), z, o };
}

/** Whether every number of a frame can be worked with. */
export function isFiniteFrame({ x, y, z, o }: Frame): boolean {
  return [...x, ...y, ...z, ...o].every(Number.isFinite);
}

/**
 * For a frame whose z axis stands upright and whose x and y lie flat: the factor along z, below zero when it stands on its
 * head. Undefined for a tilted one.
 */
export function uprightFactor({ x, y, z }: Frame): number | undefined {
  const slack = 1e-6 * Math.hypot(...z);
  if (Math.abs(z[0]) > slack || Math.abs(z[1]) > slack) return undefined;
  if (Math.abs(x[2]) > 1e-6 * Math.hypot(...x) || Math.abs(y[2]) > 1e-6 * Math.hypot(...y)) return undefined;
  return z[2] === 0 ? undefined : z[2];
}
