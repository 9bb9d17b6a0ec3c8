import { useEffect } from 'react';
import type { Floor, Point } from '../../../core/floor/index.ts';
import type { StressCaseResult, StressResult } from '../../../core/planning/question/stress.ts';
import { findThing, placeOf } from '../../../editor/things.ts';
import { flyTo } from '../../../editor/view.ts';
import { useEditor, useEditorStore, useHost } from '../context.tsx';
import { count, formatShare, joinNames } from '../format.ts';
import { nameOfId } from '../words.ts';
import { useAnswer } from './use-answer.ts';
import { Waiting } from './Waiting.tsx';

interface Stressed {
  readonly floor: Floor;
  readonly result: StressResult;
}

/** Which verdicts do not hold when something is otherwise than drawn. */
export default function Stress() {
  const store = useEditorStore();
  const { questions } = useHost();
  const floor = useEditor((state) => state.floor);
  const { answer, ask, stop } = useAnswer<Stressed>();
  const run = (): void => ask(async (options) => ({ floor, result: await questions.stress(floor, options) }));
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked once when opened, then by hand
  useEffect(run, []);
  const go = (ids: readonly string[]): void => {
    const thing = ids[0] === undefined ? undefined : findThing(floor, ids[0]);
    if (thing !== undefined) flyTo(store, placeOf(floor, thing) as Point, ids);
  };
  return (
    <>
      <p className="say">
        All doors open, each raised desk up, reach 0.8, each assumed height 0.2 m off, each detector 0.6 m off: one at a
        time, the rest as drawn.
      </p>
      <Waiting answer={answer} work="Trying every case" onStop={stop} onAsk={run} />
      {answer.kind === 'done' && (
        <Results {...answer.value} isStale={answer.value.floor !== floor} onGo={go} onAsk={run} />
      )}
    </>
  );
}

interface ResultsProps extends Stressed {
  readonly isStale: boolean;
  readonly onGo: (ids: readonly string[]) => void;
  readonly onAsk: () => void;
}

function Results({ floor, result, isStale, onGo, onAsk }: ResultsProps) {
  const costly = result.cases.filter((each) => listLost(each).length > 0);
  const worst = result.workplaces.filter((each) => each.met && each.worst !== null && !each.worst.met);
  return (
    <div className={isStale ? 'stale' : ''}>
      <p className="say" role="status">
        {result.holds
          ? `Nothing is lost in any of ${count(result.cases.length, 'case')}.`
          : `${count(costly.length, 'case')} of ${result.cases.length} lose something that is met as drawn.`}
      </p>
      {isStale && (
        <div className="words">
          <button type="button" className="word" onClick={onAsk}>
            The floor has changed: ask again
          </button>
        </div>
      )}
      {worst.length > 0 && (
        <ul className="answers" aria-label="Workplaces at their worst">
          {worst.map(({ id, share, worst: at }) => (
            <li key={id}>
              <button type="button" onClick={() => onGo([id])}>
                <span className="answer-text">{nameOfId(floor, id)}</span>
                <span className="answer-aside">
                  {formatShare(share)} as drawn, {formatShare(at?.share ?? null)} at worst:{' '}
                  {result.cases[at?.case ?? 0]?.text}
                </span>
              </button>
            </li>
          ))}
        </ul>
      )}
      {costly.length > 0 && (
        <ul className="answers" aria-label="Cases that lose something">
          {costly.map((each) => (
            <li key={each.text}>
              <button type="button" onClick={() => onGo([...listLost(each), ...each.about])}>
                <span className="answer-text">{each.text}</span>
                <span className="answer-aside">
                  <span className="lost">{joinNames(listLost(each).map((id) => nameOfId(floor, id)))}</span> lost,{' '}
                  {each.workplacesMet[0]} of {each.workplacesMet[1]} workplaces met
                </span>
              </button>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

function listLost({ lost }: StressCaseResult): string[] {
  return [...lost.workplaces, ...lost.zones, ...lost.entrances];
}
