import { type KeyboardEvent, useLayoutEffect, useMemo, useRef } from 'react';
import { edit } from '../../editor/history.ts';
import { sayLocked } from '../../editor/locks.ts';
import { setFurnitureTops, setPlaneHeight } from '../../editor/recipes.ts';
import { shownFloor } from '../../editor/store.ts';
import { select, setPlane } from '../../editor/view.ts';
import { mixColours, PALETTES } from '../tokens.ts';
import { useEditor, useEditorStore } from './context.tsx';
import { focusPage } from './focus.ts';
import { capitalise, count, formatMetres, formatOnScale } from './format.ts';
import { ceilingOf, listMarks, type RuleMark, spreadLabels } from './rule-marks.ts';
import { useSize } from './use-size.ts';

/** Clear px above the ceiling and below the floor, at text of 16 px; all of the rule grows with the text. */
const END = 46;
/** Marks are targets of this height, or of what room there is. */
const TARGET = 28;
const STEP = 0.02;

/** Height as an instrument: the tone ramp is the legend of furniture, planes and tops are marks on it. */
export function Rule() {
  const [box, { height }] = useSize<HTMLDivElement>();
  // Part by part: a dragged detector changes none of them.
  const rooms = useEditor((state) => shownFloor(state).rooms);
  const furniture = useEditor((state) => shownFloor(state).furniture);
  const analysis = useEditor((state) => shownFloor(state).analysis);
  const theme = useEditor((state) => state.theme);
  const units = useEditor((state) => state.units);
  const marks = useMemo(() => listMarks({ rooms, furniture, analysis }), [rooms, furniture, analysis]);
  const ceiling = ceilingOf({ rooms });
  const rem = remOf();
  const end = END * rem;
  const length = Math.max(0, height - 2 * end);
  const placeOf = (metres: number): number => end + length * (1 - metres / ceiling);
  const places = marks.map((mark) => placeOf(mark.height));
  const gap = Math.min(TARGET * rem, (length + TARGET * rem) / marks.length);
  const labels = spreadLabels(places, gap);

  // A top's mark is named by its height, so the one that was moved is another element: the focus lost with the old one
  // goes to the new one in the same commit, and nowhere if the person has taken it elsewhere since.
  const moved = useRef<string | null>(null);
  useLayoutEffect(() => {
    if (moved.current === null) return;
    const mark = box.current?.querySelector<HTMLElement>(`[data-mark="${moved.current}"]`);
    if (mark === null || mark === undefined) return;
    moved.current = null;
    if (document.activeElement === document.body) mark.focus();
  });
  const noteMoved = (key: string): void => {
    moved.current = key;
  };

  return (
    <aside className="rule" data-region="rule" ref={box} aria-label="Heights">
      <span className="rule-title">Height, {units === 'metres' ? 'm' : 'ft'}</span>
      {height > 0 && (
        <>
          <svg className="rule-scale" width="100%" height={height} aria-hidden="true">
            <defs>
              <linearGradient id="tone-ramp" x1="0" y1="1" x2="0" y2="0">
                {rampStops(theme).map(({ at, colour }) => (
                  <stop key={at} offset={at} stopColor={colour} />
                ))}
              </linearGradient>
            </defs>
            <rect
              x={92.5 * rem}
              y={end}
              width={9 * rem}
              height={length}
              fill="url(#tone-ramp)"
              stroke="var(--ink)"
              strokeWidth="1"
            />
            {ticks(ceiling).map((metres) => (
              <line
                key={metres}
                x1={(metres % 0.5 < 0.05 ? 86 : 89) * rem}
                x2={92 * rem}
                y1={placeOf(metres)}
                y2={placeOf(metres)}
                stroke="var(--ink3)"
              />
            ))}
            {marks.map((mark, i) => (
              <path
                key={mark.key}
                d={`M${80 * rem} ${labels[i]} L${86 * rem} ${places[i]} H${102 * rem}`}
                fill="none"
                stroke="var(--ink)"
                strokeWidth="1"
              />
            ))}
          </svg>
          {marks.map((mark, i) => (
            <Mark key={mark.key} mark={mark} y={labels[i] ?? 0} tip={places[i] ?? 0} height={gap} onMoved={noteMoved} />
          ))}
        </>
      )}
    </aside>
  );
}

