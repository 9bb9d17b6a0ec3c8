/** Curves as chains of points, arcs cut so that no chord leaves them by more than 2 mm. */
import { type Frame, toOuter, type Vec3 } from './frame.ts';
import { type Model, readAxes, readDirection, readPoint, toPoint } from './placements.ts';
import { listOfValues, numberOf, refOf, refsOf, type Value } from './step-file.ts';

const CHORD = 0.002;
const MIN_SEGMENTS = 12;
const MAX_SEGMENTS = 96;
/** Curves made of curves; deeper is a circle or rubbish. */
const MAX_DEPTH = 4;
const TURN = 2 * Math.PI;

/** How many chords a whole circle of a radius (metres) is cut into. */
export function countSegments(radius: number): number {
  if (!(radius > CHORD)) return MIN_SEGMENTS;
  const exact = Math.PI / Math.acos(1 - CHORD / radius);
  // A multiple of four keeps the extent along both axes.
  return Math.min(MAX_SEGMENTS, Math.max(MIN_SEGMENTS, 4 * Math.ceil(exact / 4)));
}

/** Points of an ellipse from one angle to another, both included; radians, either way round. */
function sampleArc(frame: Frame, a: number, b: number, from: number, to: number): Vec3[] {
  const share = Math.abs(to - from) / TURN;
  const steps = Math.max(1, Math.ceil(countSegments(Math.max(a, b)) * share - 1e-9));
  return Array.from({ length: steps + 1 }, (_, i) => {
    const angle = from + ((to - from) * i) / steps;
    return toOuter(frame, [a * Math.cos(angle), b * Math.sin(angle), 0]);
  });
}

/** The points of a curve, undefined when its kind is not read. Closed curves may repeat their first point. */
export function readCurve(model: Model, id: number, depth = 0): Vec3[] | undefined {
  const { step, units } = model;
  if (depth > MAX_DEPTH) return undefined;
  const args = step.read(id);
  switch (step.typeOf(id)) {
    case 'IFCPOLYLINE':
      return refsOf(args[0]).map((point) => readPoint(model, point));
    case 'IFCINDEXEDPOLYCURVE':
      return readIndexed(model, args);
    case 'IFCCOMPOSITECURVE':
    case 'IFC2DCOMPOSITECURVE':
    case 'IFCGRADIENTCURVE':
    case 'IFCBOUNDARYCURVE':
    case 'IFCOUTERBOUNDARYCURVE':
      return readComposite(model, args, depth);
    case 'IFCTRIMMEDCURVE':
      return readTrimmed(model, args, depth);
    case 'IFCCIRCLE': {
      const radius = (numberOf(args[1]) ?? 0) * units.length;
      return sampleArc(readAxes(model, refOf(args[0])), radius, radius, 0, TURN);
    }
    case 'IFCELLIPSE': {
      const [a, b] = [(numberOf(args[1]) ?? 0) * units.length, (numberOf(args[2]) ?? 0) * units.length];
      return sampleArc(readAxes(model, refOf(args[0])), a, b, 0, TURN);
    }
    case 'IFCBSPLINECURVEWITHKNOTS':
    case 'IFCRATIONALBSPLINECURVEWITHKNOTS':
      return readSpline(model, args);
    default:
      return undefined;
  }
}

function readIndexed(model: Model, args: readonly Value[]): Vec3[] | undefined {
  const unit = model.units.length;
  const points = listOfValues(model.step.read(refOf(args[0]))[0]).map((item) => toPoint(item, unit));
  const segments = listOfValues(args[1]);
  if (segments.length === 0) return points;
  const chain: Vec3[] = [];
  for (const segment of segments) {
    if (segment === null || typeof segment !== 'object' || !('type' in segment)) return undefined;
    const indices = Array.isArray(segment.value) ? segment.value : [segment.value];
    const corners = indices.map((value) => points[(numberOf(value) ?? 0) - 1]).filter((point) => point !== undefined);
    const [a, b, c] = corners;
    const isArc = segment.type === 'IFCARCINDEX' && a !== undefined && b !== undefined && c !== undefined;
    append(chain, isArc ? arcThrough(a, b, c) : corners);
  }
  return chain;
}

