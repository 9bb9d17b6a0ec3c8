/** Items of a representation as bodies: swept profiles, faces, blocks, and cuts of them. */
import type { PlanRing } from '../../core/geometry/polygon.ts';
import { type Body, cutBody, type Plane, type Prism, placeBody, sweep } from './bodies.ts';
import { readCurve } from './curves.ts';
import { readFaces } from './faces.ts';
import { compose, type Frame, scale, toOuter, turnOuter, uprightFactor, type Vec3, WORLD } from './frame.ts';
import { type Model, readAxes, readDirection, readOperator, readPoint } from './placements.ts';
import { readProfile } from './profiles.ts';
import { cleanRegions, intersectRegions, type Region, subtractRegions } from './regions.ts';
import { numberOf, refOf, refsOf, textOf, type Value } from './step-file.ts';

/** What was read of items, and the types of what was not or only roughly. */
export interface Solids {
  readonly bodies: readonly Body[];
  readonly unread: readonly string[];
}

const NOTHING: Solids = { bodies: [], unread: [] };
const MAX_DEPTH = 40;
/** Bodies of one thing beyond which it is no piece of a floor. */
const MAX_BODIES = 50_000;
/** Items read for one thing, shared ones counted each time. */
const MAX_STEPS = 500_000;

const unread = (type: string): Solids => ({ bodies: [], unread: [type] });

