/** Rooms from spaces: their floor outline with holes, their name, their ceiling. */
import type { PlanPoint } from '../../core/geometry/polygon.ts';
import { type Body, cornersOf, extentOf, floorOf, type Mesh, placeBody, sumAreas } from './bodies.ts';
import { readFaces } from './faces.ts';
import type { Model } from './placements.ts';
import { areaOf, cleanRegions, evenOdd, hullOf, isInRegion, type Region, unite } from './regions.ts';
import { refOf, textOf } from './step-file.ts';
import type { RoomPlan, StoreyScope } from './storey-scope.ts';
import type { Structure } from './structure.ts';
import type { Thing } from './things.ts';

/** A ceiling covering: its outline and its underside in the world. */
export interface CeilingPlan {
  readonly regions: readonly Region[];
  readonly base: number;
}

/** A room that reaches this much (metres) into the storey above crosses storeys. */
const CROSSING = 0.5;
/** Stated and drawn areas that differ by more than this share are told. */
const AREA_SHARE = 0.005;
/** Square metres, square feet, square centimetres and square millimetres, in m². */
const AREA_UNITS = [1, 0.09290304, 1e-4, 1e-6];
/** A covering this much (metres) under the top of a room's body is another ceiling. */
const LOWER = 0.05;

/** Parts of rooms, groups of rooms and what is outside are no rooms; the account says so. */
export function chooseSpaces(
  spaces: readonly Thing[],
  structure: Structure,
  leaveOut: (thing: Thing, what: string, reason: string) => void,
): Thing[] {
  const isSpace = new Map(spaces.map((space) => [space.id, space]));
  return spaces.filter((space) => {
    const composition = textOf(space.args[8]);
    const kind = textOf(space.args[9]);
    const parts = structure.partsOf(space.id).filter((id) => isSpace.has(id));
    const whole = isSpace.get(structure.parentOf(space.id));
    if (kind === '.GFA.') leaveOut(space, 'spaces', 'It states a gross floor area, which lies over the rooms.');
    else if (kind === '.EXTERNAL.') leaveOut(space, 'spaces outside', 'It is marked as external: there is no ceiling.');
    else if (parts.length > 0 && !isWhole(space, composition))
      leaveOut(space, 'groups of rooms', 'Its parts were taken as rooms.');
    else if (whole !== undefined && isWhole(whole, textOf(whole.args[8])))
      leaveOut(space, 'parts of rooms', 'The whole was taken as one room.');
    else return true;
    return false;
  });
}

function isWhole(space: Thing, composition: string): boolean {
  return composition !== '.COMPLEX.' && (space.form !== 'none' || space.unread.length > 0);
}

