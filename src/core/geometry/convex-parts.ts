import earcut from 'earcut';

/**
 * Cuts a simple polygon into convex parts: triangulated, then triangles merged across inner edges while the union stays
 * convex (Hertel and Mehlhorn, 1983: at most four times the fewest parts).
 *
 * @param xy corners, counter-clockwise, flat [x0, y0, x1, y1 …], metres, not closed
 * @returns parts in the same layout, each convex and counter-clockwise; a convex polygon comes back as one part
 */
export function cutIntoConvexParts(xy: readonly number[]): number[][] {
  if (isConvex(xy)) return [[...xy]];
  const triangles = earcut(xy as number[]);
  let parts: number[][] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const part = [triangles[t]!, triangles[t + 1]!, triangles[t + 2]!];
    if (signedDoubleArea(part, xy) < 0) part.reverse();
    parts.push(part);
  }
  for (let merged = true; merged; ) {
    merged = false;
    search: for (let p = 0; p < parts.length; p++) {
      for (let q = p + 1; q < parts.length; q++) {
        const union = joinAcrossEdge(parts[p]!, parts[q]!, xy);
        if (!union) continue;
        parts = parts.filter((_, index) => index !== p && index !== q);
        parts.push(union);
        merged = true;
        break search;
      }
    }
  }
  return parts.map((part) => part.flatMap((v) => [xy[2 * v]!, xy[2 * v + 1]!]));
}

function isConvex(xy: readonly number[]): boolean {
  const n = xy.length / 2;
  for (let i = 0; i < n; i++) {
    if (turnAt(xy, i, (i + 1) % n, (i + 2) % n) < -1e-12) return false;
  }
  return true;
}

/** Twice the signed area of the triangle a, b, c: positive for a left turn. */
function turnAt(xy: readonly number[], a: number, b: number, c: number): number {
  const ax = xy[2 * a]!;
  const ay = xy[2 * a + 1]!;
  return (xy[2 * b]! - ax) * (xy[2 * c + 1]! - ay) - (xy[2 * b + 1]! - ay) * (xy[2 * c]! - ax);
}

function signedDoubleArea(part: readonly number[], xy: readonly number[]): number {
  return turnAt(xy, part[0]!, part[1]!, part[2]!);
}

/** The union of two parts that share an edge, or null where they share none or the union would not be convex. */
function joinAcrossEdge(p: readonly number[], q: readonly number[], xy: readonly number[]): number[] | null {
  for (let i = 0; i < p.length; i++) {
    const a = p[i]!;
    const b = p[(i + 1) % p.length]!;
    const j = q.findIndex((v, index) => v === b && q[(index + 1) % q.length] === a);
    if (j < 0) continue;
    // p from b round to a, then q's corners strictly between a and b.
    const union: number[] = [];
    for (let s = 0; s < p.length; s++) union.push(p[(i + 1 + s) % p.length]!);
    for (let s = 0; s < q.length - 2; s++) union.push(q[(j + 2 + s) % q.length]!);
    for (let s = 0; s < union.length; s++) {
      const turn = turnAt(xy, union[s]!, union[(s + 1) % union.length]!, union[(s + 2) % union.length]!);
      if (turn < -1e-12) return null;
    }
    return union;
  }
  return null;
}
