/**
 * Bodies of a model as far as a floor needs them: upright prisms, kept exact, and everything else as faces. Metres, z up,
 * double precision.
 */
import { computeSignedArea, type PlanPoint, type PlanRing } from '../../core/geometry/polygon.ts';
import {
  compose,
  dot,
  type Frame,
  normalise,
  subtract,
  toOuter,
  turnOuter,
  uprightFactor,
  type Vec3,
} from './frame.ts';
import { areaOf, cleanRegions, intersectRegions, type Region, unite } from './regions.ts';

/** What lies on the side of a plane that its normal points to is kept. */
export interface Plane {
  readonly at: Vec3;
  readonly normal: Vec3;
}

/** An outline pulled upright from z0 to z1, and cut by planes that are neither flat nor upright. */
export interface Prism {
  readonly kind: 'prism';
  readonly regions: readonly Region[];
  readonly z0: number;
  readonly z1: number;
  readonly cuts: readonly Plane[];
}

/** Faces: each a list of loops (the outer one first), each loop a list of corners by number. */
export interface Mesh {
  readonly kind: 'mesh';
  /** x, y, z of corner i at 3i. */
  readonly xyz: Float64Array;
  readonly faces: readonly (readonly (readonly number[])[])[];
  /** The mesh it is a placed copy of, where the copy stands upright: both have one plan. */
  readonly copyOf?: { readonly mesh: Mesh; readonly frame: Frame };
}

export type Body = Prism | Mesh;

/** Faces whose outline in plan is smaller (m²) stand upright or are slivers. */
const FLAT_AREA = 1e-7;
/** Half the side of a square that counts as endless, metres. */
const ENDLESS = 1e5;

/** A prism along the z axis of its frame, as a body outside that frame. */
export function placeBody(body: Body, frame: Frame): Body {
  const factor = uprightFactor(frame);
  if (body.kind === 'mesh') {
    const xyz = moveCorners(body.xyz, frame);
    const { faces, copyOf } = body;
    if (factor === undefined) return { kind: 'mesh', xyz, faces };
    const origin =
      copyOf === undefined ? { mesh: body, frame } : { mesh: copyOf.mesh, frame: compose(frame, copyOf.frame) };
    return { kind: 'mesh', xyz, faces, copyOf: origin };
  }
  if (factor === undefined) return placeBody(toMesh(body), frame);
  const ends = [frame.o[2] + body.z0 * factor, frame.o[2] + body.z1 * factor] as const;
  return {
    kind: 'prism',
    regions: moveRegions(body.regions, frame),
    z0: Math.min(...ends),
    z1: Math.max(...ends),
    cuts: body.cuts.map(({ at, normal }) => ({ at: toOuter(frame, at), normal: turnOuter(frame, normal) })),
  };
}

/** Regions in the plane z = 0 of an upright frame, outside it. */
function moveRegions(regions: readonly Region[], { x: u, y: v, o }: Frame): Region[] {
  const move = (ring: PlanRing): PlanRing =>
    ring.map(([x, y]): PlanPoint => [u[0] * x + v[0] * y + o[0], u[1] * x + v[1] * y + o[1]]);
  return regions.map(({ outer, holes }) => ({ outer: move(outer), holes: holes.map(move) }));
}

function moveCorners(xyz: Float64Array, { x, y, z, o }: Frame): Float64Array {
  const moved = new Float64Array(xyz.length);
  for (let i = 0; i < xyz.length; i += 3) {
    const [a, b, c] = [xyz[i] as number, xyz[i + 1] as number, xyz[i + 2] as number];
    moved[i] = x[0] * a + y[0] * b + z[0] * c + o[0];
    moved[i + 1] = x[1] * a + y[1] * b + z[1] * c + o[1];
    moved[i + 2] = x[2] * a + y[2] * b + z[2] * c + o[2];
  }
  return moved;
}

/** Keeps what lies on the kept side of a plane: exact for prisms cut flat or upright. */
export function cutBody(body: Body, plane: Plane): Body[] {
  const normal = normalise(plane.normal);
  if (normal === undefined) return [body];
  if (body.kind === 'mesh') return clipMesh(body, { at: plane.at, normal });
  const { regions, z0, z1 } = body;
  const [nx, ny, nz] = normal;
  if (Math.hypot(nx, ny) < 1e-6) {
    const from = nz > 0 ? Math.max(z0, plane.at[2]) : z0;
    const to = nz > 0 ? z1 : Math.min(z1, plane.at[2]);
    return to - from > 1e-6 ? [{ ...body, z0: from, z1: to }] : [];
  }
  if (Math.abs(nz) < 1e-6) {
    const [x, y] = plane.at;
    const corner = (along: number, out: number): PlanPoint => [x - ny * along + nx * out, y + nx * along + ny * out];
    const half: PlanRing = [
      corner(-ENDLESS, 0),
      corner(ENDLESS, 0),
      corner(ENDLESS, ENDLESS),
      corner(-ENDLESS, ENDLESS),
    ];
    const kept = intersectRegions(regions, [{ outer: half, holes: [] }]);
    return kept.length > 0 ? [{ ...body, regions: kept }] : [];
  }
  const cut: Prism = { ...body, cuts: [...body.cuts, { at: plane.at, normal }] };
  return toMesh(cut).faces.length > 0 ? [cut] : [];
}

