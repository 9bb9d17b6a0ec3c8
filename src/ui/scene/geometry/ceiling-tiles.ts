/** The joints of a room's ceiling tiles, cut to its outline. */
import type { Room } from '../../../core/floor/index.ts';
import type { LocalFrame } from '../local-frame.ts';
import type { LineBatch, LineStyle } from './line-batch.ts';

/** More joints than this are not drawn: nobody could tell them apart. */
const MOST_JOINTS = 2_000;

export function drawCeilingTiles(batch: LineBatch, room: Room, frame: LocalFrame, style: LineStyle): void {
  const { tiles, ceiling } = room;
  if (tiles === undefined) return;
  const turn = (tiles.turn * Math.PI) / 180;
  for (const [axis, pitch] of tiles.pitch.entries()) {
    // In coordinates along the joints (u) and across them (v).
    const angle = turn + (axis === 0 ? Math.PI / 2 : 0);
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const rings = [room.outline, ...room.holes].map((ring) =>
      ring.map(([x, y]) => {
        const [dx, dy] = [x - tiles.origin[0], y - tiles.origin[1]];
        return [c * dx + s * dy, c * dy - s * dx] as const;
      }),
    );
    const across = rings.flatMap((ring) => ring.map(([, v]) => v));
    const first = Math.ceil(across.reduce((a, b) => Math.min(a, b)) / pitch);
    const last = Math.floor(across.reduce((a, b) => Math.max(a, b)) / pitch);
    if (last - first > MOST_JOINTS) continue;
    for (let k = first; k <= last; k++) {
      const v = k * pitch;
      const cuts = rings
        .flatMap((ring) =>
          ring.flatMap(([au, av], i) => {
            const [bu, bv] = ring[(i + 1) % ring.length] as readonly [number, number];
            return av > v !== bv > v ? [au + ((v - av) / (bv - av)) * (bu - au)] : [];
          }),
        )
        .sort((a, b) => a - b);
      for (let i = 0; i + 1 < cuts.length; i += 2) {
        const [u0, u1] = [cuts[i] as number, cuts[i + 1] as number];
        const put = (u: number): readonly [number, number] => [
          tiles.origin[0] + c * u - s * v - frame.x,
          tiles.origin[1] + s * u + c * v - frame.y,
        ];
        const [ax, ay] = put(u0);
        const [bx, by] = put(u1);
        batch.add(ax, ay, ceiling - 0.005, bx, by, ceiling - 0.005, style);
      }
    }
  }
}
