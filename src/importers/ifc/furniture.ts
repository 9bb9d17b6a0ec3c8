/** Furniture as extruded outlines, chairs as workplaces, what stands about as pieces; kinds by names and by sizes. */
import {
  computeRingDistance,
  computeSegmentDistance,
  isInRing,
  type PlanPoint,
  type PlanRing,
} from '../../core/geometry/polygon.ts';
import type { DrawnPiece, DrawnWorkplace, Standing } from '../storey.ts';
import type { Body } from './bodies.ts';
import { areaOf, cutHoles, type Region, settleOutline } from './regions.ts';
import { type Solid, toSolid } from './shapes.ts';
import { middleOf, placeOf, type StoreyScope } from './storey-scope.ts';
import type { Thing } from './things.ts';
import { findNamedKind, type NamedKind } from './words.ts';

/** Heights and widths in metres. Desks 0.65–0.85 seated, 0.95–1.25 standing (EN 527-1, second-hand); the rest common practice, no source. */
const SIZES = {
  desk: { top: [0.6, 0.9], standingTop: [0.95, 1.25], depth: 0.45, width: 0.7 },
  chair: { top: [0.35, 1.3], longest: 0.8, area: 0.55, ratio: 1.5 },
  screen: { thickest: 0.15, longest: 0.6, top: 0.9 },
  tall: 1,
  shelving: 1.6,
  flat: 0.1,
  onDesk: { base: 0.55, height: 0.6, area: 0.6 },
  overhead: 1.2,
} as const;

/** Bodies of one thing whose tops differ by less are one piece. */
const STEP = 0.2;
/** A chair this near (metres) to a desk is its workplace. */
const AT_DESK = 0.7;

export interface Placed {
  readonly thing: Thing;
  readonly solid: Solid;
  readonly kind: NamedKind;
  readonly standing: Standing;
}

/** Length and width of the narrowest box around an outline, along its own edges. */
export function sizeOf(regions: readonly Region[]): readonly [number, number] {
  const corners = regions.flatMap(({ outer }) => outer);
  let best: readonly [number, number] = [0, 0];
  let least = Number.POSITIVE_INFINITY;
  const edges = [...corners.keys()].slice(0, 64);
  for (const i of edges) {
    const a = corners[i] as PlanPoint;
    const b = corners[(i + 1) % corners.length] as PlanPoint;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (length < 1e-6) continue;
    const [u, v] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    let [low, high, left, right] = [Infinity, -Infinity, Infinity, -Infinity];
    for (const [x, y] of corners) {
      const [t, n] = [x * u + y * v, y * u - x * v];
      low = Math.min(low, t);
      high = Math.max(high, t);
      left = Math.min(left, n);
      right = Math.max(right, n);
    }
    const [along, across] = [high - low, right - left];
    if (along * across < least) {
      least = along * across;
      best = [Math.max(along, across), Math.min(along, across)];
    }
  }
  return best;
}

/** What a thing is by its size, for names that say nothing. Heights over the storey's floor. */
function kindBySize(regions: readonly Region[], base: number, top: number): NamedKind {
  const [length, width] = sizeOf(regions);
  const area = regions.reduce((sum, region) => sum + areaOf(region), 0);
  const { desk, chair, screen } = SIZES;
  const isWithin = ([from, to]: readonly [number, number]): boolean => top >= from && top <= to;
  if (base > SIZES.overhead) return 'cabinet';
  if (base < 0.7 && (isWithin(desk.top) || isWithin(desk.standingTop)) && width >= desk.depth && length >= desk.width)
    return 'desk';
  if (
    base < 0.5 &&
    isWithin(chair.top) &&
    length <= chair.longest &&
    area <= chair.area &&
    length <= width * chair.ratio &&
    width > 0.2
  )
    return 'chair';
  if (width <= screen.thickest && length >= screen.longest && top >= screen.top) return 'screen';
  if (top >= SIZES.shelving) return 'shelving';
  return top >= SIZES.tall ? 'cabinet' : 'other';
}