interface MarkProps {
  readonly mark: RuleMark;
  readonly y: number;
  readonly tip: number;
  readonly height: number;
  /** Called with the key that the mark will have once its arrow key has taken effect. */
  readonly onMoved: (key: string) => void;
}

function Mark({ mark, y, tip, height, onMoved }: MarkProps) {
  const store = useEditorStore();
  const plane = useEditor((state) => state.plane);
  const selection = useEditor((state) => state.selection);
  const style = { top: y - height / 2, height };
  const words = (
    <>
      <span className="rule-word">{mark.word}</span> <b>{formatOnScale(mark.height)}</b>
    </>
  );
  if (mark.what === 'end') {
    return (
      <span className="mark" style={style}>
        {words}
      </span>
    );
  }
  const current = mark.what === 'plane' ? mark.plane === plane : mark.ids.every((id) => selection.includes(id));
  const onKeyDown = (event: KeyboardEvent<HTMLElement>): void => {
    const up = event.key === 'ArrowUp';
    if (!up && event.key !== 'ArrowDown') return;
    event.preventDefault();
    const next = Math.round((mark.height + (up ? STEP : -STEP)) * 100) / 100;
    if (mark.what === 'plane')
      edit(store, `${capitalise(mark.word)} plane: ${formatMetres(next)}`, setPlaneHeight(mark.plane, next));
    else if (!mark.ids.some((id) => sayLocked(store, id))) {
      onMoved(`${mark.key.split(' ')[0]} ${next.toFixed(2)}`);
      edit(store, `Top of ${mark.ids.length} ${mark.word}: ${formatMetres(next)}`, setFurnitureTops(mark.ids, next));
    }
  };
  return (
    <button
      type="button"
      className={mark.what === 'plane' ? 'mark plane' : 'mark'}
      style={style}
      data-mark={mark.key}
      aria-pressed={current}
      aria-label={`${mark.word} ${formatMetres(mark.height)}, ${mark.what === 'plane' ? 'plane' : `top of ${count(mark.ids.length, 'piece')}`}`}
      onKeyDown={onKeyDown}
      onClick={(event) => {
        if (mark.what === 'plane') setPlane(store, mark.plane);
        else select(store, mark.ids);
        if (event.detail > 0) focusPage();
      }}
    >
      {words}
      {mark.what === 'plane' && (
        <svg className="plane-mark" style={{ top: tip - y + height / 2 - 7 }} width="12" height="14" aria-hidden="true">
          <path
            d="M1 7 L9 1.5 V12.5 Z"
            fill={current ? 'var(--ink)' : 'var(--surround)'}
            stroke="var(--ink)"
            strokeWidth="1.25"
          />
        </svg>
      )}
    </button>
  );
}

/** How much larger than 16 px the text is. */
function remOf(): number {
  return Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
}

function rampStops(theme: 'light' | 'dark') {
  const { paper, ink, tone } = PALETTES[theme];
  return [0, 0.2, 0.4, 0.55, 0.7, 0.8, 0.9, 1].map((at) => ({
    at,
    colour: mixColours(paper, ink, tone.base + tone.span * at ** 2.2),
  }));
}

/** A tick every 0.1 m, every 0.5 m where the ceiling is high. */
function ticks(ceiling: number): number[] {
  const step = ceiling > 5 ? 0.5 : 0.1;
  return Array.from({ length: Math.floor(ceiling / step) + 1 }, (_, i) => Math.round(i * step * 10) / 10);
}
