import { useEffect } from 'react';
import type { Floor } from '../../../core/floor/index.ts';
import type { Alternative } from '../../../core/planning/masks/alternatives.ts';
import type { MaskPart, MaskPlan, MaskSubject } from '../../../core/planning/masks/plan-masks.ts';
import type { PeopleCost } from '../../../core/planning/masks/trial.ts';
import type { Edit } from '../../../editor/edits/edit.ts';
import { placeThing } from '../../../editor/edits/moving.ts';
import { addPlannedMasks } from '../../../editor/edits/plans.ts';
import { setProperty } from '../../../editor/edits/properties.ts';
import { sayLocked } from '../../../editor/locks.ts';
import { useEditor, useEditorStore, useHost } from '../context.tsx';
import { makeEdit } from '../edit-actions.ts';
import { count, formatArea, formatDegrees, formatMetres, joinNames } from '../format.ts';
import { useAnswer } from '../questions/use-answer.ts';
import { Waiting } from '../questions/Waiting.tsx';
import { nameOfId } from '../words.ts';
import './plans.css';

/** Quiet milliseconds after a change before masks are worked out anew. */
const QUIET = 250;

interface Props {
  readonly subject: MaskSubject;
  /** What is hidden, in words: `Coffee machine`. */
  readonly what: string;
}

interface Found {
  readonly floor: Floor;
  readonly plan: MaskPlan | undefined;
}

/** What would hide a thing: masks with what they cost, one click each, and what would do instead. */
export default function MaskNote({ subject, what }: Props) {
  const { questions } = useHost();
  const floor = useEditor((state) => state.floor);
  const { answer, ask, stop } = useAnswer<Found>();
  const run = (): void =>
    ask(async (options) => ({ floor, plan: (await questions.planMasks(floor, subject, options))[0] }));
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked anew when the floor has changed and rests
  useEffect(() => {
    const timer = setTimeout(run, QUIET);
    return () => clearTimeout(timer);
  }, [floor, JSON.stringify(subject)]);
  const found = answer.kind === 'done' ? answer.value : null;
  return (
    <section className="plan-part" aria-label={`Masks for ${what}`}>
      <h3 className="ledger-title">Mask it</h3>
      <Waiting answer={answer} work="Trying masks" onStop={stop} onAsk={run} />
      {found?.plan !== undefined && found.floor === floor && <Plan floor={floor} plan={found.plan} what={what} />}
    </section>
  );
}

function Plan({ floor, plan, what }: { readonly floor: Floor; readonly plan: MaskPlan; readonly what: string }) {
  const store = useEditorStore();
  const mask = (parts: readonly MaskPart[]): void => {
    if (parts.some(({ detector }) => sayLocked(store, detector))) return;
    makeEdit(store, addPlannedMasks(store.getState().file, what, parts), true);
  };
  if (plan.parts.length === 0) return <p className="say">No detector sees it.</p>;
  return (
    <>
      {plan.parts.map((part) => {
        const name = nameOfId(floor, part.detector);
        return (
          <div key={part.detector} className="plan-choice">
            <p className="say">{sayMasks(name, part)}</p>
            <p>{sayCost(floor, part.cost)}</p>
            <div className="words">
              <button type="button" className="word" onClick={() => mask([part])}>
                Mask it from {name}
              </button>
              {part.alternatives.map((alternative) => (
                <Instead key={alternative.kind} floor={floor} id={part.detector} alternative={alternative} />
              ))}
            </div>
            {part.alternatives.length === 0 && (
              <p className="aside">
                {floor.detectors.some(({ id, locked }) => id === part.detector && locked)
                  ? `${name} is locked: unlock it first.`
                  : 'No move within 2.4 m, turn or other type of the floor does it without a loss.'}
              </p>
            )}
          </div>
        );
      })}
      {plan.parts.length > 1 && (
        <div className="plan-choice">
          <p>Together: {sayCost(floor, plan.cost)}</p>
          <div className="words">
            <button type="button" className="word" onClick={() => mask(plan.parts)}>
              Mask it from all {plan.parts.length}
            </button>
          </div>
        </div>
      )}
      {plan.remarks.map((remark) => (
        <p key={remark} className="plan-remark">
          {remark}
        </p>
      ))}
    </>
  );
}

function Instead({
  floor,
  id,
  alternative,
}: {
  readonly floor: Floor;
  readonly id: string;
  readonly alternative: Alternative;
}) {
  const store = useEditorStore();
  const make = (planned: Edit): void => {
    if (!sayLocked(store, id)) makeEdit(store, planned, true);
  };
  switch (alternative.kind) {
    case 'move':
      return (
        <button
          type="button"
          className="word"
          onClick={() => make(placeThing(store.getState().file, id, alternative.at))}
        >
          or move it by {formatMetres(alternative.by)}
        </button>
      );
    case 'turn':
      return (
        <button
          type="button"
          className="word"
          onClick={() => make(setProperty(store.getState().file, [id], 'turn', alternative.turn))}
        >
          or turn it to {formatDegrees(alternative.turn)}
        </button>
      );
    case 'type': {
      const type = floor.types.find((each) => each.id === alternative.type);
      return (
        <button
          type="button"
          className="word"
          onClick={() => make(setProperty(store.getState().file, [id], 'type', alternative.type))}
        >
          or use <bdi>{type?.name ?? alternative.type}</bdi>
        </button>
      );
    }
  }
}

function sayMasks(name: string, { masks }: MaskPart): string {
  const each = masks.map(({ from, to, inner, outer }) =>
    from === 0 && to === 360
      ? `all round, ${inner}° to ${outer}° from straight down`
      : `${from}° to ${to % 360}°, ${inner}° to ${outer}° from straight down`,
  );
  return `${name}: ${each.join(', and ')}.`;
}

function sayCost(floor: Floor, { seatedM2, walkingM2, workplaces, zones, entrances }: PeopleCost): string {
  const areas =
    seatedM2 === 0 && walkingM2 === 0
      ? 'It costs no place.'
      : `It costs ${formatArea(seatedM2)} for seated and ${formatArea(walkingM2)} for walking people.`;
  const lost = [
    ...(workplaces.length > 0 ? [count(workplaces.length, 'workplace')] : []),
    ...zones.map((id) => nameOfId(floor, id)),
    ...(entrances.length > 0 ? [count(entrances.length, 'entrance')] : []),
  ];
  return lost.length === 0 ? `${areas} Nobody is lost.` : `${areas} Lost: ${joinNames(lost)}.`;
}
