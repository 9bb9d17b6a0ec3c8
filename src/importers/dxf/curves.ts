/** Curves as chains of short lines: flat lists of x, y in the curve's own units. Angles in radians, counter-clockwise. */

/** A chord spans at most this: at 5° its middle lies 0.1 % of the radius beside the arc. */
const CHORD = (5 * Math.PI) / 180;
const TURN = 2 * Math.PI;

/** Adds the points of an arc from `from` over `sweep` to a list, with or without its first point. */
export function pushArc(
  points: number[],
  cx: number,
  cy: number,
  radius: number,
  from: number,
  sweep: number,
  withFirst: boolean,
): void {
  const steps = Math.max(1, Math.ceil(Math.abs(sweep) / CHORD - 1e-9));
  for (let i = withFirst ? 0 : 1; i <= steps; i++) {
    const angle = from + (sweep * i) / steps;
    points.push(cx + radius * Math.cos(angle), cy + radius * Math.sin(angle));
  }
}

/** The sweep from one angle counter-clockwise to another, above 0 and up to a whole turn. */
export function sweepOf(from: number, to: number): number {
  if (!Number.isFinite(from) || !Number.isFinite(to)) return TURN;
  const sweep = (to - from) % TURN;
  return sweep <= 1e-9 ? sweep + TURN : sweep;
}

/** The arc a bulge makes of the line between two points (the tangent of a quarter of its sweep), or null for none. */
export function bulgeArc(x0: number, y0: number, x1: number, y1: number, bulge: number) {
  const chord = Math.hypot(x1 - x0, y1 - y0);
  if (!(Math.abs(bulge) > 1e-9) || !(chord > 0) || !Number.isFinite(bulge)) return null;
  const sweep = 4 * Math.atan(bulge);
  const offset = (1 - bulge * bulge) / (4 * bulge);
  const cx = (x0 + x1) / 2 - (y1 - y0) * offset;
  const cy = (y0 + y1) / 2 + (x1 - x0) * offset;
  return { cx, cy, radius: Math.hypot(x0 - cx, y0 - cy), from: Math.atan2(y0 - cy, x0 - cx), sweep };
}

/** An ellipse's points: the axis ends at (ax, ay) and (bx, by) from the centre, parameters from `from` over `sweep`. */
export function ellipsePoints(
  cx: number,
  cy: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
  from: number,
  sweep: number,
): number[] {
  const points: number[] = [];
  const steps = Math.max(2, Math.ceil(Math.abs(sweep) / CHORD - 1e-9));
  for (let i = 0; i <= steps; i++) {
    const t = from + (sweep * i) / steps;
    const c = Math.cos(t);
    const s = Math.sin(t);
    points.push(cx + ax * c + bx * s, cy + ay * c + by * s);
  }
  return points;
}

/** Points of one span of a spline. */
const SPAN_STEPS = 8;
const MOST_SPLINE_POINTS = 2000;

/**
 * A rational B-spline as points (de Boor), or null when its numbers do not belong together.
 * @param controls flat x, y
 * @param weights one per control point, or empty
 */
export function splinePoints(
  degree: number,
  knots: readonly number[],
  controls: readonly number[],
  weights: readonly number[],
): number[] | null {
  const count = controls.length / 2;
  if (!(degree >= 1 && degree <= 25) || count <= degree || knots.length !== count + degree + 1) return null;
  for (let i = 1; i < knots.length; i++) if (!((knots[i] as number) >= (knots[i - 1] as number))) return null;
  const points: number[] = [];
  const spans: number[] = [];
  for (let i = degree; i < count; i++) if ((knots[i + 1] as number) > (knots[i] as number)) spans.push(i);
  const steps = Math.max(1, Math.min(SPAN_STEPS, Math.floor(MOST_SPLINE_POINTS / Math.max(1, spans.length))));
  for (const [at, span] of spans.entries()) {
    for (let step = at === 0 ? 0 : 1; step <= steps; step++) {
      const t = (knots[span] as number) + (((knots[span + 1] as number) - (knots[span] as number)) * step) / steps;
      pushSplinePoint(points, degree, knots, controls, weights, span, t);
    }
  }
  return points.length >= 4 ? points : null;
}

function pushSplinePoint(
  out: number[],
  degree: number,
  knots: readonly number[],
  controls: readonly number[],
  weights: readonly number[],
  span: number,
  t: number,
): void {
  const x: number[] = [];
  const y: number[] = [];
  const w: number[] = [];
  for (let j = 0; j <= degree; j++) {
    const i = span - degree + j;
    const weight = weights[i] ?? 1;
    x.push((controls[2 * i] as number) * weight);
    y.push((controls[2 * i + 1] as number) * weight);
    w.push(weight);
  }
  for (let r = 1; r <= degree; r++) {
    for (let j = degree; j >= r; j--) {
      const i = span - degree + j;
      const low = knots[i] as number;
      const width = (knots[i + degree - r + 1] as number) - low;
      const share = width > 0 ? (t - low) / width : 0;
      for (const list of [x, y, w]) list[j] = (1 - share) * (list[j - 1] as number) + share * (list[j] as number);
    }
  }
  const weight = w[degree] as number;
  out.push((x[degree] as number) / weight, (y[degree] as number) / weight);
}
