/** Straight pieces of line in a grid of squares, to be asked what lies near a place. Metres. */

export interface Segment {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

export interface SegmentIndex {
  /** Calls for every segment whose box comes within `reach` of a point; some farther ones may be among them. */
  near(x: number, y: number, reach: number, visit: (segment: Segment) => void): void;
}

/** Squares of a metre: doors and walls ask within one or two. */
const SQUARE = 1;
/** A segment in more squares than this is kept apart and looked at every time. */
const MOST_SQUARES = 4000;
/** Of a heap of segments in one place so many are told, so that asking takes no time without end. */
const MOST_NEAR = 2000;

export function indexSegments(segments: readonly Segment[]): SegmentIndex {
  const squares = new Map<number, Segment[]>();
  const long: Segment[] = [];
  // ±5 km in squares of 1 m: the two numbers fit into one.
  const keyOf = (column: number, row: number): number => (column + 32768) * 65536 + (row + 32768);
  for (const segment of segments) {
    const { x0, y0, x1, y1 } = segment;
    const [left, right] = [Math.floor(Math.min(x0, x1) / SQUARE), Math.floor(Math.max(x0, x1) / SQUARE)];
    const [low, high] = [Math.floor(Math.min(y0, y1) / SQUARE), Math.floor(Math.max(y0, y1) / SQUARE)];
    if ((right - left + 1) * (high - low + 1) > MOST_SQUARES) {
      long.push(segment);
      continue;
    }
    for (let column = left; column <= right; column++) {
      for (let row = low; row <= high; row++) {
        const key = keyOf(column, row);
        const list = squares.get(key);
        if (list === undefined) squares.set(key, [segment]);
        else list.push(segment);
      }
    }
  }
  return {
    near(x, y, reach, visit) {
      const seen = new Set<Segment>();
      let told = 0;
      for (const segment of long.length > MOST_NEAR ? long.slice(0, MOST_NEAR) : long) visit(segment);
      for (let column = Math.floor((x - reach) / SQUARE); column <= Math.floor((x + reach) / SQUARE); column++) {
        for (let row = Math.floor((y - reach) / SQUARE); row <= Math.floor((y + reach) / SQUARE); row++) {
          for (const segment of squares.get(keyOf(column, row)) ?? []) {
            if (seen.has(segment)) continue;
            if (++told > MOST_NEAR) return;
            seen.add(segment);
            visit(segment);
          }
        }
      }
    },
  };
}

/** The straight pieces of a path. */
export function segmentsOf(points: readonly number[], closed: boolean): Segment[] {
  const segments: Segment[] = [];
  const count = points.length / 2;
  for (let i = 0; i < (closed ? count : count - 1); i++) {
    const j = (i + 1) % count;
    const segment = {
      x0: points[2 * i] as number,
      y0: points[2 * i + 1] as number,
      x1: points[2 * j] as number,
      y1: points[2 * j + 1] as number,
    };
    if (segment.x0 !== segment.x1 || segment.y0 !== segment.y1) segments.push(segment);
  }
  return segments;
}
