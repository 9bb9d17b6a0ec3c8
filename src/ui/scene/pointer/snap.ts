/** Where a dragged detector comes to hang. */
import { type Floor, findRoomAt, type Point } from '../../../core/floor/index.ts';

/** Without tiles a hand sets things to this, metres. */
const STEP = 0.05;

/** The middle of the ceiling tile a place lies under; where there are no tiles, the place in steps of 5 cm. */
export function snapToCeiling(floor: Floor, at: Point): Point {
  const tiles = findRoomAt(floor.rooms, at)?.tiles;
  if (tiles === undefined) return [Math.round(at[0] / STEP) * STEP, Math.round(at[1] / STEP) * STEP];
  const turn = (tiles.turn * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const dx = at[0] - tiles.origin[0];
  const dy = at[1] - tiles.origin[1];
  const middle = (value: number, pitch: number) => (Math.floor(value / pitch) + 0.5) * pitch;
  const u = middle(c * dx + s * dy, tiles.pitch[0]);
  const v = middle(c * dy - s * dx, tiles.pitch[1]);
  return [tiles.origin[0] + c * u - s * v, tiles.origin[1] + s * u + c * v];
}
