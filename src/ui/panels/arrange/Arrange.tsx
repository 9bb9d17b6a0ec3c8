import { useEffect, useRef, useState } from 'react';
import type { FloorFile, Point } from '../../../core/floor/index.ts';
import type { ArrangeNews, ArrangeOptions, ArrangeResult } from '../../../core/planning/arrange/index.ts';
import { type HungPlace, writeProposal } from '../../../core/planning/arrange/proposal.ts';
import type { Planned } from '../../../editor/edits/edit.ts';
import type { Guide } from '../../../editor/tools/guide.ts';
import { flyTo, select } from '../../../editor/view.ts';
import { useEditor, useEditorStore, useHost } from '../context.tsx';
import { makeEdit } from '../edit-actions.ts';
import { count } from '../format.ts';
import { ArrangeChoices } from './ArrangeChoices.tsx';
import { firstChoices, readTurns, rememberChoices, toOptions } from './arrange-state.ts';
import { SeatCurve } from './SeatCurve.tsx';
import './arrange.css';

/** Radius of the ring that stands for a detector of the draft, metres. */
const RING = 0.22;

/** What an arrangement was asked of. */
interface Asked {
  readonly file: FloorFile;
  readonly options: ArrangeOptions;
}

type Stage =
  | { readonly kind: 'choosing'; readonly says: string | null }
  | { readonly kind: 'searching'; readonly asked: Asked; readonly news: ArrangeNews | null }
  | {
      readonly kind: 'drafted';
      readonly asked: Asked;
      readonly places: readonly HungPlace[];
      readonly outcome: Outcome;
    };

type Outcome =
  | { readonly kind: 'found'; readonly result: ArrangeResult }
  | { readonly kind: 'stopped'; readonly news: ArrangeNews };

/** The fewest detectors that meet every need: chosen, searched, shown as a draft, and taken over in one step. */
export default function Arrange() {
  const store = useEditorStore();
  const { questions } = useHost();
  const floor = useEditor((state) => state.floor);
  const file = useEditor((state) => state.file);
  const selection = useEditor((state) => state.selection);
  const [choices, setChoices] = useState(() => firstChoices(floor));
  const [stage, setStage] = useState<Stage>({ kind: 'choosing', says: null });
  const running = useRef<AbortController | null>(null);
  useEffect(() => () => running.current?.abort(), []);
  useDraft(stage);

  const start = (): void => {
    rememberChoices(choices);
    const asked: Asked = { file, options: toOptions(floor, choices, selection) };
    const controller = new AbortController();
    running.current = controller;
    const isRunning = () => running.current === controller;
    setStage({ kind: 'searching', asked, news: null });
    const onNews = (news: ArrangeNews): void => {
      if (isRunning()) setStage({ kind: 'searching', asked, news });
    };
    questions.arrange(asked.file, asked.options, { signal: controller.signal, onNews }).then(
      (arranged) => {
        if (!isRunning()) return;
        running.current = null;
        if (!arranged.ok) return setStage({ kind: 'choosing', says: arranged.text });
        const { result } = arranged;
        setStage({ kind: 'drafted', asked, places: result.places, outcome: { kind: 'found', result } });
      },
      (error: unknown) => {
        if (!isRunning()) return;
        running.current = null;
        const why = error instanceof Error ? error.message : String(error);
        setStage({ kind: 'choosing', says: `The search did not finish: ${why}. The floor is as it was.` });
      },
    );
  };
  const stop = (): void => {
    if (stage.kind !== 'searching') return;
    running.current?.abort();
    running.current = null;
    const { asked, news } = stage;
    if (news?.best) setStage({ kind: 'drafted', asked, places: news.best.places, outcome: { kind: 'stopped', news } });
    else setStage({ kind: 'choosing', says: 'Stopped before anything was found.' });
  };
  const again = (): void => setStage({ kind: 'choosing', says: null });

  if (stage.kind === 'searching') return <Searching news={stage.news} onStop={stop} />;
  if (stage.kind === 'drafted') {
    const isStale = stage.asked.file !== file;
    const accept = (): void => {
      const edit = planArrangement(stage.asked, floor, stage.places);
      if (makeEdit(store, edit)) again();
    };
    return <Drafted stage={stage} isStale={isStale} onAccept={accept} onDrop={again} />;
  }
  const isReady = choices.types.length > 0 && readTurns(choices.turns) !== null;
  return (
    <>
      {stage.says !== null && (
        <p className="say" role="alert">
          {stage.says}
        </p>
      )}
      <ArrangeChoices floor={floor} selection={selection} choices={choices} onChange={setChoices} />
      <div className="words">
        <button type="button" className="word arrange-start" disabled={!isReady} onClick={start}>
          Find the fewest
        </button>
      </div>
    </>
  );
}

/** The edit that takes a draft over: one step of the history. */
function planArrangement(
  { file, options }: Asked,
  floor: Parameters<typeof writeProposal>[1],
  places: readonly HungPlace[],
): Planned {
  const proposal = writeProposal(file, floor, options.kept, places);
  const { detectors, groups, zones, luminaires } = structuredClone(proposal.file);
  return {
    ok: true,
    name: `Arranged ${count(places.length, 'detector')}`,
    recipe: (draft) => {
      draft.detectors = detectors as typeof draft.detectors;
      draft.groups = groups as typeof draft.groups;
      if (zones) draft.zones = zones as typeof draft.zones;
      if (luminaires) draft.luminaires = luminaires as typeof draft.luminaires;
    },
    ids: [],
  };
}

