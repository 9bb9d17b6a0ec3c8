import { useState } from 'react';
import type { Analysis, DetectorType, Motion, RangeRow } from '../../../core/floor/index.ts';
import type { Extent } from '../../../core/sight/index.ts';
import {
  addRange,
  changeRange,
  measureRange,
  type RangeSize,
  removeRange,
  setRangePlane,
  setRangeShape,
} from '../../../editor/edits/detector-types.ts';
import type { Edit } from '../../../editor/edits/edit.ts';
import { edit } from '../../../editor/history.ts';
import { useEditor, useEditorStore } from '../context.tsx';
import { formatBare, formatMetres } from '../format.ts';
import { Choice } from '../notes/Properties.tsx';
import { MOTION_WORDS } from '../words.ts';
import { CellNumber } from './CellNumber.tsx';

interface Props {
  readonly type: DetectorType;
  readonly motion: Motion;
  readonly analysis: Analysis;
}

const HEIGHT = { kind: 'length', above: 0, max: 50 } as const;
const SIZE = { kind: 'length', above: 0, max: 100 } as const;

/** The rows of one motion: mounting height, size as stated, and what that comes to at the plane people are looked for. */
export function RangeTable({ type, motion, analysis }: Props) {
  const store = useEditorStore();
  const file = useEditor((state) => state.file);
  const rows = type.ranges.flatMap((row, index) => (row.motion === motion ? [{ row, index }] : []));
  const [first] = rows;
  const shown = motion === 'minor' ? analysis.seatedPlane : analysis.walkingPlane;
  const isRound = first === undefined || 'diameter' in first.row;
  /** Makes an edit; answers why it is not made. */
  const make = (planned: Edit): string | null => {
    if (!planned.ok) return `${planned.what}. ${planned.remedy}`;
    const outcome = edit(store, planned.name, planned.recipe);
    if (outcome.ok) return null;
    const fault = outcome.refusal.faults[0];
    store.setState({ refusal: null });
    return fault === undefined ? 'It cannot be changed here.' : `${fault.what}. ${fault.remedy}`;
  };
  const word = MOTION_WORDS[motion];
  return (
    <section aria-label={word}>
      <h3 className="ledger-title">
        {word.charAt(0).toUpperCase()}
        {word.slice(1)}
      </h3>
      {first !== undefined && (
        <>
          <div className="range-head">
            <PlaneChoice
              plane={first.row.plane}
              analysis={analysis}
              onChoose={(plane) => make(setRangePlane(store.getState().file, type.id, motion, plane))}
            />
            <Choice
              label="shape"
              value={isRound ? 'round' : 'rectangular'}
              options={[
                { value: 'round', text: 'round' },
                { value: 'rectangular', text: 'rectangular' },
              ]}
              onChoose={(shape) =>
                make(setRangeShape(store.getState().file, type.id, motion, shape as 'round' | 'rectangular'))
              }
            />
          </div>
          <table className="ranges">
            <caption className="unseen">{`${word}: sizes by mounting height`}</caption>
            <thead>
              <tr>
                <th scope="col">mounted at</th>
                <th scope="col">{isRound ? 'diameter as stated' : 'length, width as stated'}</th>
                <th scope="col">at this plane, {formatMetres(shown)}</th>
                <th scope="col">
                  <span className="unseen">remove</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {rows.map(({ row, index }) => (
                <tr key={`${row.mounting}`}>
                  <td>
                    <CellNumber
                      label={`${word}, row ${index + 1}, mounted at`}
                      value={row.mounting}
                      rule={HEIGHT}
                      write={(mounting) => make(changeRange(store.getState().file, type.id, index, { mounting }))}
                    />
                  </td>
                  <td>
                    {sidesOf(row).map(({ side, value }) => (
                      <CellNumber
                        key={side}
                        label={`${word}, row ${index + 1}, ${side}`}
                        value={value}
                        rule={SIZE}
                        write={(next) =>
                          make(changeRange(store.getState().file, type.id, index, { size: resize(row, side, next) }))
                        }
                      />
                    ))}
                  </td>
                  <td>{sayExtent(measureRange(file, type.id, motion, row.mounting, shown).there)}</td>
                  <td>
                    <button
                      type="button"
                      className="word"
                      aria-label={`Remove the row at ${formatMetres(row.mounting)}`}
                      onClick={() => make(removeRange(store.getState().file, type.id, index))}
                    >
                      Remove
                    </button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </>
      )}
      <NewRow
        key={rows.length}
        word={word}
        isFirst={first === undefined}
        isRound={isRound}
        analysis={analysis}
        add={(mounting, size, plane) =>
          make(
            addRange(store.getState().file, type.id, {
              motion,
              mounting,
              size,
              ...(plane === null ? {} : { plane }),
            }),
          )
        }
      />
    </section>
  );
}

interface PlaneChoiceProps {
  /** Null: it is still to be chosen. */
  readonly plane: number | null;
  readonly analysis: Analysis;
  readonly onChoose: (plane: number) => void;
}

/** The height at which the stated size holds: nobody is spared the choice. */
function PlaneChoice({ plane, analysis, onChoose }: PlaneChoiceProps) {
  const known = [
    { value: 0, text: 'on the floor, 0 m' },
    { value: analysis.seatedPlane, text: `at the seated plane, ${formatMetres(analysis.seatedPlane)}` },
    { value: analysis.walkingPlane, text: `at the walking plane, ${formatMetres(analysis.walkingPlane)}` },
  ];
  const isOther = plane !== null && !known.some((each) => each.value === plane);
  return (
    <Choice
      label="the size holds"
      value={plane === null ? '' : String(plane)}
      options={[
        ...(plane === null ? [{ value: '', text: 'choose where' }] : []),
        ...known.map((each) => ({ value: String(each.value), text: each.text })),
        ...(isOther ? [{ value: String(plane), text: `at ${formatMetres(plane)}` }] : []),
      ]}
      onChoose={(chosen) => {
        if (chosen !== '') onChoose(Number(chosen));
      }}
    />
  );
}

interface NewRowProps {
  readonly word: string;
  readonly isFirst: boolean;
  readonly isRound: boolean;
  readonly analysis: Analysis;
  readonly add: (mounting: number, size: RangeSize, plane: number | null) => string | null;
}

/** One more row of the data sheet. */
function NewRow({ word, isFirst, isRound, analysis, add }: NewRowProps) {
  const units = useEditor((state) => state.units);
  const [mounting, setMounting] = useState<number | null>(null);
  const [length, setLength] = useState<number | null>(null);
  const [width, setWidth] = useState<number | null>(null);
  const [plane, setPlane] = useState<number | null>(null);
  const [round, setRound] = useState(isRound);
  const [error, setError] = useState<string | null>(null);
  const keep = (set: (value: number) => void) => (value: number) => {
    set(value);
    return null;
  };
  const submit = (): void => {
    if (mounting === null || length === null || (!round && width === null)) {
      setError('Write the mounting height and the size first.');
      return;
    }
    setError(add(mounting, round ? { diameter: length } : { length, width: width ?? length }, isFirst ? plane : null));
  };
  return (
    <fieldset className="new-row">
      <legend className="unseen">{`A new row for ${word}`}</legend>
      {isFirst && (
        <div className="range-head">
          <PlaneChoice plane={plane} analysis={analysis} onChoose={setPlane} />
          <Choice
            label="shape"
            value={round ? 'round' : 'rectangular'}
            options={[
              { value: 'round', text: 'round' },
              { value: 'rectangular', text: 'rectangular' },
            ]}
            onChoose={(shape) => setRound(shape === 'round')}
          />
        </div>
      )}
      <span className="aside">new row, {units === 'feet' ? 'ft' : 'm'}:</span>
      <CellNumber label={`${word}, new row, mounted at`} value={mounting} rule={HEIGHT} write={keep(setMounting)} />
      <CellNumber
        label={`${word}, new row, ${round ? 'diameter' : 'length'}`}
        value={length}
        rule={SIZE}
        write={keep(setLength)}
      />
      {!round && <CellNumber label={`${word}, new row, width`} value={width} rule={SIZE} write={keep(setWidth)} />}
      <button type="button" className="word" onClick={submit}>
        Add
      </button>
      <p className="row-error" role="status">
        {error}
      </p>
    </fieldset>
  );
}

type Side = 'diameter' | 'length' | 'width';

function sidesOf(row: RangeRow): readonly { readonly side: Side; readonly value: number }[] {
  if ('diameter' in row) return [{ side: 'diameter', value: row.diameter }];
  return [
    { side: 'length', value: row.length },
    { side: 'width', value: row.width },
  ];
}

function resize(row: RangeRow, side: Side, value: number): RangeSize {
  if ('diameter' in row) return { diameter: value };
  return side === 'length' ? { length: value, width: row.width } : { length: row.length, width: value };
}

function sayExtent(extent: Extent | null): string {
  if (extent === null) return 'nothing';
  if (extent.kind === 'round') return formatMetres(extent.radius * 2);
  return `${formatBare(extent.length)} × ${formatMetres(extent.width)}`;
}