function clipMesh(mesh: Mesh, plane: Plane): Mesh[] {
  const clipped = clipFaces(mesh, plane);
  return clipped.faces.length > 0 ? [clipped] : [];
}

/** The faces of a prism, cut by its planes. The faces of the cuts themselves are left out: no outline or height needs them. */
function toMesh({ regions, z0, z1, cuts }: Prism): Mesh {
  const xyz: number[] = [];
  const faces: number[][][] = [];
  for (const { outer, holes } of regions) {
    const bottom: number[][] = [];
    const top: number[][] = [];
    for (const ring of [outer, ...holes]) {
      const first = xyz.length / 3;
      for (const [x, y] of ring) xyz.push(x, y, z0, x, y, z1);
      bottom.push(ring.map((_, i) => first + 2 * i));
      top.push(ring.map((_, i) => first + 2 * i + 1));
      ring.forEach((_, i) => {
        const next = (i + 1) % ring.length;
        faces.push([[first + 2 * i, first + 2 * next, first + 2 * next + 1, first + 2 * i + 1]]);
      });
    }
    faces.push(bottom, top);
  }
  let mesh: Mesh = { kind: 'mesh', xyz: Float64Array.from(xyz), faces };
  for (const plane of cuts) mesh = clipFaces(mesh, plane);
  return mesh;
}

function clipFaces({ xyz, faces }: Mesh, { at, normal }: Plane): Mesh {
  const corners = Array.from(xyz);
  const side = (i: number): number => dot(subtract(cornerAt(corners, i), at), normal);
  const clipLoop = (loop: readonly number[]): number[] => {
    const kept: number[] = [];
    loop.forEach((corner, i) => {
      const next = loop[(i + 1) % loop.length] as number;
      const [here, there] = [side(corner), side(next)];
      if (here >= -1e-9) kept.push(corner);
      if ((here > 1e-9 && there < -1e-9) || (here < -1e-9 && there > 1e-9)) {
        const share = here / (here - there);
        const [a, b] = [cornerAt(corners, corner), cornerAt(corners, next)];
        kept.push(corners.length / 3);
        for (let k = 0; k < 3; k++) corners.push((a[k] as number) + ((b[k] as number) - (a[k] as number)) * share);
      }
    });
    return kept.length >= 3 ? kept : [];
  };
  const kept = faces.flatMap((loops) => {
    const clipped = loops.map(clipLoop).filter((loop) => loop.length > 0);
    return clipped.length > 0 ? [clipped] : [];
  });
  return { kind: 'mesh', xyz: Float64Array.from(corners), faces: kept };
}

function cornerAt(xyz: ArrayLike<number>, i: number): Vec3 {
  return [xyz[3 * i] as number, xyz[3 * i + 1] as number, xyz[3 * i + 2] as number];
}

export interface Extent {
  readonly base: number;
  readonly top: number;
}

/** The lowest and highest z of bodies, undefined for none. */
export function extentOf(bodies: readonly Body[]): Extent | undefined {
  let base = Number.POSITIVE_INFINITY;
  let top = Number.NEGATIVE_INFINITY;
  for (const body of bodies) {
    if (body.kind === 'prism' && body.cuts.length === 0) {
      base = Math.min(base, body.z0);
      top = Math.max(top, body.z1);
      continue;
    }
    const { xyz, faces } = body.kind === 'mesh' ? body : toMesh(body);
    for (const loops of faces) {
      for (const loop of loops) {
        for (const corner of loop) {
          const z = xyz[3 * corner + 2] as number;
          if (z < base) base = z;
          if (z > top) top = z;
        }
      }
    }
  }
  return base <= top ? { base, top } : undefined;
}

/** The outline of bodies seen from above; exact for a single prism, else joined by clipping. */
export function footprintOf(bodies: readonly Body[]): Region[] {
  const [only] = bodies;
  if (bodies.length === 1 && only?.kind === 'prism' && only.cuts.length === 0 && only.regions.length === 1) {
    return cleanRegions(only.regions);
  }
  const parts: Region[] = [];
  for (const body of bodies) {
    if (body.kind === 'prism' && body.cuts.length === 0) parts.push(...body.regions);
    else parts.push(...planOf(body.kind === 'mesh' ? body : toMesh(body)));
  }
  return cleanRegions(bodies.length === 1 && only?.kind === 'mesh' ? parts : unite(parts));
}

const plans = new WeakMap<Mesh, readonly Region[]>();

/** The outline of a mesh from above; copies of one mesh are joined once. */
function planOf(mesh: Mesh): readonly Region[] {
  if (mesh.copyOf !== undefined) return moveRegions(planOf(mesh.copyOf.mesh), mesh.copyOf.frame);
  let plan = plans.get(mesh);
  if (plan === undefined) {
    plan = unite(chooseSide(mesh));
    plans.set(mesh, plan);
  }
  return plan;
}

