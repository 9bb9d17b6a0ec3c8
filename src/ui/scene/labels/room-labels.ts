/** Names of rooms, each where nothing lies under it. A name moves only when its room does, or when something is set down in it. */
import type { Floor, Furniture, Room } from '../../../core/floor/index.ts';
import { type Box, computeBox } from '../../../core/geometry/polygon.ts';
import type { Units } from '../../../editor/tools/tool.ts';
import type { Palette } from '../../tokens.ts';
import type { LocalFrame } from '../local-frame.ts';
import { type Label, labelRoom } from './floor-labels.ts';
import { LabelCache } from './label-cache.ts';
import { type Clutter, listClutter } from './room-spot.ts';

export class RoomLabels {
  private readonly cache = new LabelCache();
  private clutter: Clutter | null = null;
  private furniture: readonly Furniture[] = [];

  /** Another theme, another origin. */
  clear(): void {
    this.cache.clear();
    this.clutter = null;
  }

  /** @param settled nothing is in hand: names give way to what has been set down */
  list(floor: Floor, settled: boolean, palette: Palette, frame: LocalFrame, units: Units): Label[] {
    if (settled && floor.furniture !== this.furniture) this.giveWay(floor);
    const clutter = (): Clutter => {
      this.clutter ??= listClutter(floor);
      return this.clutter;
    };
    return floor.rooms.flatMap((room) =>
      this.cache.get(room, units, () => [labelRoom(room, clutter, palette, frame, units)]),
    );
  }

  /** Forgets the names of the rooms in which pieces have come, gone or moved. */
  private giveWay({ rooms, furniture }: Floor): void {
    this.clutter = null;
    const before = new Set(this.furniture);
    const now = new Set(furniture);
    const changed = [
      ...furniture.filter((piece) => !before.has(piece)),
      ...this.furniture.filter((piece) => !now.has(piece)),
    ].map(({ outline }) => computeBox(outline));
    this.furniture = furniture;
    for (const room of rooms) if (isTouched(room, changed)) this.cache.forget(room);
  }
}

function isTouched(room: Room, boxes: readonly Box[]): boolean {
  const { minX, minY, maxX, maxY } = computeBox(room.outline);
  return boxes.some((box) => box.minX <= maxX && box.maxX >= minX && box.minY <= maxY && box.maxY >= minY);
}
