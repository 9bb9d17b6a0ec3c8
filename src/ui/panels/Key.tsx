import type { Areas } from '../../core/coverage/index.ts';
import type { Cause } from '../../core/coverage/result.ts';
import { type Show, shownFloor } from '../../editor/store.ts';
import { setPlane, setShow } from '../../editor/view.ts';
import { useEditor, useEditorStore } from './context.tsx';
import { focusPage } from './focus.ts';
import { formatArea, formatMetres } from './format.ts';
import { Swatch } from './Swatch.tsx';
import { CAUSE_WORDS } from './words.ts';

const SHOW_WORDS: Readonly<Record<Show, string>> = { blind: 'Blind', count: 'Seen', headings: 'Headings seen' };
const SHOW_KEYS: Readonly<Record<Show, string>> = { blind: '4', count: '5', headings: '6' };

/** What the floor shows: legend, statistic and switch in one. */
export function Key() {
  const store = useEditorStore();
  const show = useEditor((state) => state.show);
  const plane = useEditor((state) => state.plane);
  const coverage = useEditor((state) => state.coverage);
  useEditor((state) => state.coverageVersion);
  const height = useEditor((state) => {
    const { analysis } = shownFloor(state);
    return plane === 'seated' ? analysis.seatedPlane : analysis.walkingPlane;
  });
  const isEmpty = useEditor((state) => shownFloor(state).rooms.length === 0);
  if (isEmpty) return <div className="key" />;
  const areas = coverage?.areas[plane];
  const other = plane === 'seated' ? 'walking' : 'seated';
  return (
    <section className="key" aria-label="What the floor shows">
      <span className="key-title">
        {SHOW_WORDS[show]},{' '}
        <button
          type="button"
          className="plane-word"
          aria-keyshortcuts={plane === 'seated' ? '8' : '7'}
          aria-label={`${plane} at ${formatMetres(height)}; switch to the ${other} plane`}
          onClick={(event) => {
            setPlane(store, other);
            if (event.detail > 0) focusPage();
          }}
        >
          {plane} at {formatMetres(height)}
        </button>
      </span>
      {areas !== undefined && <KeyEntries areas={areas} show={show} walking={plane === 'walking'} />}
    </section>
  );
}

function KeyEntries({ areas, show, walking }: { areas: Areas; show: Show; walking: boolean }) {
  const causes: readonly [Cause, number][] = [
    ['hidden', areas.hiddenM2],
    ['masked', areas.maskedM2],
    ['range', areas.rangeM2],
  ];
  const shown = causes.filter(([cause, area]) => area > 0 || (show === 'blind' && cause !== 'masked'));
  const headings: Entry = { to: 'headings', swatch: 'headings', word: CAUSE_WORDS.headings, area: areas.headingsM2 };
  const blind: Entry[] = shown.map(([cause, area]) => ({ to: 'blind', swatch: cause, word: CAUSE_WORDS[cause], area }));
  if (show === 'blind') {
    return (
      <>
        <Entries entries={walking ? [...blind, headings] : blind} />
        <Entries entries={[{ to: 'count', swatch: 'seen', word: 'seen', area: areas.seenM2 }]} />
      </>
    );
  }
  if (show === 'count') {
    const counts = areas.byCount.map(
      (area, i): Entry => ({
        to: 'count',
        swatch: i,
        word: `by ${i + 1}${i === 4 ? ' or more' : ''}`,
        area,
        amount: true,
      }),
    );
    return (
      <>
        <Entries entries={counts.filter((entry) => (entry.area ?? 0) > 0)} />
        <Entries title="Blind" entries={blind} />
      </>
    );
  }
  const ramp: Entry = { to: 'headings', swatch: 'ramp', word: 'to every heading', area: areas.everyHeadingM2 };
  return (
    <>
      <Entries entries={[ramp]} />
      <Entries title="Blind" entries={blind} />
    </>
  );
}

interface Entry {
  readonly to: Show;
  /** A cause, "seen", the index of an amount, or all amounts in a row: fifths of the headings. */
  readonly swatch: Cause | 'seen' | 'ramp' | number;
  readonly word: string;
  /** Left out where only the swatch is told. */
  readonly area?: number;
  /** Its area gives way where there is little room. */
  readonly amount?: boolean;
}

function Entries({ title, entries }: { title?: string; entries: readonly Entry[] }) {
  const store = useEditorStore();
  const show = useEditor((state) => state.show);
  if (entries.length === 0) return null;
  return (
    <div className="key-entries">
      {title !== undefined && <span className="key-title">{title}</span>}
      {entries.map((entry) => (
        <button
          key={entry.word}
          type="button"
          className={entry.amount ? 'key-entry amount' : 'key-entry'}
          aria-pressed={entry.to === show}
          aria-keyshortcuts={SHOW_KEYS[entry.to]}
          aria-label={`${entry.word}${entry.area === undefined ? '' : `, ${formatArea(entry.area)}`}; show ${NAMES[entry.to]}`}
          onClick={(event) => {
            setShow(store, entry.to);
            if (event.detail > 0) focusPage();
          }}
        >
          <Swatch of={entry.swatch} />
          <span>{entry.word}</span> {entry.area !== undefined && <b>{formatArea(entry.area)}</b>}
        </button>
      ))}
    </div>
  );
}

const NAMES: Readonly<Record<Show, string>> = {
  blind: 'what is blind',
  count: 'by how many detectors a place is seen',
  headings: 'the share of headings seen',
};