/** One room for each separate outline of a space. */
export function readRoom(
  scope: StoreyScope,
  model: Model,
  space: Thing,
  boundaries: readonly number[],
  ceilings: readonly CeilingPlan[],
  statedArea: number | undefined,
): RoomPlan[] {
  const { account } = scope;
  const name = nameOf(space);
  const place = { key: space.key, name, at: null };
  const bodies = space.bodies.length > 0 ? space.bodies : readBoundaries(model, space, boundaries);
  if (bodies.length === 0) {
    const reason =
      space.unplaced ??
      (space.unread.length > 0
        ? `Its body could not be read (${space.unread[0]}).`
        : 'It has neither a body nor boundaries nor an outline. Draw it by hand, or export spaces with bodies.');
    account.note('left out', 'rooms', reason, place);
    return [];
  }
  let standing: 'read' | 'guessed' = 'read';
  let regions = floorOf(bodies);
  if (regions.length === 0 && space.bodies.length === 0) regions = stitchFloor(bodies);
  if (regions.length === 0) {
    regions = cleanRegions([{ outer: hullOf(cornersOf(bodies)), holes: [] }]);
    standing = 'guessed';
    if (regions.length > 0)
      account.note(
        'guessed',
        'rooms',
        'Its body has no closed outline: the tightest outline without dents around it was taken.',
        place,
      );
  }
  if (regions.length === 0) {
    account.note('left out', 'rooms', 'Its body encloses no floor.', place);
    return [];
  }
  if (space.form === 'box') {
    standing = 'guessed';
    account.note('guessed', 'rooms', 'Only a box around it is drawn: the box was taken.', place);
  } else if (space.form === 'outline') {
    account.note('taken', 'rooms', 'They are drawn as an outline on the floor, without a body.', place);
  } else if (space.bodies.length === 0) {
    account.note('taken', 'rooms', 'They have no body: their outline was put together from their boundaries.', place);
  }
  const extent = extentOf(bodies);
  const hasHeight = extent !== undefined && space.form !== 'outline' && extent.top - extent.base > 0.5;
  const ceiling = hasHeight ? scope.toHeight(extent.top) : null;
  if (hasHeight) tellHeights(scope, bodies, regions, extent, place);
  tellArea(scope, regions, statedArea, place);
  if (regions.length > 1)
    account.note(
      'taken',
      'rooms',
      'They consist of several separate parts: each part became a room of its own.',
      place,
    );

  return regions.map((region, part): RoomPlan => {
    const covering = findCovering(ceilings, region);
    const hung = covering === undefined ? null : scope.toHeight(covering);
    if (ceiling !== null && hung !== null && hung < ceiling - LOWER && hung > 1.5) {
      const reason =
        'A ceiling covering hangs lower than the top of the room: the top of the room was taken as its ceiling. Put the ceiling right where detectors go into the covering.';
      account.note('guessed', 'ceiling heights', reason, {
        ...place,
        name: `${name}: room ${ceiling.toFixed(2)} m, covering ${hung.toFixed(2)} m`,
      });
    }
    const key = part === 0 ? space.key : `${space.key}/${part + 1}`;
    const use = space.names[1];
    return {
      region,
      room: {
        key,
        name: regions.length > 1 ? `${name} (${part + 1})` : name,
        ...(use === undefined || use === '' ? {} : { use }),
        outline: scope.toRing(region.outer),
        holes: region.holes.map(scope.toRing),
        ceiling: positive(ceiling) ?? positive(hung),
        standing,
      },
    };
  });
}

const positive = (height: number | null): number | null => (height !== null && height > 0 ? height : null);

/** The long name and the short one, which is often a number. */
function nameOf(space: Thing): string {
  const longName = textOf(space.args[7]).trim();
  if (longName === '' || longName === space.name) return space.name;
  return space.name === '' ? longName : `${longName} ${space.name}`;
}

function tellHeights(
  scope: StoreyScope,
  bodies: readonly Body[],
  regions: readonly Region[],
  { base, top }: { base: number; top: number },
  place: { key: string; name: string; at: null },
): void {
  const { account } = scope;
  const low = scope.toHeight(base);
  const high = scope.toHeight(top);
  if (high > scope.height + CROSSING)
    account.note(
      'taken',
      'rooms',
      'They reach through the storey above: they were taken on their own storey only, with the height of their body.',
      place,
    );
  if (Math.abs(low) > 0.3)
    account.note(
      'taken',
      'rooms',
      `Their floor lies more than 0.3 m above or below the storey's: heights count from the storey's floor.`,
      { ...place, name: `${place.name}: ${low.toFixed(2)} m` },
    );
  const flat = bodies.reduce((sum, body) => sum + flatTop(body, top), 0);
  if (flat < sumAreas(regions) * 0.5)
    account.note('guessed', 'ceiling heights', 'Their ceiling is not level: its highest point was taken.', place);
}

/** Area in plan of what lies within 5 cm of the top of a room. */
function flatTop(body: Body, top: number): number {
  if (body.kind === 'prism') return body.cuts.length === 0 && body.z1 > top - 0.05 ? sumAreas(body.regions) : 0;
  const flipped = body.xyz.map((value, i) => (i % 3 === 2 ? -value : value));
  const upside: Mesh = { kind: 'mesh', xyz: flipped, faces: body.faces };
  const extent = extentOf([upside]);
  return extent !== undefined && extent.base < -top + 0.05 ? sumAreas(floorOf([upside])) : 0;
}