/** The arc through three points, in the plane z = 0 of its own system or flat in space. */
function arcThrough(a: Vec3, b: Vec3, c: Vec3): Vec3[] {
  const [bx, by] = [b[0] - a[0], b[1] - a[1]];
  const [cx, cy] = [c[0] - a[0], c[1] - a[1]];
  const twice = 2 * (bx * cy - by * cx);
  if (Math.abs(twice) < 1e-12) return [a, b, c];
  const ux = (cy * (bx * bx + by * by) - by * (cx * cx + cy * cy)) / twice;
  const uy = (bx * (cx * cx + cy * cy) - cx * (bx * bx + by * by)) / twice;
  const radius = Math.hypot(ux, uy);
  const start = Math.atan2(-uy, -ux);
  const isLeft = twice > 0;
  let sweep = Math.atan2(cy - uy, cx - ux) - start;
  if (isLeft && sweep <= 0) sweep += TURN;
  if (!isLeft && sweep >= 0) sweep -= TURN;
  const frame: Frame = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1], o: [a[0] + ux, a[1] + uy, a[2]] };
  const points = sampleArc(frame, radius, radius, start, start + sweep);
  points[0] = a;
  points[points.length - 1] = c;
  return points;
}

function readComposite(model: Model, args: readonly Value[], depth: number): Vec3[] | undefined {
  const chain: Vec3[] = [];
  for (const segment of refsOf(args[0])) {
    const parts = model.step.read(segment);
    if (!model.step.typeOf(segment).endsWith('COMPOSITECURVESEGMENT')) return undefined;
    const points = readCurve(model, refOf(parts[2]), depth + 1);
    if (points === undefined) return undefined;
    if (parts[1] === '.F.') points.reverse();
    append(chain, points);
  }
  return chain;
}

function append(chain: Vec3[], points: readonly Vec3[]): void {
  const last = chain[chain.length - 1];
  const first = points[0];
  const joins =
    last !== undefined &&
    first !== undefined &&
    Math.hypot(last[0] - first[0], last[1] - first[1], last[2] - first[2]) < 1e-6;
  for (let i = joins ? 1 : 0; i < points.length; i++) chain.push(points[i] as Vec3);
}

function readTrimmed(model: Model, args: readonly Value[], depth: number): Vec3[] | undefined {
  const { step, units } = model;
  const basis = refOf(args[0]);
  const type = step.typeOf(basis);
  const basisArgs = step.read(basis);
  const isAgreeing = args[3] !== '.F.';
  const prefersPoint = args[4] === '.CARTESIAN.';
  const trims = [readTrim(model, args[1], prefersPoint), readTrim(model, args[2], prefersPoint)] as const;
  if (type === 'IFCLINE') {
    const from = readPoint(model, refOf(basisArgs[0]));
    const vector = step.read(refOf(basisArgs[1]));
    const direction = readDirection(model, refOf(vector[0])) ?? [1, 0, 0];
    const size = Math.hypot(...direction) || 1;
    const magnitude = (numberOf(vector[1]) ?? 1) * units.length;
    const along = (trim: Trim): Vec3 | undefined =>
      trim.point ??
      (trim.parameter === undefined
        ? undefined
        : (direction.map(
            (d, i) => (from[i] as number) + (d / size) * magnitude * (trim.parameter as number),
          ) as unknown as Vec3));
    const [a, b] = [along(trims[0]), along(trims[1])];
    return a === undefined || b === undefined ? undefined : [a, b];
  }
  if (type !== 'IFCCIRCLE' && type !== 'IFCELLIPSE') return readCurve(model, basis, depth + 1);
  const frame = readAxes(model, refOf(basisArgs[0]));
  const a = (numberOf(basisArgs[1]) ?? 0) * units.length;
  const b = type === 'IFCCIRCLE' ? a : (numberOf(basisArgs[2]) ?? 0) * units.length;
  const angle = (trim: Trim): number | undefined => {
    if (trim.point === undefined) return trim.parameter === undefined ? undefined : trim.parameter * units.angle;
    const [px, py, pz] = [trim.point[0] - frame.o[0], trim.point[1] - frame.o[1], trim.point[2] - frame.o[2]];
    const u = px * frame.x[0] + py * frame.x[1] + pz * frame.x[2];
    const v = px * frame.y[0] + py * frame.y[1] + pz * frame.y[2];
    return Math.atan2(v / (b || 1), u / (a || 1));
  };
  const from = angle(trims[0]);
  const to = angle(trims[1]);
  if (from === undefined || to === undefined) return undefined;
  let sweep = (to - from) % TURN;
  if (isAgreeing && sweep <= 1e-9) sweep += TURN;
  if (!isAgreeing && sweep >= -1e-9) sweep -= TURN;
  return sampleArc(frame, a, b, from, from + sweep);
}

