import { useEffect, useMemo } from 'react';
import type { Floor } from '../../../core/floor/index.ts';
import type { MoveRoomResult, MoveRoom as Room } from '../../../core/planning/question/move-room.ts';
import type { Guide } from '../../../editor/tools/guide.ts';
import { flyTo, select } from '../../../editor/view.ts';
import { useEditor, useEditorStore, useHost } from '../context.tsx';
import { count, formatMetres } from '../format.ts';
import { nameOfId } from '../words.ts';
import { useAnswer } from './use-answer.ts';
import { Waiting } from './Waiting.tsx';

interface Found {
  readonly floor: Floor;
  readonly result: MoveRoomResult;
}

/** Where each detector may hang with every need still met: on the plan and as a list. */
export default function MoveRoom() {
  const store = useEditorStore();
  const { questions } = useHost();
  const floor = useEditor((state) => state.floor);
  const selection = useEditor((state) => state.selection);
  const { answer, ask, stop } = useAnswer<Found>();
  const run = (): void => ask(async (options) => ({ floor, result: await questions.findMoveRoom(floor, options) }));
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked once when opened, then by hand
  useEffect(run, []);
  const found = answer.kind === 'done' ? answer.value : null;
  const isStale = found !== null && found.floor !== floor;
  const rooms = found?.result.detectors ?? [];
  const held = rooms.filter((room) => selection.includes(room.detector));
  const sketch = useMemo(
    () => (isStale ? [] : (held.length > 0 ? held : rooms).flatMap(drawRoom)),
    [isStale, held, rooms],
  );
  const key = JSON.stringify(sketch);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the same signs are not drawn again
  useEffect(() => store.setState({ sketch }), [store, key]);
  useEffect(() => () => store.setState({ sketch: [] }), [store]);
  const critical = rooms.filter((room) => room.critical);
  return (
    <>
      <Waiting answer={answer} work="Trying every place" onStop={stop} onAsk={run} />
      {found !== null && (
        <div className={isStale ? 'stale' : ''}>
          <p className="say" role="status">
            Within {formatMetres(found.result.within)}, every need still met, the others where they are:{' '}
            {critical.length === 0
              ? 'every detector has room.'
              : `${count(critical.length, 'detector', 'detectors')} may hang nowhere else.`}
          </p>
          {isStale && (
            <div className="words">
              <button type="button" className="word" onClick={run}>
                The floor has changed: ask again
              </button>
            </div>
          )}
          <ul className="answers" aria-label="Detectors, least room first">
            {[...rooms]
              .sort((a, b) => a.allowed / a.places.length - b.allowed / b.places.length)
              .map((room) => (
                <li key={room.detector}>
                  <button
                    type="button"
                    aria-pressed={selection.includes(room.detector)}
                    onClick={() => {
                      select(store, [room.detector]);
                      const at = room.places[0]?.at;
                      if (at !== undefined) flyTo(store, at, [room.detector]);
                    }}
                  >
                    <span className="answer-text">{nameOfId(floor, room.detector)}</span>
                    <span className="answer-aside">
                      {room.critical ? <span className="lost">critical, may hang nowhere else</span> : sayRoom(room)}
                    </span>
                  </button>
                </li>
              ))}
          </ul>
        </div>
      )}
    </>
  );
}

function sayRoom({ allowed, places, on }: Room): string {
  return `${allowed} of ${places.length} ${on === 'tiles' ? 'tiles' : 'places'}`;
}

function drawRoom({ places }: Room): Guide[] {
  return places
    .filter((place, k) => place.allowed && k > 0)
    .map(({ at }) => ({ kind: 'mark', mark: 'edge', at }) as const);
}
