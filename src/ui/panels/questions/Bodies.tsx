import { useEffect, useState } from 'react';
import type { BodyField, Posture } from '../../../core/planning/question/bodies.ts';
import { flyTo } from '../../../editor/view.ts';
import { useEditor, useEditorStore, useHost } from '../context.tsx';
import { formatShare } from '../format.ts';
import { Choice } from '../notes/Properties.tsx';
import { MapKey } from './MapKey.tsx';
import { useAnswer } from './use-answer.ts';
import { Waiting } from './Waiting.tsx';

/** How much of a small person serving detectors see: over the whole floor and at each workplace. */
export default function Bodies() {
  const store = useEditorStore();
  const { questions } = useHost();
  const floor = useEditor((state) => state.floor);
  const [posture, setPosture] = useState<Posture>('seated');
  const { answer, ask, stop } = useAnswer<BodyField>();
  const run = (): void => ask((options) => questions.computeBodies(floor, posture, options));
  // biome-ignore lint/correctness/useExhaustiveDependencies: what is asked follows from these
  useEffect(run, [floor, posture]);
  const field = answer.kind === 'done' ? answer.value : null;
  useEffect(() => store.setState({ difference: field?.map ?? null }), [store, field]);
  useEffect(() => () => store.setState({ difference: null }), [store]);
  const rows = field?.workplaces.filter((each) => each.view !== 'whole') ?? [];
  return (
    <>
      <div className="ledger">
        <Choice
          label="person"
          value={posture}
          options={[
            { value: 'seated', text: 'seated' },
            { value: 'standing', text: 'standing' },
          ]}
          onChoose={(value) => setPosture(value === 'standing' ? 'standing' : 'seated')}
        />
      </div>
      <p className="say">
        A small woman (5th percentile of an open body survey); tops that nobody measured or drew are taken tall.
      </p>
      <Waiting answer={answer} work="Looking at every place" onStop={stop} onAsk={run} />
      {field !== null && (
        <>
          <MapKey
            rows={[
              { sign: 'red', text: 'nothing of the body is seen', areaM2: field.map.areaM2.blindNow },
              { sign: 'grey', text: 'a part of it is seen', areaM2: field.map.areaM2.blindStill },
            ]}
          />
          <p className="say" role="status">
            {field.workplaces.length - rows.length} of {field.workplaces.length} {posture} workplaces are seen whole.
          </p>
          {rows.length > 0 && (
            <ul className="answers" aria-label="Workplaces not seen whole">
              {rows.map(({ id, share, view, seenBy }) => {
                const workplace = floor.workplaces.find((each) => each.id === id);
                return (
                  <li key={id}>
                    <button type="button" onClick={() => workplace && flyTo(store, workplace.at, [id])}>
                      <span className="answer-text">{workplace?.name || id}</span>
                      <span className="answer-aside">
                        {formatShare(share)}, {view}
                        {seenBy.map(({ detector, share: part }) => `; ${detector} sees ${formatShare(part)}`).join('')}
                      </span>
                    </button>
                  </li>
                );
              })}
            </ul>
          )}
        </>
      )}
    </>
  );
}
