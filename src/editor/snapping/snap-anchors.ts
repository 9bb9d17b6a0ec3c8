/** Snapping for what has more than one place to snap by: a piece comes to rest by its corners or by its middle. */
import type { Floor, Point } from '../../core/floor/index.ts';
import { add, distance, finePoint, subtract } from '../edits/plane.ts';
import { snapPoint } from '../snapping.ts';
import { SNAP_KINDS, type Snap, type SnapRequest, type SnapSettings } from './snap-kinds.ts';

/** More anchors than this are not tried: the first ones count. */
const MOST = 9;

/**
 * Finds where a thing comes to rest whose hand is at `request.at`.
 * @param anchors places it can rest by, as offsets from the hand
 * @returns the snap of the anchor that counts most, then moves it least; `at` is the hand's place
 */
export function snapByAnchors(
  floor: Floor,
  settings: SnapSettings,
  request: SnapRequest,
  anchors: readonly Point[],
): Snap {
  const free = snapPoint(floor, settings, request);
  let best: Snap | null = null;
  let bestRank = Infinity;
  let least = Infinity;
  for (const anchor of [[0, 0] as Point, ...anchors.slice(0, MOST)]) {
    const from = add(request.at, anchor);
    const snap =
      anchor[0] === 0 && anchor[1] === 0
        ? free
        : snapPoint(floor, settings, { ...request, at: from, tiles: undefined });
    if (snap.kind === null || snap.kind === 'grid') continue;
    const rank = SNAP_KINDS.indexOf(snap.kind);
    const far = distance(snap.at, from);
    if (rank > bestRank || (rank === bestRank && far >= least - 1e-9)) continue;
    bestRank = rank;
    least = far;
    best = { ...snap, at: finePoint(subtract(snap.at, anchor)) };
  }
  return best ?? free;
}
