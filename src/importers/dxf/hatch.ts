/** The outlines of a hatch. */
import { bulgeArc, ellipsePoints, pushArc, splinePoints } from './curves.ts';
import type { Fields } from './fields.ts';

const DEGREE = Math.PI / 180;

/** Every boundary of a hatch as a closed flat list of x, y in the hatch's own plane. Boundaries of text are left away. */
export function hatchPaths(f: Fields): readonly number[][] {
  const cursor = new Cursor(f);
  const paths: number[][] = [];
  while (cursor.seek(92, 75)) {
    const flags = cursor.value;
    const points = (flags & 2) === 2 ? polylinePath(cursor) : edgePath(cursor);
    const isText = (flags & 8) === 8;
    if (!isText && points.length >= 6) paths.push(points);
  }
  return paths;
}

/** Goes through the groups in their order. */
class Cursor {
  value = 0;
  private at = 0;
  private readonly f: Fields;
  constructor(f: Fields) {
    this.f = f;
  }

  /** Goes behind the next group of a code; stops before one of `until`. */
  seek(code: number, until: number): boolean {
    const { f } = this;
    for (let i = this.at; i < f.count; i++) {
      if (f.codes[i] === until) return false;
      if (f.codes[i] !== code) continue;
      this.value = f.values[i] as number;
      this.at = i + 1;
      return true;
    }
    return false;
  }

  /** The value of the next group when it has this code, and on; else `otherwise`, and no step. */
  read(code: number, otherwise = Number.NaN): number {
    if (this.at >= this.f.count || this.f.codes[this.at] !== code) return otherwise;
    return this.f.values[this.at++] as number;
  }
}

function polylinePath(cursor: Cursor): number[] {
  const points: number[] = [];
  const bulges: number[] = [];
  cursor.read(72);
  cursor.read(73);
  const count = cursor.read(93, 0);
  for (let i = 0; i < count; i++) {
    const x = cursor.read(10);
    const y = cursor.read(20);
    if (!Number.isFinite(x) || !Number.isFinite(y)) break;
    points.push(x, y);
    bulges.push(cursor.read(42, 0));
  }
  if (bulges.every((bulge) => bulge === 0)) return points;
  const rounded: number[] = [];
  for (const [i, bulge] of bulges.entries()) {
    const [x, y] = [points[2 * i] as number, points[2 * i + 1] as number];
    const next = 2 * ((i + 1) % bulges.length);
    rounded.push(x, y);
    const arc = bulgeArc(x, y, points[next] as number, points[next + 1] as number, bulge);
    if (arc === null) continue;
    pushArc(rounded, arc.cx, arc.cy, arc.radius, arc.from, arc.sweep, false);
    rounded.length -= 2;
  }
  return rounded;
}

function edgePath(cursor: Cursor): number[] {
  const path: number[] = [];
  const count = cursor.read(93, 0);
  for (let i = 0; i < count; i++) {
    const edge = readEdge(cursor, cursor.read(72));
    if (edge === null) break;
    // Edges may be written against their order; the one that begins where the last ended goes forward.
    const isBackward = path.length > 0 && distance(path, -2, edge, -2) < distance(path, -2, edge, 0);
    const points = isBackward ? reversed(edge) : edge;
    path.push(...(path.length > 0 ? points.slice(2) : points));
  }
  if (path.length > 2 && distance(path, -2, path, 0) === 0) path.length -= 2;
  return path;
}

function distance(a: readonly number[], i: number, b: readonly number[], j: number): number {
  return Math.hypot((a.at(i) ?? 0) - (b.at(j) ?? 0), (a.at(i + 1) ?? 0) - (b.at(j + 1) ?? 0));
}

function reversed(points: readonly number[]): number[] {
  const back: number[] = [];
  for (let i = points.length - 2; i >= 0; i -= 2) back.push(points[i] as number, points[i + 1] as number);
  return back;
}

function readEdge(cursor: Cursor, kind: number): number[] | null {
  const x = (code: number): number => cursor.read(code);
  if (kind === 1) return sound([x(10), x(20), x(11), x(21)]);
  if (kind === 2) {
    const [cx, cy, radius, start, end] = [x(10), x(20), x(40), x(50) * DEGREE, x(51) * DEGREE];
    const { from, sweep } = sweepOfEdge(start, end, cursor.read(73, 1) !== 0);
    const points: number[] = [];
    if (!Number.isFinite(sweep)) return null;
    pushArc(points, cx, cy, radius, from, sweep, true);
    return sound(points);
  }
  if (kind === 3) {
    const [cx, cy, ax, ay, ratio] = [x(10), x(20), x(11), x(21), x(40)];
    const [start, end] = [x(50) * DEGREE, x(51) * DEGREE];
    const { from, sweep } = sweepOfEdge(start, end, cursor.read(73, 1) !== 0);
    if (!Number.isFinite(sweep)) return null;
    return sound(ellipsePoints(cx, cy, ax, ay, -ay * ratio, ax * ratio, from, sweep));
  }
  return kind === 4 ? splineEdge(cursor) : null;
}

/** A clockwise edge states its angles mirrored. */
function sweepOfEdge(start: number, end: number, forward: boolean): { from: number; sweep: number } {
  let sweep = end - start;
  if (!Number.isFinite(sweep)) return { from: 0, sweep: Number.NaN };
  sweep %= 2 * Math.PI;
  if (sweep <= 1e-9) sweep += 2 * Math.PI;
  return forward ? { from: start, sweep } : { from: -start, sweep: -sweep };
}

function splineEdge(cursor: Cursor): number[] | null {
  const degree = cursor.read(94);
  cursor.read(73);
  cursor.read(74);
  const knotCount = cursor.read(95, 0);
  const pointCount = cursor.read(96, 0);
  const knots: number[] = [];
  const controls: number[] = [];
  const weights: number[] = [];
  for (let i = 0; i < knotCount; i++) {
    const knot = cursor.read(40);
    if (Number.isNaN(knot)) return null;
    knots.push(knot);
  }
  for (let i = 0; i < pointCount; i++) {
    const [px, py] = [cursor.read(10), cursor.read(20)];
    if (Number.isNaN(px) || Number.isNaN(py)) return null;
    controls.push(px, py);
    const weight = cursor.read(42);
    if (!Number.isNaN(weight)) weights.push(weight);
  }
  const fitCount = cursor.read(97, 0);
  for (let i = 0; i < fitCount; i++) if (Number.isNaN(cursor.read(11)) || Number.isNaN(cursor.read(21))) break;
  return splinePoints(degree, knots, controls, weights);
}

function sound(points: number[]): number[] | null {
  return points.every(Number.isFinite) ? points : null;
}