function tellArea(
  scope: StoreyScope,
  regions: readonly Region[],
  stated: number | undefined,
  place: { key: string; name: string; at: null },
): void {
  if (stated === undefined || !(stated > 0)) return;
  const drawn = sumAreas(regions);
  // Areas come in the file's own unit of area, or in square metres where only lengths are in millimetres or feet.
  if (AREA_UNITS.some((unit) => Math.abs(drawn - stated * unit) <= AREA_SHARE * stated * unit)) return;
  if (stated > drawn * 4 || stated < drawn / 4) return;
  const name = `${place.name}: stated ${stated.toFixed(2)} m², drawn ${drawn.toFixed(2)} m²`;
  scope.account.note('taken', 'rooms', 'Their stated area differs from that of their body: the body was taken.', {
    ...place,
    name,
  });
}

/** The underside of the lowest covering over the middle of a room, undefined when there is none. */
function findCovering(ceilings: readonly CeilingPlan[], region: Region): number | undefined {
  const [x, y] = innerPoint(region);
  let lowest: number | undefined;
  for (const { regions, base } of ceilings) {
    if (regions.some((part) => isInRegion(part, x, y)) && (lowest === undefined || base < lowest)) lowest = base;
  }
  return lowest;
}

/** A place inside a region: in the middle of its widest stretch at half height. */
function innerPoint({ outer, holes }: Region): PlanPoint {
  const ys = outer.map(([, y]) => y);
  const y = (Math.min(...ys) + Math.max(...ys)) / 2 + 1e-4;
  const xs: number[] = [];
  for (const ring of [outer, ...holes]) {
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length] as PlanPoint;
      if (a[1] > y !== b[1] > y) xs.push(a[0] + ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1]));
    });
  }
  xs.sort((a, b) => a - b);
  let best: PlanPoint = outer[0] as PlanPoint;
  let width = 0;
  for (let i = 0; i + 1 < xs.length; i += 2) {
    const [from, to] = [xs[i] as number, xs[i + 1] as number];
    if (to - from > width) {
      width = to - from;
      best = [(from + to) / 2, y];
    }
  }
  return best;
}

/** The surfaces between a space and what bounds it, in the space's own system, placed. */
function readBoundaries(model: Model, space: Thing, boundaries: readonly number[]): Body[] {
  const { frame } = space;
  if (frame === undefined) return [];
  return boundaries.flatMap((id) => {
    const geometry = refOf(model.step.read(id)[6]);
    const surface = refOf(model.step.read(geometry)[0]);
    const mesh = readFaces(model, surface);
    return mesh === undefined ? [] : [placeBody(mesh, frame)];
  });
}

/** Upright surfaces around a room, chained at their feet. */
function stitchFloor(bodies: readonly Body[]): Region[] {
  const segments: [PlanPoint, PlanPoint][] = [];
  for (const body of bodies) {
    if (body.kind !== 'mesh') continue;
    for (const [outer] of body.faces) {
      if (outer === undefined) continue;
      const corners = outer.map((i): PlanPoint => [body.xyz[3 * i] as number, body.xyz[3 * i + 1] as number]);
      const ends = farthest(corners);
      if (ends !== undefined) segments.push(ends);
    }
  }
  const rings: PlanPoint[][] = [];
  while (segments.length > 0) {
    const [a, b] = segments.pop() as [PlanPoint, PlanPoint];
    const chain = [a, b];
    for (;;) {
      const end = chain[chain.length - 1] as PlanPoint;
      const next = segments.findIndex(([p, q]) => isNear(p, end) || isNear(q, end));
      if (next < 0) break;
      const [[p, q]] = segments.splice(next, 1) as [[PlanPoint, PlanPoint]];
      chain.push(isNear(p, end) ? q : p);
      if (isNear(chain[chain.length - 1] as PlanPoint, a)) break;
    }
    if (chain.length > 3) rings.push(chain);
  }
  return cleanRegions(unite(evenOdd(rings))).filter((region) => areaOf(region) > 0.1);
}

/** Feet of boundaries meet within this, metres. */
const JOINT = 0.05;

function isNear(a: PlanPoint, b: PlanPoint): boolean {
  return Math.hypot(a[0] - b[0], a[1] - b[1]) < JOINT;
}

function farthest(corners: readonly PlanPoint[]): [PlanPoint, PlanPoint] | undefined {
  let best: [PlanPoint, PlanPoint] | undefined;
  let most = JOINT;
  for (const a of corners) {
    for (const b of corners) {
      const distance = Math.hypot(a[0] - b[0], a[1] - b[1]);
      if (distance > most) {
        most = distance;
        best = [a, b];
      }
    }
  }
  return best;
}