/** Names a thing's kind; undefined, and the account told, for what hides nobody. */
export function classify(scope: StoreyScope, thing: Thing, what: string): Placed | undefined {
  const solid = toSolid(thing.bodies);
  if (solid === undefined) {
    scope.account.note(
      'left out',
      what,
      thing.unplaced ?? 'It has no body that can be drawn in plan.',
      placeOf(scope, thing),
    );
    return undefined;
  }
  const base = scope.toHeight(solid.base);
  const top = scope.toHeight(solid.top);
  const place = placeOf(scope, thing, solid);
  const leaveOut = (reason: string): undefined => {
    scope.account.note('left out', what, reason, place);
    return undefined;
  };
  const named = findNamedKind(...thing.names) ?? predefinedKind(thing.predefined);
  if (named === 'figure') return leaveOut('Figures, words and trees are no furniture.');
  if (top < SIZES.flat) return leaveOut('They lie flat on the floor.');
  const ceiling = scope.ceilingAt(middleOf(solid.regions));
  if (ceiling !== undefined && base >= ceiling - 1e-3) return leaveOut('They lie above the ceiling.');
  const area = solid.regions.reduce((sum, region) => sum + areaOf(region), 0);
  const isSmall = base >= SIZES.onDesk.base && top - base <= SIZES.onDesk.height && area <= SIZES.onDesk.area;
  if (named === 'small' || (isSmall && base < SIZES.overhead && (named === undefined || named === 'machine')))
    return leaveOut('Small things that stand on furniture or hang on walls.');
  // A coffee table is no place to work at.
  if (named === 'desk' && top < SIZES.desk.top[0]) return { thing, solid, kind: 'other', standing: 'guessed' };
  if (named !== undefined) return { thing, solid, kind: named, standing: 'guessed' };
  return { thing, solid, kind: kindBySize(solid.regions, base, top), standing: 'guessed' };
}

/** The kinds of IFC4 furniture, which are no guess of ours but still words. */
function predefinedKind(predefined: string): NamedKind | undefined {
  const kinds: Readonly<Record<string, NamedKind>> = {
    '.CHAIR.': 'chair',
    '.TABLE.': 'desk',
    '.DESK.': 'desk',
    '.WORKSURFACE.': 'desk',
    '.FILECABINET.': 'cabinet',
    '.SHELF.': 'shelving',
    '.SOFA.': 'seating',
    '.PANEL.': 'screen',
    '.SUBRACK.': 'shelving',
  };
  return kinds[predefined];
}

const PIECE_KINDS: Readonly<Partial<Record<NamedKind, DrawnPiece['kind']>>> = {
  desk: 'desk',
  shelving: 'shelving',
  cabinet: 'cabinet',
  screen: 'screen',
  partition: 'partition',
  column: 'column',
};

/** Pieces of a thing: one per height when it is made of bodies of different heights, such as a desk with a screen on it. */
export function toPieces(
  scope: StoreyScope,
  placed: Placed,
  isGlass: boolean,
  kind?: DrawnPiece['kind'],
): DrawnPiece[] {
  const { thing } = placed;
  const own = kind ?? PIECE_KINDS[placed.kind] ?? 'other';
  const layers = splitByHeight(thing.bodies, placed.solid);
  const pieces: DrawnPiece[] = [];
  for (const layer of layers) {
    const [base, top] = [scope.toHeight(layer.base), scope.toHeight(layer.top)];
    const layerKind = layers.length > 1 && kind === undefined ? kindOfLayer(own, layer, base, top) : own;
    for (const region of settleOutline(layer.regions)) {
      for (const ring of cutHoles(region)) {
        const suffix = pieces.length === 0 ? '' : `/${pieces.length + 1}`;
        pieces.push({
          key: `${thing.key}${suffix}`,
          kind: layerKind,
          name: thing.name,
          outline: scope.toRing(ring),
          base: Math.max(0, base),
          top,
          glass: isGlass,
          standing: placed.standing,
        });
      }
    }
  }
  return pieces.filter(({ top, base }) => top !== null && top > (base ?? 0));
}

