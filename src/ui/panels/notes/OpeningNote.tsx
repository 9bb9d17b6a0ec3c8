import { type Floor, headOf, type Opening } from '../../../core/floor/index.ts';
import { setOpeningHeights, setOpeningWidth, slideOpening } from '../../../editor/edits/openings.ts';
import { findOpeningPlace } from '../../../editor/edits/walls.ts';
import { useEditor } from '../context.tsx';
import { formatMetres } from '../format.ts';
import { Ledger, Row } from '../Ledger.tsx';
import { NoteHead } from '../NoteHead.tsx';
import { NumberField } from '../NumberField.tsx';
import { nameOf } from '../words.ts';
import { PropertyChoice } from './Properties.tsx';

const KINDS = [
  { value: 'door', text: 'door' },
  { value: 'window', text: 'window' },
  { value: 'passage', text: 'passage' },
] as const;
const STATES = [
  { value: 'closed', text: 'closed' },
  { value: 'open', text: 'open' },
] as const;

export function OpeningNote({ floor, opening }: { readonly floor: Floor; readonly opening: Opening }) {
  const result = useEditor((state) => state.result);
  const file = useEditor((state) => state.file);
  const { id, from, to, sill } = opening;
  const title = nameOf(floor, { kind: 'opening', value: opening });
  const written = file.openings?.find((each) => each.id === id);
  const spot = written === undefined ? undefined : findOpeningPlace(file, written);
  const ways = (result?.entrances ?? []).filter((each) => each.id === id);
  const ids = [id];
  return (
    <>
      <NoteHead title={title} aside={opening.kind} about={id} />
      <Ledger>
        <PropertyChoice ids={ids} property="kind" label="kind" options={KINDS} />
        {opening.kind === 'door' && (
          <PropertyChoice ids={ids} property="state" label="state" options={STATES} none="closed" />
        )}
        <NumberField
          label="width"
          field="width"
          value={Math.hypot(to[0] - from[0], to[1] - from[1])}
          rule={{ kind: 'length', min: 0.1, max: 100 }}
          plan={(before, value) => setOpeningWidth(before, id, value)}
          subject={`Width of ${title}`}
        />
        {spot !== undefined && (
          <NumberField
            label="from the corner"
            value={spot.along}
            rule={{ kind: 'length', min: 0, max: 10_000 }}
            plan={(before, value) => slideOpening(before, id, value)}
            subject={`Place of ${title} in its wall`}
            aside={`of ${formatMetres(spot.wall.length)}`}
          />
        )}
        <NumberField
          label="sill"
          value={sill}
          rule={{ kind: 'length', min: 0, max: 50 }}
          plan={(before, value) => setOpeningHeights(before, id, { sill: value })}
          subject={`Sill of ${title}`}
        />
        <NumberField
          label="head"
          value={headOf(opening, floor)}
          rule={{ kind: 'length', min: 0, max: 50 }}
          plan={(before, value) => setOpeningHeights(before, id, { head: value })}
          subject={`Head of ${title}`}
          aside={opening.head === undefined ? 'as usual' : undefined}
        />
        <NumberField
          label="depth"
          value={opening.depth}
          rule={{ kind: 'length', above: 0, max: 100 }}
          plan={(before, value) => setOpeningHeights(before, id, { depth: value })}
          subject={`Depth of ${title}`}
        />
      </Ledger>
      {ways.length > 0 && (
        <Ledger title="Walking in, seen after">
          {ways.map((way) => (
            <Row key={way.room} label={<bdi>{nameOfRoom(floor, way.room)}</bdi>}>
              {way.firstSeenM === null ? <span className="failing">never</span> : formatMetres(way.firstSeenM)}
            </Row>
          ))}
        </Ledger>
      )}
    </>
  );
}

function nameOfRoom(floor: Floor, id: string): string {
  const room = floor.rooms.find((each) => each.id === id);
  return room === undefined ? id : `into ${room.name}`;
}