/** Draws the best arrangement so far as rings on the plan; nothing of the floor changes. */
function useDraft(stage: Stage): void {
  const store = useEditorStore();
  const places =
    stage.kind === 'drafted' ? stage.places : stage.kind === 'searching' ? stage.news?.best?.places : undefined;
  // News of a better bound bring the same places again: they are not drawn anew.
  const key = JSON.stringify((places ?? []).map(({ at }) => at));
  useEffect(() => {
    const sketch = (JSON.parse(key) as Point[]).flatMap((at): Guide[] => [
      { kind: 'circle', style: 'drawn', at, radius: RING },
      { kind: 'mark', mark: 'centre', at },
    ]);
    store.setState({ sketch });
  }, [store, key]);
  useEffect(() => () => store.setState({ sketch: [] }), [store]);
}

function Searching({ news, onStop }: { readonly news: ArrangeNews | null; readonly onStop: () => void }) {
  const best = news?.best ?? null;
  const priced = best !== null && best.cost !== best.count;
  return (
    <div className="waiting arrange-search">
      <p className="say" aria-live="off">
        {best === null
          ? 'Working out what every place sees.'
          : `${count(best.count, 'detector')}${priced ? `, cost ${best.cost}` : ''}; at least ${Math.ceil((news?.bound ?? 0) * 100) / 100} needed.`}
      </p>
      <p className="aside" aria-live="off">
        {SAYS[news?.stage ?? 'seeing']}, {Math.floor(news?.seconds ?? 0)} s
      </p>
      <progress
        value={best === null ? 0 : (news?.bound ?? 0)}
        max={best?.cost ?? 1}
        aria-label="Proved of what is found"
      />
      <button type="button" className="word" onClick={onStop}>
        {best === null ? 'Stop' : 'Stop and keep this'}
      </button>
    </div>
  );
}

const SAYS: Readonly<Record<ArrangeNews['stage'], string>> = {
  seeing: 'Looking',
  searching: 'Searching and proving',
  'off grid': 'Moving off the grid',
  checking: 'Checking',
};

interface DraftedProps {
  readonly stage: Extract<Stage, { readonly kind: 'drafted' }>;
  readonly isStale: boolean;
  readonly onAccept: () => void;
  readonly onDrop: () => void;
}

function Drafted({ stage: { asked, places, outcome }, isStale, onAccept, onDrop }: DraftedProps) {
  const button = useRef<HTMLButtonElement>(null);
  useEffect(() => button.current?.focus(), []);
  const result = outcome.kind === 'found' ? outcome.result : null;
  const going = result?.replaced ?? 0;
  return (
    <>
      <p className="say" role="status">
        {result === null && outcome.kind === 'stopped'
          ? `${count(places.length, 'detector')}, the best when you stopped; at least ${Math.ceil(outcome.news.bound)} needed. Not proved.`
          : `${count(places.length, 'detector')}. ${result?.statement ?? ''}`}
        {isStale && ' The floor has changed since: search again.'}
      </p>
      {result !== null && (
        <>
          <p className="aside">
            {result.workplacesMet[1] > 0 &&
              `${result.workplacesMet[0]} of ${count(result.workplacesMet[1], 'workplace')} met. `}
            {result.zonesMet[1] > 0 && `${result.zonesMet[0]} of ${count(result.zonesMet[1], 'zone')} met. `}
            {floorTypes(asked, places)}
            {going > 0 && ` ${count(going, 'detector')} there now will be replaced.`}
            {result.staying > 0 && ` ${result.staying} stay.`} {result.seconds.all.toFixed(1)} s.
          </p>
          {result.workplacesMet[1] > 0 && result.curve.length > 2 && (
            <SeatCurve curve={result.curve} all={result.workplacesMet[1]} />
          )}
        </>
      )}
      <div className="words">
        <button ref={button} type="button" className="word" disabled={isStale} onClick={onAccept}>
          Hang {places.length === 1 ? 'it' : `these ${places.length}`}
        </button>
        <button type="button" className="word" onClick={onDrop}>
          Choose otherwise
        </button>
      </div>
      {result !== null && result.unmet.length > 0 && <Unmet unmet={result.unmet} />}
      {result !== null && (
        <ul className="arrange-notes">
          {result.notes.map((note) => (
            <li key={note} className="aside">
              {note}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

/** How many of each type, where there are several. */
function floorTypes({ file, options }: Asked, places: readonly HungPlace[]): string {
  if (options.types.length < 2) return '';
  const parts = options.types.map((id) => {
    const name = file.types.find((type) => type.id === id)?.name ?? id;
    return `${places.filter(({ type }) => type === id).length} × ${name}`;
  });
  return `${parts.join(', ')}.`;
}

function Unmet({ unmet }: { readonly unmet: ArrangeResult['unmet'] }) {
  const store = useEditorStore();
  return (
    <ul className="answers" aria-label="Needs that are not met">
      {unmet.map(({ id, at, text }) => (
        <li key={id}>
          <button
            type="button"
            onClick={() => {
              select(store, [id]);
              flyTo(store, at, [id]);
            }}
          >
            <span className="answer-text">{text}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}