/** Reads items of shape representations; mapped ones once for all their places. */
export function createSolids(model: Model): (items: readonly number[]) => Solids {
  const { step, units } = model;
  const mapped = new Map<number, Solids>();

  const readAll = (items: readonly number[], depth: number): Solids => {
    const [only] = items;
    if (items.length === 1 && only !== undefined) return readItem(only, depth);
    const bodies: Body[] = [];
    const missing: string[] = [];
    for (const item of items) {
      const part = readItem(item, depth);
      for (const body of part.bodies) bodies.push(body);
      missing.push(...part.unread);
      if (bodies.length > MAX_BODIES) return unread(`more than ${MAX_BODIES} bodies`);
    }
    return { bodies, unread: missing };
  };

  const place = ({ bodies, unread: missing }: Solids, frame: Frame): Solids =>
    frame === WORLD
      ? { bodies, unread: missing }
      : { bodies: bodies.map((body) => placeBody(body, frame)), unread: missing };

  const size = (value: Value | undefined): number => (numberOf(value) ?? 0) * units.length;

  /** Items being read now: one of them again is a circle. */
  const active = new Set<number>();
  let steps = 0;

  const readItem = (id: number, depth: number): Solids => {
    const type = step.typeOf(id);
    if (active.has(id)) return unread(`${type} #${id}, which refers to itself`);
    if (depth > MAX_DEPTH || ++steps > MAX_STEPS) return unread(`${type} nested too deep`);
    active.add(id);
    const solids = readNew(id, type, depth);
    active.delete(id);
    return solids;
  };

  const readNew = (id: number, type: string, depth: number): Solids => {
    const args = step.read(id);
    switch (type) {
      case 'IFCEXTRUDEDAREASOLID':
      case 'IFCEXTRUDEDAREASOLIDTAPERED':
        return readExtrusion(type, args);
      case 'IFCMAPPEDITEM':
        return readMapped(args, depth);
      case 'IFCBOOLEANCLIPPINGRESULT':
      case 'IFCBOOLEANRESULT':
        return readBoolean(args, depth);
      case 'IFCCSGSOLID':
        return readItem(refOf(args[0]), depth + 1);
      case 'IFCBLOCK': {
        const [x, y, z] = [size(args[1]), size(args[2]), size(args[3])];
        return place({ bodies: [box(x, y, z)], unread: [] }, readAxes(model, refOf(args[0])));
      }
      case 'IFCBOUNDINGBOX': {
        const at = readPoint(model, refOf(args[0]));
        return place({ bodies: [box(size(args[1]), size(args[2]), size(args[3]))], unread: [] }, { ...WORLD, o: at });
      }
      case 'IFCSTYLEDITEM':
      case 'IFCGEOMETRICSET':
      case 'IFCGEOMETRICCURVESET':
      case 'IFCANNOTATIONFILLAREA':
      case 'IFCTEXTLITERAL':
      case 'IFCTEXTLITERALWITHEXTENT':
        return NOTHING;
      case '':
        return unread(`#${id}, which is missing`);
      default: {
        const mesh = readFaces(model, id);
        return mesh === undefined ? unread(type) : { bodies: [mesh], unread: [] };
      }
    }
  };

  const readExtrusion = (type: string, args: readonly Value[]): Solids => {
    const profile = refOf(args[0]);
    const regions = readProfile(model, profile);
    const depth = size(args[3]);
    if (regions === undefined) return unread(step.typeOf(profile) || type);
    if (regions.length === 0 || !(Math.abs(depth) > 0)) return NOTHING;
    const along = readDirection(model, refOf(args[2])) ?? [0, 0, 1];
    // A tapered body lies between its two ends: both outlines together hold its plan.
    const end = type === 'IFCEXTRUDEDAREASOLIDTAPERED' ? readProfile(model, refOf(args[4])) : undefined;
    const bodies = [sweep(end === undefined ? regions : [...regions, ...end], along, depth)];
    return place({ bodies, unread: [] }, readAxes(model, refOf(args[1])));
  };

  const readMapped = (args: readonly Value[], depth: number): Solids => {
    const map = step.read(refOf(args[0]));
    const representation = refOf(map[1]);
    let inner = mapped.get(representation);
    if (inner === undefined) {
      mapped.set(representation, unread('IFCMAPPEDITEM in a circle'));
      inner = readAll(refsOf(step.read(representation)[3]), depth + 1);
      mapped.set(representation, inner);
    }
    const origin = readAxes(model, refOf(map[0]));
    return place(inner, compose(readOperator(model, refOf(args[1])), origin));
  };

  const readBoolean = (args: readonly Value[], depth: number): Solids => {
    const first = readItem(refOf(args[1]), depth + 1);
    const secondId = refOf(args[2]);
    const operator = textOf(args[0]);
    if (operator === '.UNION.') {
      const second = readItem(secondId, depth + 1);
      return { bodies: [...first.bodies, ...second.bodies], unread: [...first.unread, ...second.unread] };
    }
    const type = step.typeOf(secondId);
    const isHalfSpace =
      type === 'IFCHALFSPACESOLID' || type === 'IFCPOLYGONALBOUNDEDHALFSPACE' || type === 'IFCBOXEDHALFSPACE';
    if (operator !== '.DIFFERENCE.')
      return { bodies: first.bodies, unread: [...first.unread, `${operator} of bodies`] };
    if (isHalfSpace) {
      const cut = readHalfSpace(secondId);
      if (cut === undefined) return { bodies: first.bodies, unread: [...first.unread, type] };
      const parts = first.bodies.map((body) => takeHalfSpace(body, cut));
      const isRough = parts.some((part) => part === undefined);
      const bodies = parts.flatMap((part, i) => part ?? (first.bodies[i] as Body));
      return { bodies, unread: isRough ? [...first.unread, type] : first.unread };
    }
    const second = readItem(secondId, depth + 1);
    const isUpright = [...first.bodies, ...second.bodies].every(
      (body) => body.kind === 'prism' && body.cuts.length === 0,
    );
    if (second.unread.length > 0 || !isUpright) {
      return { bodies: first.bodies, unread: [...first.unread, `a body with a ${type} taken out of it`] };
    }
    let left = first.bodies as readonly Prism[];
    for (const tool of second.bodies as readonly Prism[]) left = left.flatMap((body) => takePrism(body, tool));
    return { bodies: left, unread: first.unread };
  };

  interface HalfSpace {
    readonly kept: Plane;
    readonly bounds?: { readonly frame: Frame; readonly ring: PlanRing };
  }

  const readHalfSpace = (id: number): HalfSpace | undefined => {
    const args = step.read(id);
    const surface = refOf(args[0]);
    if (step.typeOf(surface) !== 'IFCPLANE') return undefined;
    const plane = readAxes(model, refOf(step.read(surface)[0]));
    // With `.T.` the half space lies on the side away from the normal, so the side of the normal is kept.
    const kept = { at: plane.o, normal: args[1] === '.F.' ? scale(plane.z, -1) : plane.z };
    if (step.typeOf(id) !== 'IFCPOLYGONALBOUNDEDHALFSPACE') return { kept };
    const boundary = readCurve(model, refOf(args[3]));
    if (boundary === undefined) return undefined;
    return {
      kept,
      bounds: { frame: readAxes(model, refOf(args[2])), ring: boundary.map(([x, y]) => [x, y] as const) },
    };
  };

  return (items) => {
    steps = 0;
    return readAll(items, 0);
  };
}

