import { useEffect, useState } from 'react';
import type { Floor, FloorFile } from '../../../core/floor/index.ts';
import { resolveFloor } from '../../../core/floor/index.ts';
import type { Change } from '../../../core/planning/question/change.ts';
import { findThing, placeOf } from '../../../editor/things.ts';
import { flyTo } from '../../../editor/view.ts';
import { useEditor, useEditorStore, useHost } from '../context.tsx';
import { count } from '../format.ts';
import { MapKey } from './MapKey.tsx';
import type { Compared } from './question-port.ts';
import { useAnswer } from './use-answer.ts';
import { Waiting } from './Waiting.tsx';

/** The other state, and what to call it. */
interface Other {
  readonly name: string;
  readonly file: FloorFile;
}

interface Told extends Compared {
  readonly other: Other;
  readonly floor: Floor;
}

/** Two states of a floor: a difference map on the plan, and in words what changed. */
export default function Compare() {
  const store = useEditorStore();
  const { questions } = useHost();
  const floor = useEditor((state) => state.floor);
  const saved = useEditor((state) => state.savedFile);
  const current = useEditor((state) => state.file);
  const first = useEditor((state) => state.past[0]?.file ?? null);
  const plane = useEditor((state) => state.plane);
  const { answer, ask, stop } = useAnswer<Told>();
  const [isMapped, setMapped] = useState(true);
  const compareWith = (other: Other): void =>
    ask(async (options) => ({
      other,
      floor,
      ...(await questions.compare(resolveFloor(other.file), floor, options)),
    }));
  const told = answer.kind === 'done' ? answer.value : null;
  const other = told?.other;
  // A floor that changes under the comparison is compared anew with the same other one.
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked anew for another floor only
  useEffect(() => {
    if (other !== undefined && told?.floor !== floor) compareWith(other);
  }, [floor]);
  const map = told?.differences.find((each) => each.plane === plane) ?? null;
  useEffect(() => store.setState({ difference: isMapped ? map : null }), [store, map, isMapped]);
  useEffect(() => () => store.setState({ difference: null }), [store]);
  const choose = async (): Promise<void> => {
    const chosen = await questions.readOther();
    if (chosen !== null) compareWith({ name: chosen.name, file: chosen.file });
  };
  return (
    <>
      <p className="say">Hold the open floor against</p>
      <div className="words">
        <button type="button" className="word" onClick={() => void choose()}>
          another file
        </button>
        {saved !== null && saved !== current && (
          <button type="button" className="word" onClick={() => compareWith({ name: 'as last saved', file: saved })}>
            what was last saved
          </button>
        )}
        {first !== null && first !== saved && (
          <button type="button" className="word" onClick={() => compareWith({ name: 'as it was first', file: first })}>
            what it was before all steps
          </button>
        )}
      </div>
      <Waiting
        answer={answer}
        work="Comparing"
        onStop={stop}
        onAsk={() => {
          if (other !== undefined) compareWith(other);
        }}
      />
      {told !== null && (
        <>
          {map !== null && (
            <>
              <MapKey
                rows={[
                  { sign: 'red', text: 'blind only now', areaM2: map.areaM2.blindNow },
                  { sign: 'grey', text: 'blind before and now', areaM2: map.areaM2.blindStill },
                  { sign: 'plus', text: 'seen only now', areaM2: map.areaM2.seenNow },
                ]}
              />
              <div className="words">
                <button type="button" className="word" aria-pressed={isMapped} onClick={() => setMapped(!isMapped)}>
                  {isMapped ? 'Show the floor as it is' : 'Show the difference'}
                </button>
              </div>
            </>
          )}
          <Totals {...told} />
          <Changes
            changes={told.compared.changes}
            onGo={(id) => {
              const thing = findThing(floor, id);
              if (thing !== undefined) flyTo(store, placeOf(floor, thing), [id]);
            }}
          />
        </>
      )}
    </>
  );
}

function Totals({ compared, other }: Told) {
  const { workplacesMet } = compared;
  const [was, is] = [workplacesMet.old, workplacesMet.new];
  const worse = compared.changes.filter((change) => change.turn === 'worse').length;
  const better = compared.changes.filter((change) => change.turn === 'better').length;
  const by = is[0] - was[0];
  const sentence =
    compared.changes.length === 0
      ? 'Nothing differs.'
      : `${is[0]} of ${is[1]} workplaces are met, ${by === 0 ? 'as many as' : by > 0 ? `${by} more than` : `${-by} fewer than`} ${other.name}; ${count(worse, 'thing')} got worse, ${better} better.`;
  return (
    <p className="say" role="status">
      {sentence}
    </p>
  );
}

function Changes({ changes, onGo }: { changes: readonly Change[]; onGo: (id: string) => void }) {
  if (changes.length === 0) return null;
  return (
    <ul className="answers" aria-label="What changed">
      {changes.slice(0, 300).map((change) => (
        <li key={`${change.subject} ${change.id} ${change.text}`} className={change.turn}>
          <button type="button" onClick={() => onGo(change.id)}>
            <span className="answer-text" dir="auto">
              {change.text}
            </span>
            {change.turn !== 'same' && <span className="answer-aside">{change.turn}</span>}
          </button>
        </li>
      ))}
    </ul>
  );
}
