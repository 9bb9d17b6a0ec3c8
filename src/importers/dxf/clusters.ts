/** Paths that lie together: what belongs to one window, one desk, one door. */
import type { Item } from './sorted.ts';

/** A path longer than this takes part in no group; it runs by many. Metres. */
const LONGEST = 15;
/** Of so many paths in one place only the last are compared, so that a heap of them takes no time without end. */
const MOST_OPEN = 400;

/** Groups of items whose boxes come within `gap` metres of each other, in the order of their first items. */
export function groupNear(items: readonly Item[], gap: number): readonly (readonly Item[])[] {
  const boxes = items.map(({ points }) => {
    let [minX, minY, maxX, maxY] = [
      Number.POSITIVE_INFINITY,
      Number.POSITIVE_INFINITY,
      Number.NEGATIVE_INFINITY,
      Number.NEGATIVE_INFINITY,
    ];
    for (let i = 0; i < points.length; i += 2) {
      minX = Math.min(minX, points[i] as number);
      maxX = Math.max(maxX, points[i] as number);
      minY = Math.min(minY, points[i + 1] as number);
      maxY = Math.max(maxY, points[i + 1] as number);
    }
    return { minX: minX - gap / 2, minY: minY - gap / 2, maxX: maxX + gap / 2, maxY: maxY + gap / 2 };
  });
  const leader = items.map((_, i) => i);
  const find = (i: number): number => {
    let at = i;
    while (leader[at] !== at) {
      leader[at] = leader[leader[at] as number] as number;
      at = leader[at] as number;
    }
    return at;
  };
  // From left to right; open are those that still reach the line the sweep has come to.
  const order = items
    .map((_, i) => i)
    .filter((i) => {
      const box = boxes[i];
      return box !== undefined && box.maxX - box.minX < LONGEST && box.maxY - box.minY < LONGEST;
    });
  order.sort((a, b) => (boxes[a]?.minX ?? 0) - (boxes[b]?.minX ?? 0));
  // In rows of this height, so that a sweep over a wide drawing compares near things only.
  const rows = new Map<number, number[]>();
  for (const i of order) {
    const box = boxes[i];
    if (box === undefined) continue;
    for (let row = Math.floor(box.minY / LONGEST); row <= Math.floor(box.maxY / LONGEST); row++) {
      const open = (rows.get(row) ?? []).filter((j) => (boxes[j]?.maxX ?? 0) >= box.minX).slice(-MOST_OPEN);
      for (const j of open) {
        const other = boxes[j];
        if (other !== undefined && other.minY <= box.maxY && other.maxY >= box.minY)
          leader[Math.max(find(i), find(j))] = Math.min(find(i), find(j));
      }
      open.push(i);
      rows.set(row, open);
    }
  }
  const groups = new Map<number, Item[]>();
  for (const [i, item] of items.entries()) {
    const key = find(i);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [item]);
    else group.push(item);
  }
  return [...groups.values()];
}
