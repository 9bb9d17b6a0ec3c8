/** Somebody seen from the front, metres: x across, z up, feet at 0. */
import { triangulate } from '../../../core/geometry/triangulate.ts';

export interface Silhouette {
  /** Outlines, flat x, z. */
  readonly rings: readonly (readonly number[])[];
  /** Triangles, flat x, z, three corners each. */
  readonly corners: readonly number[];
}

/** Right half from the neck to the crotch, and its mirror image. */
const STANDING = [
  [0.05, 1.48],
  [0.065, 1.43],
  [0.19, 1.385],
  [0.235, 1.31],
  [0.25, 1.1],
  [0.262, 0.84],
  [0.235, 0.79],
  [0.175, 0.79],
  [0.165, 0.5],
  [0.13, 0.06],
  [0.155, 0.02],
  [0.15, 0],
  [0.035, 0],
  [0.04, 0.1],
  [0.02, 0.7],
  [0, 0.74],
] as const;

/** What shows of somebody at a desk, over a chair of 0.45 m. */
const SEATED = [
  [0.05, 1.08],
  [0.065, 1.03],
  [0.19, 0.985],
  [0.235, 0.91],
  [0.25, 0.7],
  [0.255, 0.5],
  [0.2, 0.44],
  [0.17, 0.3],
  [0.15, 0.02],
  [0.15, 0],
  [0.05, 0],
  [0.05, 0.36],
  [0, 0.4],
] as const;

export function drawPerson(posture: 'standing' | 'seated'): Silhouette {
  const half = posture === 'standing' ? STANDING : SEATED;
  const body = [
    ...half,
    ...half
      .map(([x, z]) => [-x, z] as const)
      .reverse()
      .slice(1),
  ];
  const middle = posture === 'standing' ? 1.6 : 1.2;
  const head = Array.from({ length: 28 }, (_, i) => {
    const angle = (i / 28) * 2 * Math.PI;
    return [0.1 * Math.cos(angle), middle + 0.13 * Math.sin(angle)] as const;
  });
  const rings = [body, head];
  const corners = rings.flatMap((ring) => {
    const { xy, index } = triangulate(ring);
    return index.flatMap((v) => [xy[2 * v] as number, xy[2 * v + 1] as number]);
  });
  return { rings: rings.map((ring) => ring.flat()), corners };
}

/** The stretches of a level line inside the silhouette, pairs of x. */
export function crossPerson({ rings }: Silhouette, z: number): number[] {
  return rings.flatMap((ring) => {
    const cuts: number[] = [];
    for (let i = 0; i < ring.length; i += 2) {
      const j = (i + 2) % ring.length;
      const [ax = 0, az = 0, bx = 0, bz = 0] = [ring[i], ring[i + 1], ring[j], ring[j + 1]];
      if (az > z !== bz > z) cuts.push(ax + ((z - az) / (bz - az)) * (bx - ax));
    }
    return cuts.sort((a, b) => a - b);
  });
}
