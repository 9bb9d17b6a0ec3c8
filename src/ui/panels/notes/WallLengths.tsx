import type { Room } from '../../../core/floor/index.ts';
import { listWallLengths, setWallLength } from '../../../editor/edits/wall-lengths.ts';
import { useEditor } from '../context.tsx';
import { capitalise } from '../format.ts';
import { Ledger } from '../Ledger.tsx';
import { NumberField } from '../NumberField.tsx';

/** A room with more walls is changed by its corners. */
const MOST = 16;

/** The lengths of a room's walls, each to be written as it was measured. */
export function WallLengths({ room }: { readonly room: Room }) {
  const north = useEditor((state) => state.floor.north);
  if (room.outline.length > MOST) return null;
  return (
    <Ledger title="Walls, inside">
      {listWallLengths(room, north).map(({ edge, length, side, number }) => (
        <NumberField
          key={edge}
          label={number === null ? side : `${side} ${number}`}
          name={`Length of the ${side} wall${number === null ? '' : ` ${number}`} of ${room.name}`}
          value={length}
          rule={{ kind: 'length', above: 0, max: 10_000 }}
          plan={(file, value) => setWallLength(file, room.id, edge, value)}
          subject={`${capitalise(side)} wall${number === null ? '' : ` ${number}`} of ${room.name}`}
        />
      ))}
    </Ledger>
  );
}
