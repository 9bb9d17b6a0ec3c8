/** Loose lines joined end to end into closed outlines. Metres. */
import type { Item } from './sorted.ts';

/** An outline, and the items it was made of. */
export interface Loop {
  readonly key: string;
  readonly points: readonly number[];
  readonly items: readonly Item[];
}

/** Most pieces of one loop. */
const MOST_PIECES = 2000;

/**
 * Closed paths as they are, and open ones joined where exactly two ends meet within `gap`. What stays open is given back
 * as `rest`.
 */
export function closeLoops(
  items: readonly Item[],
  gap: number,
): { readonly loops: readonly Loop[]; readonly rest: readonly Item[] } {
  const loops: Loop[] = [];
  const open: Item[] = [];
  for (const item of items) {
    const { points } = item;
    if (points.length < 4) continue;
    const meets = points.length > 4 && endsMeet(points, gap);
    if (item.closed || meets)
      loops.push({ key: item.key, points: meets && !item.closed ? points.slice(0, -2) : points, items: [item] });
    else open.push(item);
  }
  const ends = new EndTable(open, gap);
  const used = new Set<number>();
  for (const [i] of open.entries()) {
    if (used.has(i)) continue;
    const chain = ends.follow(i, used);
    if (chain === null) continue;
    for (const { index } of chain.pieces) used.add(index);
    loops.push({
      key: (open[i] as Item).key,
      points: chain.points,
      items: chain.pieces.map(({ index }) => open[index] as Item),
    });
  }
  return { loops, rest: open.filter((_, i) => !used.has(i)) };
}

function endsMeet(points: readonly number[], gap: number): boolean {
  const last = points.length - 2;
  return (
    Math.hypot(
      (points[0] as number) - (points[last] as number),
      (points[1] as number) - (points[last + 1] as number),
    ) <= gap
  );
}

interface End {
  readonly index: number;
  /** The item's first point, else its last. */
  readonly first: boolean;
  readonly x: number;
  readonly y: number;
}

class EndTable {
  private readonly cells = new Map<string, End[]>();
  private readonly items: readonly Item[];
  private readonly gap: number;

  constructor(items: readonly Item[], gap: number) {
    this.items = items;
    this.gap = Math.max(gap, 0.001);
    for (const [index, { points }] of items.entries()) {
      for (const first of [true, false]) {
        const at = first ? 0 : points.length - 2;
        const end = { index, first, x: points[at] as number, y: points[at + 1] as number };
        const key = this.keyAt(end.x, end.y, 0, 0);
        const list = this.cells.get(key);
        if (list === undefined) this.cells.set(key, [end]);
        else list.push(end);
      }
    }
  }

  private keyAt(x: number, y: number, dx: number, dy: number): string {
    return `${Math.floor(x / this.gap) + dx},${Math.floor(y / this.gap) + dy}`;
  }

  /** The only other end at a place, or null where there is none, or a choice. */
  private partnerOf(x: number, y: number, index: number): End | null {
    let found: End | null = null;
    for (const dx of [-1, 0, 1]) {
      for (const dy of [-1, 0, 1]) {
        for (const end of this.cells.get(this.keyAt(x, y, dx, dy)) ?? []) {
          if (end.index === index || Math.hypot(end.x - x, end.y - y) > this.gap) continue;
          if (found !== null) return null;
          found = end;
        }
      }
    }
    return found;
  }

  /** Goes from an item's last point on from end to end until the chain closes; null where it does not. */
  follow(start: number, used: ReadonlySet<number>): { points: number[]; pieces: End[] } | null {
    const first = this.items[start] as Item;
    const points = [...first.points];
    const pieces: End[] = [{ index: start, first: true, x: points[0] as number, y: points[1] as number }];
    const seen = new Set([start]);
    while (pieces.length < MOST_PIECES) {
      const at = pieces.at(-1) as End;
      const end = this.partnerOf(points.at(-2) as number, points.at(-1) as number, at.index);
      if (end === null) return null;
      if (end.index === start) {
        if (!end.first || pieces.length < 3) return null;
        points.length -= 2;
        return { points, pieces };
      }
      if (seen.has(end.index) || used.has(end.index)) return null;
      seen.add(end.index);
      pieces.push(end);
      const next = (this.items[end.index] as Item).points;
      if (end.first) for (let i = 2; i < next.length; i++) points.push(next[i] as number);
      else for (let i = next.length - 4; i >= 0; i -= 2) points.push(next[i] as number, next[i + 1] as number);
    }
    return null;
  }
}
