/** The ceiling grid round a place: hairlines that fade out. Local metres. */
import type { Room } from '../../../core/floor/index.ts';
import type { LocalFrame } from '../local-frame.ts';
import { COLOUR } from '../paint.ts';
import type { LineBatch } from './line-batch.ts';

/** How far the grid shows round the hand, metres. */
const REACH = 4;

/** @param x local, like y; z is the height it is drawn at */
export function drawNearTiles(
  batch: LineBatch,
  tiles: NonNullable<Room['tiles']>,
  frame: LocalFrame,
  x: number,
  y: number,
  z: number,
): void {
  const turn = (tiles.turn * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const [ox, oy] = [tiles.origin[0] - frame.x, tiles.origin[1] - frame.y];
  const u0 = c * (x - ox) + s * (y - oy);
  const v0 = c * (y - oy) - s * (x - ox);
  const put = (u: number, v: number): readonly [number, number] => [ox + c * u - s * v, oy + s * u + c * v];
  const family = (
    middle: number,
    pitch: number,
    point: (across: number, along: number) => readonly [number, number],
  ) => {
    for (let k = Math.ceil((middle - REACH) / pitch); k * pitch <= middle + REACH; k++) {
      const across = k * pitch;
      const half = Math.sqrt(Math.max(0, REACH ** 2 - (across - middle) ** 2));
      // A hairline fades out towards the rim in four steps to either side.
      for (let step = -4; step < 4; step++) {
        const fade = 1 - Math.hypot(across - middle, (Math.abs(step + 0.5) / 4) * half) / REACH;
        const [ax, ay] = point(across, (step / 4) * half);
        const [bx, by] = point(across, ((step + 1) / 4) * half);
        batch.add(ax, ay, z, bx, by, z, { width: 1, colour: COLOUR.ink3, alpha: 0.55 * Math.max(0, fade) });
      }
    }
  };
  family(u0, tiles.pitch[0], (across, along) => put(across, v0 + along));
  family(v0, tiles.pitch[1], (across, along) => put(u0 + along, across));
}