/**
 * The floor of hollow bodies such as rooms: the outline of the faces that lie flat at the bottom, or the outline of the
 * whole when the body has no flat bottom.
 */
export function floorOf(bodies: readonly Body[]): Region[] {
  const whole = footprintOf(bodies);
  const extent = extentOf(bodies);
  if (extent === undefined || bodies.every(({ kind }) => kind === 'prism')) return whole;
  const parts: Region[] = [];
  const highest = extent.base + Math.min(1, (extent.top - extent.base) / 2);
  for (const body of bodies) {
    if (body.kind === 'prism') parts.push(...body.regions);
    else addFlatFaces(body, parts, highest);
  }
  const floor = cleanRegions(unite(parts));
  const share = sumAreas(floor) / sumAreas(whole);
  // A body that narrows to its floor (a sunk pit) keeps its whole outline; an open shell without a floor too.
  return share > 0.5 ? floor : whole;
}

export const sumAreas = (regions: readonly Region[]): number =>
  regions.reduce((sum, region) => sum + areaOf(region), 0);

/**
 * The faces a plan is made of: of a closed body whose faces all turn the same way, those that look up (or down, when these are
 * fewer) cover all of it; of any other, all of them.
 */
function chooseSide(mesh: Mesh): readonly Region[] {
  const parts: Region[] = [];
  addFlatFaces(mesh, parts);
  const areas = parts.map(({ outer }) => computeSignedArea(outer));
  const sum = (sign: 1 | -1): number => areas.reduce((all, area) => all + Math.max(0, area * sign), 0);
  const [up, down] = [sum(1), sum(-1)];
  const isEven = parts.every(({ holes }) => holes.length === 0) && Math.abs(up - down) <= 1e-6 * (up + down);
  if (!isEven) return parts;
  const upper = parts.filter((_, i) => (areas[i] as number) > 0);
  return upper.length * 2 <= parts.length ? upper : parts.filter((_, i) => (areas[i] as number) < 0);
}

/** Adds the faces that are no upright ones, seen from above; only those that lie flat below a height when one is given. */
function addFlatFaces({ xyz, faces }: Mesh, parts: Region[], below?: number): void {
  for (const loops of faces) {
    const [outer, ...holes] = loops;
    if (outer === undefined || outer.length < 3) continue;
    let twice = 0;
    const [ox, oy] = cornerAt(xyz, outer[0] as number);
    for (let i = 1; i + 1 < outer.length; i++) {
      const [ax, ay] = cornerAt(xyz, outer[i] as number);
      const [bx, by] = cornerAt(xyz, outer[i + 1] as number);
      twice += (ax - ox) * (by - oy) - (bx - ox) * (ay - oy);
    }
    if (!(Math.abs(twice) > 2 * FLAT_AREA)) continue;
    if (below !== undefined && !isFlatBelow(xyz, outer, below)) continue;
    const toRing = (loop: readonly number[]): PlanRing =>
      loop.map((corner): PlanPoint => [xyz[3 * corner] as number, xyz[3 * corner + 1] as number]);
    parts.push({ outer: toRing(outer), holes: holes.map(toRing) });
  }
}

function isFlatBelow(xyz: Float64Array, loop: readonly number[], below: number): boolean {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const corner of loop) {
    const z = xyz[3 * corner + 2] as number;
    low = Math.min(low, z);
    high = Math.max(high, z);
  }
  return high <= below && high - low < 0.02;
}

/** A prism from an outline in a plane, pulled along any direction; upright ones stay exact. */
export function sweep(regions: readonly Region[], along: Vec3, depth: number): Body {
  const direction = normalise(along) ?? [0, 0, 1];
  if (Math.hypot(direction[0], direction[1]) < 1e-7) {
    const end = depth * direction[2];
    return { kind: 'prism', regions, z0: Math.min(0, end), z1: Math.max(0, end), cuts: [] };
  }
  const mesh = toMesh({ kind: 'prism', regions, z0: 0, z1: 1, cuts: [] });
  const sheared: Frame = {
    x: [1, 0, 0],
    y: [0, 1, 0],
    z: [direction[0] * depth, direction[1] * depth, direction[2] * depth],
    o: [0, 0, 0],
  };
  return { ...mesh, xyz: moveCorners(mesh.xyz, sheared) };
}

/** Every corner of bodies in plan: for hulls and extents along a direction. */
export function cornersOf(bodies: readonly Body[]): PlanPoint[] {
  const corners: PlanPoint[] = [];
  for (const body of bodies) {
    if (body.kind === 'prism') {
      for (const { outer } of body.regions) corners.push(...outer);
    } else {
      for (let i = 0; i < body.xyz.length; i += 3) corners.push([body.xyz[i] as number, body.xyz[i + 1] as number]);
    }
  }
  return corners;
}
