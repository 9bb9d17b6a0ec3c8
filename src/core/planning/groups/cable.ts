/**
 * The cable between the detectors of a group: right-angled legs from lens to lens above the ceiling, as the shortest
 * tree that needs no joint between two detectors. A tree with free joints (Steiner) would be shorter by a third at
 * most, and would put joints where nobody reaches them; it is not offered. Metres throughout.
 */

import { tidy } from '../../coverage/measure.ts';
import type { DetectorId, Point } from '../../floor/index.ts';

export interface CableOptions {
  /** From the ceiling up to where the cable runs. The file does not say it. */
  readonly voidM: number;
  /** Left hanging at each end of a leg for the connection. */
  readonly tailM: number;
  /** Share added to everything. */
  readonly reserve: number;
}

/** Own choice for the void; tail and reserve are common practice, no source. */
export const CABLE_DEFAULTS: CableOptions = { voidM: 0.3, tailM: 0.5, reserve: 0.1 };

/** Somewhere a cable goes to. */
export interface CableEnd {
  readonly id: DetectorId;
  readonly at: Point;
}

export interface CableLeg {
  readonly from: DetectorId;
  readonly to: DetectorId;
  /** Along both axes, above the ceiling. */
  readonly planM: number;
  /** Down and up again at both ends. */
  readonly dropM: number;
  /** With the reserve. */
  readonly totalM: number;
  /** Two places, or three with a corner between. */
  readonly route: readonly Point[];
}

export interface CablePlan {
  /** From the main on, in the order in which the next detector is reached. */
  readonly legs: readonly CableLeg[];
  readonly planM: number;
  readonly dropM: number;
  /** Of all legs, with the reserve: what a type's limit is held against. */
  readonly totalM: number;
  readonly options: CableOptions;
}

/**
 * Lays the cable of a group. The tree is the shortest of all that join the detectors by right-angled legs (Prim from
 * the main); of equal legs the one to the detector named first. O(n²).
 * @param isInside may a corner lie there? Of the two corners of a leg one inside is taken; both alike: along x first
 */
export function layCable(
  main: CableEnd,
  extensions: readonly CableEnd[],
  isInside: (at: Point) => boolean = () => true,
  options: CableOptions = CABLE_DEFAULTS,
): CablePlan {
  const ends = [main, ...extensions];
  const reached = ends.map((_, index) => index === 0);
  const nearest = ends.map((end) => ({ from: 0, length: legLength(main.at, end.at) }));
  const legs: CableLeg[] = [];
  for (let step = 1; step < ends.length; step++) {
    let next = -1;
    for (let k = 1; k < ends.length; k++) {
      if (!reached[k] && (next < 0 || nearest[k]!.length < nearest[next]!.length - 1e-9)) next = k;
    }
    reached[next] = true;
    legs.push(layLeg(ends[nearest[next]!.from]!, ends[next]!, isInside, options));
    for (let k = 1; k < ends.length; k++) {
      const length = legLength(ends[next]!.at, ends[k]!.at);
      if (!reached[k] && length < nearest[k]!.length - 1e-9) nearest[k] = { from: next, length };
    }
  }
  const sum = (read: (leg: CableLeg) => number) => tidy(legs.reduce((total, leg) => total + read(leg), 0));
  const planM = sum((leg) => leg.planM);
  const dropM = sum((leg) => leg.dropM);
  return { legs, planM, dropM, totalM: tidy((planM + dropM) * (1 + options.reserve)), options };
}

/** Metres between two places along both axes. */
export function legLength(a: Point, b: Point): number {
  return Math.abs(b[0] - a[0]) + Math.abs(b[1] - a[1]);
}

function layLeg(from: CableEnd, to: CableEnd, isInside: (at: Point) => boolean, options: CableOptions): CableLeg {
  const planM = tidy(legLength(from.at, to.at));
  const dropM = tidy(2 * (options.voidM + options.tailM));
  return {
    from: from.id,
    to: to.id,
    planM,
    dropM,
    totalM: tidy((planM + dropM) * (1 + options.reserve)),
    route: findRoute(from.at, to.at, isInside),
  };
}

function findRoute(a: Point, b: Point, isInside: (at: Point) => boolean): readonly Point[] {
  if (a[0] === b[0] || a[1] === b[1]) return [a, b];
  const alongX: Point = [b[0], a[1]];
  const alongY: Point = [a[0], b[1]];
  return [a, !isInside(alongX) && isInside(alongY) ? alongY : alongX, b];
}

/** What the lengths rest on, in words. */
export function describeCable({ voidM, tailM, reserve }: CableOptions): string {
  return `Legs run right-angled above the ceiling from lens to lens, without joints between. Each leg goes down at both ends: 2 × (${voidM} m of ceiling void, own choice, + ${tailM} m of tail); ${Math.round(reserve * 100)} % is added (common practice, no source).`;
}