/** A part of a thing that is much higher than a desk is no desk. */
function kindOfLayer(own: DrawnPiece['kind'], layer: Solid, base: number, top: number): DrawnPiece['kind'] {
  if (own !== 'desk') return own;
  if (top <= SIZES.desk.top[1] || base >= SIZES.overhead) return top <= SIZES.desk.top[1] ? 'desk' : 'cabinet';
  const [, width] = sizeOf(layer.regions);
  return width <= SIZES.screen.thickest ? 'screen' : 'cabinet';
}

function splitByHeight(bodies: readonly Body[], whole: Solid): readonly Solid[] {
  if (bodies.length < 2 || bodies.length > 400 || whole.top - whole.base < STEP) return [whole];
  const solids = bodies.map((body) => toSolid([body])).map((solid, i) => ({ solid, body: bodies[i] as Body }));
  const known = solids.filter((item): item is { solid: Solid; body: Body } => item.solid !== undefined);
  known.sort((a, b) => a.solid.top - b.solid.top);
  const groups: { top: number; bodies: Body[] }[] = [];
  for (const { solid, body } of known) {
    const last = groups[groups.length - 1];
    if (last !== undefined && solid.top - last.top < STEP) {
      last.bodies.push(body);
      last.top = solid.top;
    } else groups.push({ top: solid.top, bodies: [body] });
  }
  if (groups.length < 2 || groups.length > 6) return [whole];
  const layers = groups.map((group) => toSolid(group.bodies)).filter((solid) => solid !== undefined);
  // A frame of legs under a top, or drawers in a cabinet, is hidden by the top: only what stands out of the tallest counts.
  const kept = layers.filter((layer, i) => !layers.slice(i + 1).some((higher) => isCoveredBy(layer, higher)));
  return kept.length > 1 ? kept : [whole];
}

/** Whether an outline lies within a higher one's that starts no higher than its top: together they are one block. */
function isCoveredBy(low: Solid, high: Solid): boolean {
  if (high.base > low.top + STEP) return false;
  return low.regions.every(({ outer }) =>
    outer.every(([x, y]) =>
      high.regions.some((region) => isInRing(region.outer, x, y) || computeRingDistance(region.outer, x, y) < 0.02),
    ),
  );
}

/** A workplace for a chair at a desk, facing it; undefined, and the account told, for other chairs. */
export function toWorkplace(
  scope: StoreyScope,
  placed: Placed,
  desks: readonly PlanRing[],
): DrawnWorkplace | undefined {
  const at = middleOf(placed.solid.regions);
  const [x, y] = at;
  let nearest: PlanRing | undefined;
  let distance = AT_DESK;
  for (const desk of desks) {
    const away = isInRing(desk, x, y) ? 0 : computeRingDistance(desk, x, y);
    if (away < distance) {
      distance = away;
      nearest = desk;
    }
  }
  const place = placeOf(scope, placed.thing, placed.solid);
  if (nearest === undefined) {
    scope.account.note('left out', 'chairs', 'They stand at no desk or table.', place);
    return undefined;
  }
  return {
    key: placed.thing.key,
    name: placed.thing.name,
    at: scope.toPoint(at),
    facing: facingOf(nearest, at),
    standing: 'guessed',
  };
}

/** Degrees counter-clockwise from +x, square to the nearest edge, or towards the middle for a chair under the desk. */
function facingOf(desk: PlanRing, [x, y]: PlanPoint): number {
  let to = middleOf([{ outer: desk, holes: [] }]);
  if (!isInRing(desk, x, y)) {
    let least = Number.POSITIVE_INFINITY;
    desk.forEach((a, i) => {
      const b = desk[(i + 1) % desk.length] as PlanPoint;
      const distance = computeSegmentDistance(a, b, x, y);
      if (distance >= least) return;
      least = distance;
      const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
      const t = Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy || 1)));
      to = [a[0] + dx * t, a[1] + dy * t];
    });
  }
  const degrees = (Math.atan2(to[1] - y, to[0] - x) * 180) / Math.PI;
  return Math.round(((degrees + 360) % 360) * 10) / 10;
}
