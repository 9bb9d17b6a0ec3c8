/** Notes of the things that are edited little: rooms, openings, zones, sources, luminaires, groups. */

import { type Floor, findRoomAt, headOf, type Room, shareOf } from '../../core/floor/index.ts';
import { setCeiling, setDoorState, setName } from '../../editor/recipes.ts';
import { isResultStale } from '../../editor/store.ts';
import { placeOf, type Thing } from '../../editor/things.ts';
import { useEditor } from './context.tsx';
import { SelectField, TextField } from './Fields.tsx';
import { count, formatMetres, formatPlace, formatShare, joinNames } from './format.ts';
import { Ledger, Row } from './Ledger.tsx';
import { NoteHead } from './NoteHead.tsx';
import { NumberField } from './NumberField.tsx';
import { nameOf, nameOfId } from './words.ts';

export function RoomNote({ floor, room }: { floor: Floor; room: Room }) {
  const result = useEditor((state) => state.result);
  const stale = useEditor(isResultStale);
  const shares = result?.rooms.find((each) => each.id === room.id);
  const inside = (at: readonly [number, number]): boolean => findRoomAt(floor.rooms, at) === room;
  const detectors = floor.detectors.filter((each) => inside(each.at)).length;
  const workplaces = floor.workplaces.filter((each) => inside(each.at)).length;
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
        <NumberField
          label="ceiling"
          value={room.ceiling}
          rule={{ kind: 'length', above: 0, max: 50 }}
          recipe={(ceiling) => setCeiling(room.id, ceiling)}
          subject={`Ceiling of ${room.name}`}
          aside={room.ceilingFrom}
        />
        <TextField label="name" value={room.name} recipe={(value) => setName('rooms', room.id, value)} subject="Name" />
      </Ledger>
    </>
  );
}

/** One note for everything else: its numbers as the file states them, its name to be written. */
export function OtherNote({ floor, thing }: { floor: Floor; thing: Thing }) {
  const result = useEditor((state) => state.result);
  const at = formatPlace(placeOf(floor, thing));
  const head = <NoteHead title={nameOf(floor, thing)} aside={asideOf(thing)} about={thing.value.id} />;
  switch (thing.kind) {
    case 'opening': {
      const { value } = thing;
      const width = Math.hypot(value.to[0] - value.from[0], value.to[1] - value.from[1]);
      const ways = (result?.entrances ?? []).filter((each) => each.id === value.id);
      return (
        <>
          {head}
          <Ledger>
            {value.kind === 'door' && (
              <SelectField
                label="state"
                value={value.state ?? 'closed'}
                options={[
                  { value: 'closed', text: 'closed' },
                  { value: 'open', text: 'open' },
                ]}
                recipe={(state: 'open' | 'closed') => setDoorState(value.id, state)}
                subject={`${nameOf(floor, thing)}`}
              />
            )}
            <Row label="width">{formatMetres(width)}</Row>
            <Row label="head">{formatMetres(headOf(value, floor))}</Row>
            <Row label="sill">{formatMetres(value.sill)}</Row>
            <Row label="place" wide>
              {at}
            </Row>
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
    case 'zone': {
      const { value } = thing;
      const verdict = result?.zones.find((each) => each.id === value.id);
      return (
        <>
          {head}
          <Ledger>
            <Row label="need" wide>
              {value.need}
            </Row>
            <Row
              label="share"
              aside={`${value.need === 'nobody' ? 'at most' : 'at least'} ${formatShare(shareOf(value))}`}
            >
              {verdict === undefined ? (
                ''
              ) : (
                <span className={verdict.met ? undefined : 'failing'}>{formatShare(verdict.share)}</span>
              )}
            </Row>
            {verdict !== undefined && (
              <Row label="verdict">{verdict.met ? 'met' : <span className="failing">not met</span>}</Row>
            )}
            <TextField
              label="name"
              value={value.name}
              recipe={(name) => setName('zones', value.id, name)}
              subject="Name"
            />
          </Ledger>
        </>
      );
    }
    case 'source': {
      const { value } = thing;
      const seen = result?.sources.find((each) => each.id === value.id);
      return (
        <>
          {head}
          <Ledger>
            <Row label="seen by" wide>
              {seen === undefined || seen.seenBy.length === 0 ? (
                'no detector'
              ) : (
                <bdi>{joinNames(seen.seenBy.map((id) => nameOfId(floor, id)))}</bdi>
              )}
            </Row>
            <Row label="from, to" wide>
              {value.base.toFixed(2)} to {formatMetres(value.top)}
            </Row>
            <Row label="radius">{formatMetres(value.radius)}</Row>
            <Row label="place" wide>
              {at}
            </Row>
            <TextField
              label="name"
              value={value.name}
              recipe={(name) => setName('sources', value.id, name)}
              subject="Name"
            />
          </Ledger>
        </>
      );
    }
    case 'luminaire': {
      const { value } = thing;
      return (
        <>
          {head}
          <Ledger>
            <Row label="from, to" wide>
              {value.base.toFixed(2)} to {formatMetres(value.top)}
            </Row>
            <Row label="size" wide>
              {value.size[0].toFixed(2)} × {formatMetres(value.size[1])}
            </Row>
            <Row label="place" wide>
              {at}
            </Row>
            <TextField
              label="name"
              value={value.name}
              recipe={(name) => setName('luminaires', value.id, name)}
              subject="Name"
            />
          </Ledger>
        </>
      );
    }
    case 'group': {
      const { value } = thing;
      return (
        <>
          {head}
          <Ledger>
            <Row label="main" wide>
              <bdi>{nameOfId(floor, value.main)}</bdi>
            </Row>
            <Row label="extensions" wide>
              {value.extensions.length === 0 ? (
                'none'
              ) : (
                <bdi>{joinNames(value.extensions.map((id) => nameOfId(floor, id)))}</bdi>
              )}
            </Row>
            <TextField
              label="name"
              value={value.name}
              recipe={(name) => setName('groups', value.id, name)}
              subject="Name"
            />
          </Ledger>
        </>
      );
    }
    default:
      return head;
  }
}

function asideOf(thing: Thing): string {
  switch (thing.kind) {
    case 'opening':
    case 'source':
      return thing.value.kind;
    default:
      return thing.kind;
  }
}

function nameOfRoom(floor: Floor, id: string): string {
  const room = floor.rooms.find((each) => each.id === id);
  return room === undefined ? id : `into ${room.name}`;
}