interface Trim {
  readonly point: Vec3 | undefined;
  readonly parameter: number | undefined;
}

function readTrim(model: Model, value: Value | undefined, prefersPoint: boolean): Trim {
  let point: Vec3 | undefined;
  let parameter: number | undefined;
  for (const item of listOfValues(value)) {
    if (refOf(item) > 0) point = readPoint(model, refOf(item));
    else parameter = numberOf(item);
  }
  return !prefersPoint && parameter !== undefined ? { point: undefined, parameter } : { point, parameter };
}

/** A B-spline by de Boor's rule; weights of a rational one count. */
function readSpline(model: Model, args: readonly Value[]): Vec3[] | undefined {
  const degree = numberOf(args[0]) ?? 0;
  const controls = refsOf(args[1]).map((point) => readPoint(model, point));
  const counts = listOfValues(args[5]).map((value) => numberOf(value) ?? 0);
  const values = listOfValues(args[6]).map((value) => numberOf(value) ?? 0);
  const weights = listOfValues(args[8]).map((value) => numberOf(value) ?? 1);
  if (degree < 1 || degree > 12 || controls.length <= degree || controls.length > 10_000) return undefined;
  const knots = counts.flatMap((count, i) => Array.from({ length: Math.min(count, degree + 1) }, () => values[i] ?? 0));
  if (knots.length < controls.length + degree + 1) return undefined;
  const start = knots[degree] as number;
  const end = knots[controls.length] as number;
  const steps = Math.min(400, Math.max(16, controls.length * 4));
  return Array.from({ length: steps + 1 }, (_, i) =>
    deBoor(start + ((end - start) * i) / steps, degree, knots, controls, weights),
  );
}

function deBoor(
  t: number,
  degree: number,
  knots: readonly number[],
  controls: readonly Vec3[],
  weights: readonly number[],
): Vec3 {
  let span = degree;
  while (span < controls.length - 1 && (knots[span + 1] as number) <= t) span++;
  const points = Array.from({ length: degree + 1 }, (_, j) => {
    const [x, y, z] = controls[span - degree + j] as Vec3;
    const w = weights[span - degree + j] ?? 1;
    return [x * w, y * w, z * w, w] as [number, number, number, number];
  });
  for (let r = 1; r <= degree; r++) {
    for (let j = degree; j >= r; j--) {
      const low = knots[span - degree + j] as number;
      const width = (knots[span + 1 + j - r] as number) - low;
      const share = width > 0 ? (t - low) / width : 0;
      const [a, b] = [points[j - 1], points[j]];
      if (a === undefined || b === undefined) continue;
      points[j] = a.map((value, k) => value * (1 - share) + (b[k] as number) * share) as [
        number,
        number,
        number,
        number,
      ];
    }
  }
  const [x, y, z, w] = points[degree] as [number, number, number, number];
  return [x / (w || 1), y / (w || 1), z / (w || 1)];
}
