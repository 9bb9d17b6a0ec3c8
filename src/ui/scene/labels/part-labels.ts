/**
 * Words that would lie on one another: the less important ones stand to another side of their thing, or come only when
 * one is near enough for both. Places are pinned in metres and words have their size in px, so the scales at which two
 * of them meet are one stretch that can be worked out at once; nothing is done while one pans or zooms.
 */
import type { LabelPlace } from './label-batch.ts';

/** Words to be parted: where they are pinned, and their size in CSS px. */
export interface SizedLabel {
  readonly place: LabelPlace;
  readonly width: number;
  readonly height: number;
}

/** What no words should lie on: a sign of a size in px about a place. */
export interface Sign {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

/** Px the casing of a label may lie on another. */
const SLACK = 3;
/** Words that must be zoomed to more than this px per metre are not written. */
const NEAREST = 400;
/** More words than these are left as they are. */
const MOST = 6_000;

/** A box of a size in px, its middle so many px from a place in metres, seen from a scale on. */
interface Box {
  readonly x: number;
  readonly y: number;
  readonly dx: number;
  readonly dy: number;
  readonly halfWidth: number;
  readonly halfHeight: number;
  readonly from: number;
}

/**
 * Where labels are written so that none lies on one before it in the list, or on a sign.
 * @param labels the most important first
 * @returns a place for each, in the same order
 */
export function partLabels(labels: readonly SizedLabel[], signs: readonly Sign[]): readonly LabelPlace[] {
  if (labels.length > MOST) return labels.map(({ place }) => place);
  const far = Math.min(...labels.map(({ place }) => place.from), NEAREST);
  const taken = new Taken(Math.max(...labels.map(({ width, height }) => Math.max(width, height)), 1));
  for (const { x, y, radius } of signs)
    taken.add({ x, y, dx: 0, dy: 0, halfWidth: radius, halfHeight: radius, from: far });
  return labels.map((label) => {
    let best: LabelPlace | null = null;
    for (const place of listSides(label.place)) {
      const box = boxOf({ ...label, place });
      const from = taken.clearFrom(box);
      if (best === null || from < best.from) best = { ...place, from };
      if (from <= label.place.from) break;
    }
    const chosen = best ?? label.place;
    if (chosen.from > NEAREST) return { ...chosen, from: Number.MAX_VALUE };
    taken.add({ ...boxOf({ ...label, place: chosen }), from: chosen.from });
    return chosen;
  });
}

/** Words beside a sign may stand on any side of it; those in the middle of their thing stay there. */
function listSides(place: LabelPlace): readonly LabelPlace[] {
  const { dx, dy, anchorX, anchorY } = place;
  if (dx === 0 || anchorX === 0.5 || anchorY !== 0.5) return [place];
  const left = { ...place, dx: -dx, anchorX: 1 - anchorX };
  if (dy === 0) return [place, left];
  return [place, left, { ...place, dy: -dy }, { ...left, dy: -dy }];
}

function boxOf({ place, width, height }: SizedLabel): Box {
  const { x, y, dx, dy, anchorX, anchorY, turn, from } = place;
  const [c, s] = [Math.abs(Math.cos(turn)), Math.abs(Math.sin(turn))];
  return {
    x,
    y,
    dx: dx + (0.5 - anchorX) * width,
    dy: dy + (0.5 - anchorY) * height,
    halfWidth: (c * width + s * height) / 2 - SLACK,
    halfHeight: (s * width + c * height) / 2 - SLACK,
    from,
  };
}

/** Boxes that stand: by the octave of the scale they are seen from, and in each by squares of the floor. */
class Taken {
  private readonly octaves = new Map<number, Map<number, Box[]>>();
  private readonly widest: number;

  constructor(widest: number) {
    this.widest = widest;
  }

  add(box: Box): void {
    const octave = octaveOf(box.from);
    const size = this.widest / 2 ** octave;
    const squares = this.octaves.get(octave) ?? new Map<number, Box[]>();
    this.octaves.set(octave, squares);
    const key = keyOf(Math.floor(box.x / size), Math.floor(box.y / size));
    const list = squares.get(key);
    if (list === undefined) squares.set(key, [box]);
    else list.push(box);
  }

  /** The least scale from which a box lies on none that stands there, at every nearer one too. */
  clearFrom(box: Box): number {
    let from = box.from;
    for (const [octave, squares] of this.octaves) {
      const size = this.widest / 2 ** octave;
      const reach = (2 * this.widest) / Math.max(2 ** octave, box.from);
      const low = [Math.floor((box.x - reach) / size), Math.floor((box.y - reach) / size)] as const;
      const high = [Math.floor((box.x + reach) / size), Math.floor((box.y + reach) / size)] as const;
      for (let i = low[0]; i <= high[0]; i++)
        for (let j = low[1]; j <= high[1]; j++)
          for (const other of squares.get(keyOf(i, j)) ?? []) from = Math.max(from, leastClear(box, other));
    }
    return from;
  }
}

/** One number for a square: floors are far less than 2²⁰ squares wide. */
function keyOf(i: number, j: number): number {
  return (i + 2 ** 20) * 2 ** 21 + j + 2 ** 20;
}

function octaveOf(scale: number): number {
  return Math.floor(Math.log2(Math.max(1, scale)));
}

/** The scale from which two boxes no longer meet; 0 when they never do while both are seen. */
function leastClear(a: Box, b: Box): number {
  const [x0, x1] = meets(a.x - b.x, a.dx - b.dx, a.halfWidth + b.halfWidth);
  const [y0, y1] = meets(a.y - b.y, a.dy - b.dy, a.halfHeight + b.halfHeight);
  const low = Math.max(x0, y0);
  const high = Math.min(x1, y1);
  return low < high && high > Math.max(a.from, b.from) ? high : 0;
}

/** The scales at which |metres · scale + px| is less than a distance. */
function meets(metres: number, px: number, distance: number): readonly [number, number] {
  if (Math.abs(metres) < 1e-9)
    return Math.abs(px) < distance ? [0, Number.POSITIVE_INFINITY] : [Number.POSITIVE_INFINITY, 0];
  const ends = [(-distance - px) / metres, (distance - px) / metres];
  return [Math.max(0, Math.min(...ends)), Math.max(...ends)];
}
