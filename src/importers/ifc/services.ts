/** Luminaires, sources of heat and moving air, and what hangs below the ceiling. */
import type { PlanPoint } from '../../core/geometry/polygon.ts';
import type { DrawnLuminaire, DrawnPiece, DrawnSource } from '../storey.ts';
import { sizeOf } from './furniture.ts';
import { cutHoles, settleOutline } from './regions.ts';
import type { Solid } from './shapes.ts';
import { middleOf, placeOf, type StoreyScope } from './storey-scope.ts';
import type { Thing } from './things.ts';

/** What begins this high (metres) over the floor hangs. */
const HANGING = 1.2;
/** Slack for things flush with the ceiling, metres. */
const FLUSH = 0.005;
/** What hangs and is nowhere thicker than this in plan (metres) hides nobody: pipes, rods, cables. */
const THIN = 0.05;

/** Whether a thing lies above the ceiling (or above this storey); the account is told. */
function isAbove(scope: StoreyScope, thing: Thing, solid: Solid, what: string): boolean {
  const ceiling = scope.ceilingAt(middleOf(solid.regions));
  const base = scope.toHeight(solid.base);
  if (ceiling === undefined || base < ceiling - FLUSH) return false;
  scope.account.note('left out', what, 'They lie at or above the ceiling.', placeOf(scope, thing, solid));
  return true;
}

function isBelow(scope: StoreyScope, thing: Thing, solid: Solid, what: string): boolean {
  if (scope.toHeight(solid.top) > 0.02) return false;
  scope.account.note('left out', what, 'They lie in or below the floor.', placeOf(scope, thing, solid));
  return true;
}

/** Beams, ducts, pipes and trays: pieces that hang below the ceiling, or stand like columns when they come down to the floor. */
export function toHanging(scope: StoreyScope, thing: Thing, solid: Solid, what: string): DrawnPiece[] {
  if (isAbove(scope, thing, solid, what) || isBelow(scope, thing, solid, what)) return [];
  const [base, top] = [scope.toHeight(solid.base), scope.toHeight(solid.top)];
  const [, width] = sizeOf(solid.regions);
  if (width < THIN) {
    scope.account.note('left out', what, 'Thinner than 5 cm: too small to hide anybody.', placeOf(scope, thing, solid));
    return [];
  }
  const kind = base >= HANGING ? 'hanging' : 'other';
  return settleOutline(solid.regions)
    .flatMap((region) => cutHoles(region))
    .map((ring, i) => ({
      key: i === 0 ? thing.key : `${thing.key}/${i + 1}`,
      kind,
      name: thing.name,
      outline: scope.toRing(ring),
      base: Math.max(0, base),
      top,
      glass: false,
      standing: 'read',
    }));
}

/** A luminaire by the narrowest box around it; those flush with the ceiling are kept, they are what is switched. */
export function toLuminaire(scope: StoreyScope, thing: Thing, solid: Solid): DrawnLuminaire | undefined {
  if (isBelow(scope, thing, solid, 'luminaires')) return undefined;
  const middle = middleOf(solid.regions);
  const ceiling = scope.ceilingAt(middle);
  let [base, top] = [scope.toHeight(solid.base), scope.toHeight(solid.top)];
  if (ceiling !== undefined && base >= ceiling - FLUSH) {
    if (base > ceiling + 0.3) {
      scope.account.note('left out', 'luminaires', 'They lie above the ceiling.', placeOf(scope, thing, solid));
      return undefined;
    }
    // Recessed: only its lower edge counts below the ceiling.
    scope.account.note(
      'guessed',
      'luminaires',
      'They are let into the ceiling: taken as lying flat in it.',
      placeOf(scope, thing, solid),
    );
    top = ceiling;
    base = ceiling - 0.01;
  }
  const [length, width] = sizeOf(solid.regions);
  return {
    key: thing.key,
    name: thing.name,
    at: scope.toPoint(middle),
    size: [Math.max(0.01, length), Math.max(0.01, width)],
    turn: turnOf(solid),
    base: Math.max(0, base),
    top,
  };
}

/** Degrees counter-clockwise from +x to the longest edge, 0 up to 180. */
function turnOf(solid: Solid): number {
  let longest = 0;
  let turn = 0;
  for (const { outer } of solid.regions) {
    outer.forEach(([x, y], i) => {
      const [a, b] = outer[(i + 1) % outer.length] as PlanPoint;
      const size = Math.hypot(a - x, b - y);
      if (size <= longest + 1e-6) return;
      longest = size;
      turn = (Math.atan2(b - y, a - x) * 180) / Math.PI;
    });
  }
  const half = ((turn % 180) + 180) % 180;
  return Math.round(half * 1000) / 1000 === 180 ? 0 : Math.round(half * 1000) / 1000;
}

/** Something warm or moving, by the middle of its outline and half its length. */
export function toSource(
  scope: StoreyScope,
  thing: Thing,
  solid: Solid,
  kind: DrawnSource['kind'],
): DrawnSource | undefined {
  const what = `${kind}s`;
  if (isBelow(scope, thing, solid, what)) return undefined;
  const middle = middleOf(solid.regions);
  const ceiling = scope.ceilingAt(middle);
  let [base, top] = [scope.toHeight(solid.base), scope.toHeight(solid.top)];
  if (ceiling !== undefined && base >= ceiling - FLUSH) {
    if (kind !== 'air outlet' || base > ceiling + 0.3) {
      scope.account.note('left out', what, 'They lie above the ceiling.', placeOf(scope, thing, solid));
      return undefined;
    }
    top = ceiling;
    base = ceiling - 0.01;
  }
  const [length] = sizeOf(solid.regions);
  return {
    key: thing.key,
    name: thing.name,
    kind,
    at: scope.toPoint(middle),
    radius: Math.max(0.01, Math.round((length / 2) * 1e4) / 1e4),
    base: Math.max(0, base),
    top,
  };
}
