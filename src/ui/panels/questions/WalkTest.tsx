import { useEffect, useMemo, useState } from 'react';
import { type Floor, nameOf } from '../../../core/floor/index.ts';
import { ALLOWED_DARK_M, listTestPoints, type TestPoint } from '../../../core/planning/walk-test/test-points.ts';
import {
  type Found,
  readRecords,
  sayDisagreement,
  type TestRecord,
  writeRecord,
} from '../../../core/planning/walk-test/test-records.ts';
import { edit } from '../../../editor/history.ts';
import { isResultStale } from '../../../editor/store.ts';
import { flyTo } from '../../../editor/view.ts';
import { useEditor, useEditorStore } from '../context.tsx';
import { formatArea, formatMetres, formatShare } from '../format.ts';
import { nameOfId } from '../words.ts';

/** Who walks: kept from point to point. */
let lastWalker = '';

/** The walk test on site: point by point, what is expected, and what is found goes into the floor file. */
export default function WalkTest() {
  const store = useEditorStore();
  const floor = useEditor((state) => state.floor);
  const result = useEditor((state) => state.result);
  const isStale = useEditor(isResultStale);
  const points = useMemo(() => (result === null ? [] : listTestPoints(floor, result)), [floor, result]);
  const records = useMemo(() => readRecords(floor, points), [floor, points]);
  const [chosen, setChosen] = useState<string | null>(null);
  const at = Math.max(
    0,
    points.findIndex((point) => point.no === chosen),
  );
  const point = points[chosen === null ? nextOpen(points, records, 0) : at];
  useEffect(() => {
    if (point !== undefined) flyTo(store, point.at, [point.about]);
  }, [store, point]);
  if (isStale && points.length === 0) return <p className="say">The floor is being checked.</p>;
  if (point === undefined) return <p className="say">There is nothing to walk: no entrance, no workplace.</p>;
  const step = (by: number): void => {
    const next = points[(points.indexOf(point) + by + points.length) % points.length];
    if (next !== undefined) setChosen(next.no);
  };
  const failed = [...records.values()].filter((record) => !record.pass).length;
  return (
    <>
      <p className="say" role="status">
        {records.size} of {points.length} points are walked{failed > 0 ? `, ${failed} not passed` : ''}.
      </p>
      <Point
        key={point.no}
        point={point}
        floor={floor}
        record={records.get(point.no) ?? null}
        onFound={(found, by, note) => {
          lastWalker = by;
          const date = new Date().toISOString().slice(0, 10);
          edit(store, `Recorded ${point.no}`, (draft) => {
            // A record is plain data; the draft takes it as it is.
            const record = writeRecord(point, found, date, by, note) as NonNullable<typeof draft.records>[number];
            draft.records = [...(draft.records ?? []), record];
          });
          const next = points[nextOpen(points, records, points.indexOf(point) + 1)];
          if (next !== undefined) setChosen(next.no);
        }}
      />
      <div className="words">
        <button type="button" className="word" onClick={() => step(-1)}>
          Point before
        </button>
        <button type="button" className="word" onClick={() => step(1)}>
          Next point
        </button>
      </div>
    </>
  );
}

/** The first point from here on that nobody has walked, else the one after this. */
function nextOpen(points: readonly TestPoint[], records: ReadonlyMap<string, TestRecord>, from: number): number {
  const open = points.findIndex((point, k) => k >= from && !records.has(point.no));
  return open >= 0 ? open : Math.min(from, points.length - 1);
}

interface PointProps {
  readonly point: TestPoint;
  readonly floor: Floor;
  readonly record: TestRecord | null;
  readonly onFound: (found: Found, by: string, note: string) => void;
}

function Point({ point, floor, record, onFound }: PointProps) {
  const [metres, setMetres] = useState(record?.found.metres?.toFixed(2) ?? '');
  const [by, setBy] = useState(record?.by ?? lastWalker);
  const [note, setNote] = useState(record?.note ?? '');
  const isEntrance = point.part === 'entrance';
  const length = Number(metres.replace(',', '.'));
  const isLength = metres.trim() !== '' && Number.isFinite(length) && length >= 0 && length <= 100;
  const disagreement = record === null ? null : sayDisagreement(point, record);
  const find = (seen: boolean): void => {
    const found: Found = isEntrance && seen ? { seen, metres: length } : { seen };
    onFound(found, by.trim(), note.trim());
  };
  return (
    <>
      <h3 className="test-point">
        {point.no} · <bdi>{nameOfId(floor, point.about)}</bdi>
      </h3>
      <p className="say">{sayExpected(point, floor)}</p>
      {record !== null && (
        <p className="say">
          {record.pass ? 'Passed' : 'Not passed'}, {record.date} {record.by}
          {disagreement === null ? '.' : `: ${disagreement}.`}
        </p>
      )}
      <div className="test-fields">
        {isEntrance && (
          <label>
            Metres until the light
            <input
              className="field wide"
              inputMode="decimal"
              value={metres}
              aria-invalid={metres !== '' && !isLength}
              onChange={(event) => setMetres(event.target.value)}
            />
          </label>
        )}
        <label>
          Note
          <input
            className="field wide"
            maxLength={500}
            value={note}
            onChange={(event) => setNote(event.target.value)}
          />
        </label>
        <label>
          Name
          <input className="field wide" maxLength={100} value={by} onChange={(event) => setBy(event.target.value)} />
        </label>
      </div>
      <div className="test-answers">
        <button type="button" className="test-answer" disabled={isEntrance && !isLength} onClick={() => find(true)}>
          {point.part === 'quiet' ? 'It switched' : 'Seen'}
        </button>
        <button type="button" className="test-answer" onClick={() => find(false)}>
          {point.part === 'quiet' ? 'It stayed dark' : 'Not seen'}
        </button>
      </div>
    </>
  );
}

/** The room walked into, by its name alone. */
function sayRoom(floor: Floor, id: string | null): string {
  const room = floor.rooms.find((each) => each.id === id);
  return room === undefined ? 'the room' : nameOf(room);
}

function sayExpected({ predicted, room }: TestPoint, floor: Floor): string {
  switch (predicted.kind) {
    case 'entrance': {
      const into = `Walk straight into ${sayRoom(floor, room)}`;
      return predicted.firstSeenM === null
        ? `${into}. The light is expected not to come at all.`
        : `${into}. The light is expected after ${formatMetres(predicted.firstSeenM)}; ${formatMetres(ALLOWED_DARK_M)} is allowed.`;
    }
    case 'seat':
      return predicted.met
        ? `Sit, and move only your hands. You are expected to be seen${predicted.lostAtLessRange ? ', though at the very edge' : ''}.`
        : `Sit, and move only your hands. You are expected not to be seen well enough: ${formatShare(predicted.share)}.`;
    case 'spill':
      return `Walk in ${sayRoom(floor, room)} with every door open. ${formatArea(predicted.areaM2)} of it may switch this group.`;
    case 'zone':
      return predicted.met
        ? 'Walk here. Nothing is expected to switch.'
        : 'Walk here. Something is expected to switch.';
    case 'source':
      return 'Let it run or blow. Nothing may switch.';
  }
}
