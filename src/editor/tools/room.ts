/** R: draws a room, or a hole in one. */
import { findRoomAt, type Ring, type Room } from '../../core/floor/index.ts';
import { isInRing } from '../../core/geometry/polygon.ts';
import { defineTool, type Reply } from './define-tool.ts';
import { letterOf } from './hand.ts';
import type { Intent } from './intent.ts';
import { drawOutline, isOutlineAtRest, type OutlineDraft, showOutline, startOutline } from './outline-draft.ts';
import type { ToolContext } from './tool.ts';
import { joinHints } from './words.ts';

export interface RoomState {
  readonly draft: OutlineDraft;
  /** What is drawn is cut out of the room it lies in. */
  readonly isHole: boolean;
}

export const roomTool = defineTool<RoomState>({
  id: 'room',
  start: (context) => ({ draft: startOutline(context), isHole: false }),
  isAtRest: ({ draft, isHole }) => isOutlineAtRest(draft) && !isHole,
  on(state, event, context) {
    if (letterOf(event) === 'h' && state.draft.entry === '') {
      const isHole = !state.isHole;
      return {
        state: { ...state, isHole },
        says: isHole ? 'The outline will be a hole.' : 'The outline will be a room.',
      };
    }
    const reply = drawOutline(state.draft, event, context);
    if (reply === null) return null;
    const next = { ...state, draft: reply.draft };
    if (reply.ring !== undefined) return finish(state, next, reply.ring, context);
    return { state: next, says: reply.says, refused: reply.refused ?? false };
  },
  show({ draft, isHole }, { units }) {
    const { hints, guides } = showOutline(draft, units);
    return {
      hints: joinHints(hints, isHole ? 'H: a room, not a hole' : 'H: a hole'),
      guides,
      cursor: draft.hand?.at ?? null,
    };
  },
});

function finish(state: RoomState, next: RoomState, outline: Ring, { floor }: ToolContext): Reply<RoomState> {
  // A refused outline stays in hand, to be mended.
  const otherwise = { ...state, draft: { ...state.draft, press: null } };
  if (!state.isHole) return { state: next, commit: { intent: { kind: 'room', outline }, otherwise } };
  const room = findRoomAround(floor.rooms, outline);
  if (room === undefined)
    return { state: otherwise, says: 'The hole lies in no room. Draw it inside one.', refused: true };
  const intent: Intent = { kind: 'hole', room: room.id, outline };
  return { state: { ...next, isHole: false }, commit: { intent, otherwise } };
}

/** The room whose outline holds a corner of a ring, or its middle. */
function findRoomAround(rooms: readonly Room[], ring: Ring): Room | undefined {
  for (const corner of ring) {
    const room = findRoomAt(rooms, corner);
    if (room !== undefined) return room;
  }
  const [x, y] = ring.reduce(
    ([sx, sy], corner) => [sx + corner[0] / ring.length, sy + corner[1] / ring.length],
    [0, 0],
  );
  return rooms.find((room) => isInRing(room.outline, x, y));
}
