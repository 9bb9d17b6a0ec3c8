/** Affine maps of the plan, in drawing units: x' = a·x + c·y + e, y' = b·x + d·y + f. */
export interface PlaneMap {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

export const IDENTITY: PlaneMap = { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 };

/** First `inner`, then `outer`. */
export function compose(outer: PlaneMap, inner: PlaneMap): PlaneMap {
  return {
    a: outer.a * inner.a + outer.c * inner.b,
    b: outer.b * inner.a + outer.d * inner.b,
    c: outer.a * inner.c + outer.c * inner.d,
    d: outer.b * inner.c + outer.d * inner.d,
    e: outer.a * inner.e + outer.c * inner.f + outer.e,
    f: outer.b * inner.e + outer.d * inner.f + outer.f,
  };
}

export function applyX(map: PlaneMap, x: number, y: number): number {
  return map.a * x + map.c * y + map.e;
}

export function applyY(map: PlaneMap, x: number, y: number): number {
  return map.b * x + map.d * y + map.f;
}

/** The points of a flat list, mapped. */
export function mapPoints(map: PlaneMap, points: readonly number[]): number[] {
  const mapped = new Array<number>(points.length);
  for (let i = 0; i < points.length; i += 2) {
    const x = points[i] as number;
    const y = points[i + 1] as number;
    mapped[i] = map.a * x + map.c * y + map.e;
    mapped[i + 1] = map.b * x + map.d * y + map.f;
  }
  return mapped;
}

/** How many times longer lengths become, by the area. */
export function scaleOf(map: PlaneMap): number {
  return Math.sqrt(Math.abs(map.a * map.d - map.b * map.c));
}

/**
 * The map from the plane an entity was drawn in (its extrusion direction and its height in that plane) to the plan seen from above:
 * the format's arbitrary axis rule. A direction straight down mirrors x.
 */
export function mapOfExtrusion(nx: number, ny: number, nz: number, height: number): PlaneMap {
  if (nx === 0 && ny === 0) return nz < 0 ? { a: -1, b: 0, c: 0, d: 1, e: 0, f: 0 } : IDENTITY;
  const size = Math.hypot(nx, ny, nz);
  if (!(size > 0) || !Number.isFinite(size)) return IDENTITY;
  const x = nx / size;
  const y = ny / size;
  const z = nz / size;
  // The x axis is Y × N near the pole and Z × N elsewhere.
  const near = Math.abs(x) < 1 / 64 && Math.abs(y) < 1 / 64;
  let ax = near ? z : -y;
  let ay = near ? 0 : x;
  let az = near ? -x : 0;
  const length = Math.hypot(ax, ay, az);
  ax /= length;
  ay /= length;
  az /= length;
  // The y axis is N × X.
  const bx = y * az - z * ay;
  const by = z * ax - x * az;
  return { a: ax, b: ay, c: bx, d: by, e: x * height, f: y * height };
}
