import { useEffect, useMemo, useState } from 'react';
import type { Floor, Furniture } from '../../../core/floor/index.ts';
import type { SweepResult } from '../../../core/planning/question/sweep.ts';
import { edit } from '../../../editor/history.ts';
import { setFurnitureTops } from '../../../editor/recipes.ts';
import { say } from '../../../editor/view.ts';
import { useEditor, useEditorStore, useHost } from '../context.tsx';
import { count, formatArea, formatChange, formatMetres, formatShare, joinNames } from '../format.ts';
import { Choice } from '../notes/Properties.tsx';
import { HeightCurve } from './HeightCurve.tsx';
import { useAnswer } from './use-answer.ts';
import { Waiting } from './Waiting.tsx';

const SELECTED = 'selected';

/** What pieces cost as they grow: the curve, who goes dark at which height, and the height that costs nobody. */
export default function WhatIf() {
  const store = useEditorStore();
  const { questions } = useHost();
  const floor = useEditor((state) => state.floor);
  const selection = useEditor((state) => state.selection);
  const held = useMemo(() => floor.furniture.filter((piece) => selection.includes(piece.id)), [floor, selection]);
  const kinds = useMemo(() => listKinds(floor), [floor]);
  const [chosen, setChosen] = useState<string>(held.length > 0 ? SELECTED : (kinds[0] ?? SELECTED));
  const pieces = chosen === SELECTED ? held : floor.furniture.filter((piece) => piece.kind === chosen);
  const ids = pieces.map((piece) => piece.id).join(' ');
  const { answer, ask, stop } = useAnswer<SweepResult>();
  const [top, setTop] = useState<number | null>(null);

  const run = (): void => {
    if (ids !== '') ask((options) => questions.sweep(floor, ids.split(' '), options));
  };
  // The curve is of the floor as it stands: another floor, or other pieces, ask anew.
  // biome-ignore lint/correctness/useExhaustiveDependencies: what is asked follows from these
  useEffect(run, [floor, ids]);

  const result = answer.kind === 'done' && answer.value.pieces.join(' ') === ids ? answer.value : null;
  const now = commonTop(pieces);
  const at = top ?? result?.free ?? now ?? 1.6;
  return (
    <>
      <div className="ledger">
        <Choice
          label="pieces"
          value={chosen}
          options={[
            ...(held.length > 0 || chosen === SELECTED
              ? [{ value: SELECTED, text: held.length === 1 ? (held[0]?.name ?? '') : `selected, ${held.length}` }]
              : []),
            ...kinds.map((kind) => ({ value: kind, text: `all ${kind}` })),
          ]}
          onChoose={(value) => {
            setChosen(value);
            setTop(null);
          }}
        />
      </div>
      {pieces.length === 0 && <p className="say">Select furniture, or choose a kind that stands on this floor.</p>}
      <Waiting answer={answer} work="Trying every height" onStop={stop} onAsk={run} />
      {result !== null && (
        <>
          <p className="say" role="status">
            {saySweep(floor, result, now)}
          </p>
          <HeightCurve result={result} now={now} at={at} />
          <label className="row-label" htmlFor="what-if-height">
            Height {formatMetres(at)}
          </label>
          <input
            id="what-if-height"
            className="slider"
            type="range"
            min={result.points[0]?.top ?? 0}
            max={result.points.at(-1)?.top ?? 0}
            step={0.01}
            value={at}
            onChange={(event) => setTop(Number(event.target.value))}
          />
          <HeightTable result={result} now={now} at={at} />
          <div className="words">
            <button
              type="button"
              className="word"
              onClick={() => {
                const name = `Set ${count(pieces.length, 'piece')} to ${formatMetres(at)}`;
                const outcome = edit(store, name, setFurnitureTops(ids.split(' '), at));
                if (!outcome.ok) say(store, outcome.refusal.faults[0]?.what ?? 'The floor would be faulty');
              }}
            >
              Set {pieces.length === 1 ? 'it' : 'them'} to {formatMetres(at)}
            </button>
          </div>
        </>
      )}
    </>
  );
}

function listKinds(floor: Floor): string[] {
  const counts = new Map<string, number>();
  for (const { kind } of floor.furniture) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  // What usually stands tall comes first.
  const order = ['shelving', 'screen', 'cabinet', 'partition'];
  const rank = (kind: string) => (order.includes(kind) ? order.indexOf(kind) : order.length);
  return [...counts.keys()].sort((a, b) => rank(a) - rank(b) || a.localeCompare(b));
}

function commonTop(pieces: readonly Furniture[]): number | null {
  const top = pieces[0]?.top ?? null;
  return pieces.every((piece) => piece.top === top) ? top : null;
}

function saySweep(floor: Floor, { workplaces, free, points }: SweepResult, now: number | null): string {
  if (workplaces.length === 0) return 'No workplace depends on the height of these pieces.';
  const names = workplaces.map(({ id }) => floor.workplaces.find((each) => each.id === id)?.name || id);
  const most = points.at(-1)?.top ?? 0;
  const upTo = free === null ? 'At no height tried' : `Up to ${formatMetres(free)}`;
  const lostNow = now === null ? [] : workplaces.filter(({ metUpTo }) => metUpTo === null || metUpTo < now);
  const cure =
    lostNow.length > 0 && free !== null
      ? ` As they stand ${count(lostNow.length, 'is', 'are')} lost; at ${formatMetres(free)} none is.`
      : '';
  return `${upTo} they cost no workplace; by ${formatMetres(most)} they have cost ${joinNames(names, 5)}.${cure}`;
}

function HeightTable({ result, now, at }: { result: SweepResult; now: number | null; at: number }) {
  const pick = (top: number) =>
    result.points.reduce((best, point) => (Math.abs(point.top - top) < Math.abs(best.top - top) ? point : best));
  const [a, b] = [now === null ? null : pick(now), pick(at)];
  const rows = [
    { label: 'seated blind', of: (point: typeof b) => point.seatedBlindM2, say: formatArea, digits: 1 },
    { label: 'walking blind', of: (point: typeof b) => point.walkingBlindM2, say: formatArea, digits: 1 },
    { label: 'workplaces met', of: (point: typeof b) => point.workplacesMet[0], say: String, digits: 0 },
  ];
  return (
    <table className="compared">
      <thead>
        <tr>
          <th scope="col">at the nearest height tried</th>
          {a !== null && <th scope="col">{formatMetres(a.top)}</th>}
          <th scope="col">{formatMetres(b.top)}</th>
          {a !== null && <th scope="col">change</th>}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ label, of, say: write, digits }) => (
          <tr key={label}>
            <th scope="row">{label}</th>
            {a !== null && <td>{write(of(a))}</td>}
            <td>{write(of(b))}</td>
            {a !== null && (
              <td>{formatChange(Number(of(b).toFixed(digits)) - Number(of(a).toFixed(digits)), digits) ?? '0'}</td>
            )}
          </tr>
        ))}
        <tr>
          <th scope="row">seen, seated</th>
          {a !== null && <td>{formatShare(a.seatedShare)}</td>}
          <td>{formatShare(b.seatedShare)}</td>
          {a !== null && <td />}
        </tr>
      </tbody>
    </table>
  );
}
