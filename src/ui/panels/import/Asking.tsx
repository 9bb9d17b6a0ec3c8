import { useHost } from '../context.tsx';
import { count } from '../format.ts';
import { Choice } from '../notes/Properties.tsx';
import { DrawingTable } from './DrawingTable.tsx';
import type { ImportView } from './import-port.ts';
import { LengthAnswer } from './LengthAnswer.tsx';
import { SmallPlan } from './SmallPlan.tsx';

type View = Extract<ImportView, { readonly step: 'asking' }>;

const ROOMS = [
  { value: 'auto', text: 'drawn outlines where they cover most' },
  { value: 'drawn', text: 'drawn outlines' },
  { value: 'walls', text: 'walls' },
  { value: 'both', text: 'drawn outlines and walls' },
] as const;

/** The questions of an import beside the floor they lead to. Every one has an answer already: the guess. */
export function Asking({ view }: { readonly view: View }) {
  const { imports } = useHost();
  const { preview, storeys, chosen, answers } = view;
  const shown = preview?.plan ?? storeys[chosen]?.plan;
  return (
    <>
      <div className="import-body">
        <div className="import-questions">
          {storeys.length > 1 && <Storeys view={view} />}
          {view.drawing !== null && <DrawingTable drawing={view.drawing} />}
          <section className="import-part" aria-label="Heights and rooms">
            <h3 className="ledger-title">What the source does not state</h3>
            {preview?.ceilings != null && (
              <LengthAnswer
                label={count(preview.ceilings.count, 'ceiling')}
                value={answers.ceiling ?? preview.ceilings.height}
                min={0.5}
                max={50}
                aside="assumed"
                onAnswer={(ceiling) => imports.answer({ ceiling })}
              />
            )}
            {preview?.heights.map(({ kind, word, count: number, top }) => (
              <LengthAnswer
                key={kind}
                label={`top of ${number} ${word}`}
                value={answers.heights[kind] ?? top}
                min={0.01}
                max={50}
                aside="assumed"
                onAnswer={(height) => imports.answer({ heights: { ...answers.heights, [kind]: height } })}
              />
            ))}
            <LengthAnswer
              label="gaps closed up to"
              value={answers.gap}
              min={0}
              max={2}
              onAnswer={(gap) => imports.answer({ gap })}
            />
            <Choice
              label="rooms from"
              value={answers.rooms}
              options={ROOMS}
              onChoose={(word) => {
                const rooms = ROOMS.find(({ value }) => value === word)?.value;
                if (rooms !== undefined) imports.answer({ rooms });
              }}
            />
            <label className="tick">
              <input
                type="checkbox"
                checked={answers.seats}
                onChange={(event) => imports.answer({ seats: event.target.checked })}
              />
              A desk without a chair brings its workplace
            </label>
          </section>
        </div>
        <section
          className={`import-preview ${view.isWorking ? 'stale' : ''}`}
          aria-label="What will be opened"
          aria-busy={view.isWorking}
        >
          {shown !== undefined && <SmallPlan plan={shown} label={`Plan of ${storeys[chosen]?.name ?? view.source}`} />}
          <p className="say" role="status">
            {preview === null ? 'Putting the floor together.' : `${preview.sentence}.`}
          </p>
          {preview !== null && (
            <p className="aside">
              {count(preview.guessed, 'thing')} guessed, {count(preview.leftOut, 'thing')} left out: all are listed with
              their places once the floor is open.
            </p>
          )}
        </section>
      </div>
      <div className="import-foot">
        {view.faults.length > 0 && (
          <ul className="faults" role="alert">
            {view.faults.map((fault) => (
              <li key={fault} className="fault">
                <bdi>{fault}</bdi>
              </li>
            ))}
          </ul>
        )}
        <div className="words">
          <button
            type="button"
            className="word strong"
            data-first
            disabled={preview === null}
            onClick={() => imports.open('new')}
          >
            Open as a new floor
          </button>
          {view.openSource !== null && (
            <button type="button" className="word" disabled={preview === null} onClick={() => imports.open('onto')}>
              Bring onto the open floor
            </button>
          )}
          <button type="button" className="word" onClick={() => imports.cancel()}>
            Cancel
          </button>
          <span className="aside">{view.format}</span>
        </div>
        {view.openSource !== null && (
          <p className="aside">
            The open floor was imported from <bdi>{view.openSource}</bdi>: brought onto it, detectors, groups and what
            was corrected by hand stay.
          </p>
        )}
      </div>
    </>
  );
}

function Storeys({ view }: { readonly view: View }) {
  const { imports } = useHost();
  return (
    <fieldset className="import-part import-storeys">
      <legend className="ledger-title">Storey</legend>
      {view.storeys.map((storey, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: storeys stay in their order, and two may have one name
        <label key={`${storey.name} ${i}`} className="import-storey">
          <input
            type="radio"
            name="import-storey"
            checked={i === view.chosen}
            onChange={() => imports.chooseStorey(i)}
          />
          <SmallPlan plan={storey.plan} label={`Plan of ${storey.name}`} />
          <span>
            <bdi>{storey.name}</bdi>
            <span className="aside">{storey.detail}</span>
          </span>
        </label>
      ))}
    </fieldset>
  );
}