function box(x: number, y: number, z: number): Prism {
  const outer: PlanRing = [
    [0, 0],
    [x, 0],
    [x, y],
    [0, y],
  ];
  return { kind: 'prism', regions: [{ outer, holes: [] }], z0: Math.min(0, z), z1: Math.max(0, z), cuts: [] };
}

/** A body less a half space; undefined when its bounds cannot be followed. */
function takeHalfSpace(
  body: Body,
  { kept, bounds }: { kept: Plane; bounds?: { frame: Frame; ring: PlanRing } },
): Body[] | undefined {
  if (bounds === undefined) return sound(cutBody(body, kept));
  const { frame, ring } = bounds;
  if (body.kind === 'mesh' || uprightFactor(frame) === undefined) return takeConvex(body, kept, frame, ring);
  const outer = ring.map(([x, y]) => {
    const [u, v] = toOuter(frame, [x, y, 0] satisfies Vec3);
    return [u, v] as const;
  });
  const within: Region[] = [{ outer, holes: [] }];
  const inside = intersectRegions(body.regions, within);
  if (inside.length === 0) return [body];
  const outside = subtractRegions(body.regions, within);
  const cut = cutBody({ ...body, regions: inside }, kept);
  return sound(outside.length === 0 ? cut : [{ ...body, regions: outside }, ...cut]);
}

/**
 * A body less a half space within a convex outline that lies any way round: what is outside each edge stays, edge by edge,
 * and of what is inside all of them the kept side. Undefined for an outline with dents.
 */
function takeConvex(body: Body, kept: Plane, frame: Frame, ring: PlanRing): Body[] | undefined {
  const tidy = cleanRegions([{ outer: ring, holes: [] }])[0]?.outer;
  if (tidy === undefined || tidy.length > MAX_BOUNDS || !isConvex(tidy)) return undefined;
  const parts: Body[] = [];
  let inside: Body[] = [body];
  tidy.forEach(([x, y], i) => {
    const [a, b] = tidy[(i + 1) % tidy.length] as readonly [number, number];
    const at = toOuter(frame, [x, y, 0]);
    const out = turnOuter(frame, [b - y, x - a, 0]);
    parts.push(...inside.flatMap((part) => cutBody(part, { at, normal: out })));
    inside = inside.flatMap((part) => cutBody(part, { at, normal: scale(out, -1) }));
  });
  if (inside.length === 0) return [body];
  return sound([...parts, ...inside.flatMap((part) => cutBody(part, kept))]);
}

/** Edges of bounds that are followed. */
const MAX_BOUNDS = 12;

function isConvex(ring: PlanRing): boolean {
  return ring.every((a, i) => {
    const b = ring[(i + 1) % ring.length] as readonly [number, number];
    const c = ring[(i + 2) % ring.length] as readonly [number, number];
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) > 0;
  });
}

/** Bodies cut from above and from below by tilted planes have places with no face left: the engine knows better. */
function sound(bodies: Body[]): Body[] | undefined {
  const isSound = bodies.every((body) => {
    const cuts = body.kind === 'prism' ? body.cuts : [];
    return !(cuts.some(({ normal }) => normal[2] > 0) && cuts.some(({ normal }) => normal[2] < 0));
  });
  return isSound ? bodies : undefined;
}

/** An upright prism less another: up to three slabs of it. */
function takePrism(body: Prism, tool: Prism): Prism[] {
  const low = Math.max(body.z0, tool.z0);
  const high = Math.min(body.z1, tool.z1);
  if (high - low < 1e-6) return [body];
  const middle = subtractRegions(body.regions, tool.regions);
  const slabs: Prism[] = [];
  if (low - body.z0 > 1e-6) slabs.push({ ...body, z1: low });
  if (middle.length > 0) slabs.push({ ...body, regions: middle, z0: low, z1: high });
  if (body.z1 - high > 1e-6) slabs.push({ ...body, z0: high });
  return slabs;
}
