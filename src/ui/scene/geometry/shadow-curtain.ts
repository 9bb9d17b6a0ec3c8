/** What one piece hides from one lens down to a plane: the curtain between its upper edge and the edge of its shadow. */
import type { Furniture } from '../../../core/floor/index.ts';
import type { LocalFrame } from '../local-frame.ts';
import { localOutline } from './prisms.ts';

type Place = readonly [number, number, number];

export interface Curtain {
  /** Triangles, flat x, y, z. */
  readonly corners: readonly number[];
  /** Where lines from the lens touch the upper edge, and where they come down: the shadow's own edges. */
  readonly rays: readonly (readonly [Place, Place])[];
  /** The far edge of the shadow. */
  readonly rim: readonly (readonly [Place, Place])[];
}

/**
 * The curtain of a piece below the lens on the plane at `height`, local metres; null when it hides nothing there.
 * @param reach metres in plan beyond which the lens sees nothing anyway: rays end there
 */
export function hangCurtain(
  piece: Furniture,
  lens: Place,
  height: number,
  reach: number,
  frame: LocalFrame,
): Curtain | null {
  const [lx, ly, lz] = lens;
  const { top } = piece;
  if (top <= height || top >= lz || piece.base >= lz) return null;
  const xy = localOutline(piece.outline, frame);
  const n = xy.length / 2;
  const scale = (lz - height) / (lz - top);
  const at = (i: number): readonly [number, number] => [
    (xy[2 * (i % n)] as number) - lx,
    (xy[2 * (i % n) + 1] as number) - ly,
  ];
  const upper = (i: number): Place => [at(i)[0] + lx, at(i)[1] + ly, top];
  const foot = (i: number): Place => [at(i)[0] + lx, at(i)[1] + ly, Math.max(piece.base, height)];
  const lower = (i: number): Place => {
    const [x, y] = at(i);
    const far = Math.hypot(x, y);
    // Along the ray from 1 (the upper edge) to `scale` (the plane), or to where the range ends.
    const k = far * scale <= reach || far >= reach ? scale : reach / far;
    const z = lz - k * (lz - top);
    return [lx + x * k, ly + y * k, z];
  };
  const averted = Array.from({ length: n }, (_, i) => {
    const [ax, ay] = at(i);
    const [bx, by] = at(i + 1);
    return ax * by - ay * bx > 0;
  });
  if (!averted.includes(true)) return null;
  const corners: number[] = [];
  const rim: [Place, Place][] = [];
  const rays: [Place, Place][] = [];
  for (let i = 0; i < n; i++) {
    if (averted[i]) {
      const [a, b, c, d] = [upper(i), upper(i + 1), lower(i + 1), lower(i)];
      corners.push(...a, ...b, ...c, ...a, ...c, ...d);
      rim.push([d, c]);
    }
    if (averted[i] !== averted[(i + n - 1) % n]) {
      corners.push(...upper(i), ...lower(i), ...foot(i));
      rays.push([upper(i), lower(i)]);
    }
  }
  return { corners, rays, rim };
}
