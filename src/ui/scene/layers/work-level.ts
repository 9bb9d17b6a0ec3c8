/** The height on which a tool works: the pointer is read there, and its guides lie there. In plan it makes no difference. */
import { type Floor, findRoomAt, lensHeightOf, type Point } from '../../../core/floor/index.ts';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import { findThing } from '../../../editor/things.ts';

/** Just above the paper, metres. */
const ON_FLOOR = 0.02;

/** The height of a thing's handle, metres: a lens, a top, the underside of what hangs; the floor for everything else. */
export function heightOfThing(floor: Floor, id: string | null | undefined): number {
  const thing = id === null || id === undefined ? undefined : findThing(floor, id);
  switch (thing?.kind) {
    case 'detector':
      return lensHeightOf(thing.value, floor);
    case 'furniture':
    case 'source':
      return thing.value.top;
    case 'luminaire':
      return thing.value.base;
    case 'workplace':
      return floor.analysis.seatedPlane;
    default:
      return ON_FLOOR;
  }
}

/** @param near where the hand is, to find the ceiling over it */
export function workLevel(state: EditorState, near: Point | null = state.pointer): number {
  const floor = shownFloor(state);
  switch (state.tool) {
    case 'select':
      return heightOfThing(floor, state.selection.at(-1));
    case 'detector':
    case 'luminaire': {
      const room = near === null ? undefined : findRoomAt(floor.rooms, near);
      return room?.ceiling ?? floor.rooms[0]?.ceiling ?? ON_FLOOR;
    }
    default:
      return ON_FLOOR;
  }
}
