import { type Floor, type FloorFile, findRoomAt, type Room } from '../../../core/floor/index.ts';
import { computeBox } from '../../../core/geometry/polygon.ts';
import { mergeRooms } from '../../../editor/edits/room-merge.ts';
import { setTiles } from '../../../editor/edits/rooms.ts';
import { isResultStale } from '../../../editor/store.ts';
import { startTool } from '../../../editor/tool-run.ts';
import { useEditor, useEditorStore } from '../context.tsx';
import { makeEdit } from '../edit-actions.ts';
import { focusPage } from '../focus.ts';
import { count, formatShare } from '../format.ts';
import { Ledger, Row } from '../Ledger.tsx';
import { NoteHead } from '../NoteHead.tsx';
import { NumberField } from '../NumberField.tsx';
import { nameOf } from '../words.ts';
import { HEIGHTS_FROM, PropertyChoice, PropertyNumber, PropertyText } from './Properties.tsx';
import { WallLengths } from './WallLengths.tsx';

export function RoomNote({ floor, room }: { floor: Floor; room: Room }) {
  const store = useEditorStore();
  const result = useEditor((state) => state.result);
  const stale = useEditor(isResultStale);
  const file = useEditor((state) => state.file);
  const shares = result?.rooms.find((each) => each.id === room.id);
  const inside = (at: readonly [number, number]): boolean => findRoomAt(floor.rooms, at) === room;
  const detectors = floor.detectors.filter((each) => inside(each.at)).length;
  const workplaces = floor.workplaces.filter((each) => inside(each.at)).length;
  const ids = [room.id];
  return (
    <>
      <NoteHead title={nameOf(floor, { kind: 'room', value: room })} aside={room.use ?? 'room'} about={room.id}>
        {shares === undefined
          ? null
          : `Seated people are seen on ${formatShare(shares.seated)} of it, walking people on ${formatShare(shares.walking)}.`}
      </NoteHead>
      <Ledger stale={stale}>
        <Row label="seen, seated">{formatShare(shares?.seated ?? null)}</Row>
        <Row label="seen, walking">{formatShare(shares?.walking ?? null)}</Row>
        <Row label="holds" wide>
          {count(detectors, 'detector')}, {count(workplaces, 'workplace')}
        </Row>
      </Ledger>
      <Ledger>
        <PropertyText ids={ids} property="name" label="name" />
        <PropertyText ids={ids} property="use" label="use" />
        <PropertyNumber
          ids={ids}
          property="ceiling"
          label="ceiling"
          field="ceiling"
          value={room.ceiling}
          rule={{ kind: 'length', above: 0, max: 50 }}
          subject={`Ceiling of ${room.name}`}
        />
        <PropertyChoice ids={ids} property="ceilingFrom" label="ceiling is" options={HEIGHTS_FROM} />
      </Ledger>
      <WallLengths room={room} />
      <Tiles room={room} />
      <div className="words">
        <button
          type="button"
          className="word"
          onClick={() => {
            startTool(store, 'split');
            focusPage();
          }}
        >
          Split along a line
        </button>
        {listMergeable(floor, file, room).map((other) => (
          <button
            key={other.id}
            type="button"
            className="word"
            onClick={() => makeEdit(store, mergeRooms(store.getState().file, room.id, other.id))}
          >
            Merge with <bdi>{other.name}</bdi>
          </button>
        ))}
      </div>
    </>
  );
}

/** Metres within which the boxes of two rooms meet. */
const NEAR = 0.5;

/** Rooms that share a stretch of wall with a room. */
function listMergeable(floor: Floor, file: FloorFile, room: Room): readonly Room[] {
  const box = computeBox(room.outline);
  return floor.rooms.filter((other) => {
    if (other.id === room.id) return false;
    const { minX, minY, maxX, maxY } = computeBox(other.outline);
    const isNear =
      minX <= box.maxX + NEAR && maxX >= box.minX - NEAR && minY <= box.maxY + NEAR && maxY >= box.minY - NEAR;
    return isNear && mergeRooms(file, room.id, other.id).ok;
  });
}

/** The ceiling grid: pitch, origin, turn. */
function Tiles({ room }: { readonly room: Room }) {
  const store = useEditorStore();
  const { tiles, id, name } = room;
  if (tiles === undefined)
    return (
      <div className="words">
        <button
          type="button"
          className="word"
          onClick={() => makeEdit(store, setTiles(store.getState().file, id, {}), true)}
        >
          Lay a ceiling grid
        </button>
      </div>
    );
  const pair = (of: readonly [number, number], axis: 0 | 1, value: number): [number, number] =>
    axis === 0 ? [value, of[1]] : [of[0], value];
  return (
    <>
      <Ledger title="Ceiling grid">
        {([0, 1] as const).map((axis) => (
          <NumberField
            key={`pitch ${axis}`}
            label={`pitch ${axis === 0 ? 'along' : 'across'}`}
            value={tiles.pitch[axis]}
            rule={{ kind: 'length', above: 0, max: 100 }}
            plan={(file, value) => setTiles(file, id, { pitch: pair(tiles.pitch, axis, value) })}
            subject={`Tiles of ${name}`}
          />
        ))}
        {([0, 1] as const).map((axis) => (
          <NumberField
            key={`origin ${axis}`}
            label={`a joint at ${axis === 0 ? 'x' : 'y'}`}
            value={tiles.origin[axis]}
            rule={{ kind: 'length', min: -10_000, max: 10_000 }}
            plan={(file, value) => setTiles(file, id, { origin: pair(tiles.origin, axis, value) })}
            subject={`Ceiling grid of ${name}`}
          />
        ))}
        <NumberField
          label="turn"
          value={tiles.turn}
          rule={{ kind: 'angle', min: -360, max: 360 }}
          plan={(file, value) => setTiles(file, id, { turn: value })}
          subject={`Turn of the ceiling grid of ${name}`}
        />
      </Ledger>
      <div className="words">
        <button
          type="button"
          className="word"
          onClick={() => makeEdit(store, setTiles(store.getState().file, id, null), true)}
        >
          Take the ceiling grid away
        </button>
      </div>
    </>
  );
}
