/** What tools ask for, as data, and the edit of the floor each becomes. */
import type { FloorFile, Ring } from '../../core/floor/index.ts';
import type { Edit } from '../edits/edit.ts';
import { addHole, addRoom } from '../edits/rooms.ts';

export type Intent =
  | { readonly kind: 'room'; readonly outline: Ring }
  | { readonly kind: 'hole'; readonly room: string; readonly outline: Ring };

/** The edit an intent becomes on a file; refused where it can be told without judging the whole floor. */
export function planIntent(file: FloorFile, intent: Intent): Edit {
  switch (intent.kind) {
    case 'room':
      return addRoom(file, intent.outline);
    case 'hole':
      return addHole(file, intent.room, intent.outline);
  }
}
