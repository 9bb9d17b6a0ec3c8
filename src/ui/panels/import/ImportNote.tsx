import { useEffect, useMemo } from 'react';
import { useStore } from 'zustand';
import type { FloorFile } from '../../../core/floor/index.ts';
import type { Guide } from '../../../editor/tools/guide.ts';
import { flyTo, select } from '../../../editor/view.ts';
import { useEditor, useEditorStore, useHost } from '../context.tsx';
import { focusPage } from '../focus.ts';
import { count } from '../format.ts';
import type { ImportChange } from './import-port.ts';
import { imports } from './import-state.ts';
import { accountOf, type KeptPlace, type KeptRemark, listIdsByKey, readKeptReport } from './kept-report.ts';
import '../questions/questions.css';
import './import.css';

/** Marks drawn on the plan at most, and places listed of one line. */
const MARKS = 400;
const LISTED = 50;
const NONE: readonly ImportChange[] = [];

/** What the import of the open floor guessed and left out: as lines with their places, marked on the plan. */
export default function ImportNote() {
  const store = useEditorStore();
  const host = useHost();
  const file = useEditor((state) => state.file);
  const { isReportOpen, changes: all, changesOf } = useStore(imports);
  // Another floor, and the floor before the import, have other accounts.
  const changes = changesOf === accountOf(file) ? all : NONE;
  const report = useMemo(() => readKeptReport(file), [file]);
  const ids = useMemo(() => listIdsByKey(file), [file]);
  const guessed = report?.remarks.filter(({ fate }) => fate === 'guessed') ?? [];
  const leftOut = report?.remarks.filter(({ fate }) => fate === 'left out') ?? [];
  const sketch = useMemo(
    () =>
      isReportOpen ? [...changes.map(({ at }) => mark(at)), ...markPlaces(report?.remarks ?? [])].slice(0, MARKS) : [],
    [isReportOpen, changes, report],
  );
  useEffect(() => {
    if (sketch.length === 0) return;
    store.setState({ sketch });
    return () => store.setState({ sketch: [] });
  }, [store, sketch]);
  if (report === null) return null;
  const total = (remarks: readonly KeptRemark[]): number => remarks.reduce((sum, remark) => sum + remark.count, 0);
  const summary = `${count(total(guessed), 'thing')} guessed, ${count(total(leftOut), 'thing')} left out`;
  if (!isReportOpen) {
    return (
      <section className="note" aria-label="Import">
        <button type="button" className="word" onClick={() => imports.setState({ isReportOpen: true })}>
          Imported: {summary}
        </button>
      </section>
    );
  }
  const close = (): void => {
    imports.setState({ isReportOpen: false });
    focusPage();
  };
  return (
    <section
      className="note question"
      aria-label="Import"
      onKeyDown={(event) => {
        if (event.key !== 'Escape') return;
        event.stopPropagation();
        close();
      }}
    >
      <h2 className="note-head question-head">
        What the import guessed
        <button type="button" className="word question-close" onClick={close}>
          Close <kbd>Esc</kbd>
        </button>
      </h2>
      <p className="say">
        <bdi>{report.source}</bdi>
        {report.storey !== '' && (
          <>
            , <bdi>{report.storey}</bdi>
          </>
        )}
        : {summary}. Each is marked on the plan; choose one to put it right.
      </p>
      <div className="words">
        <button type="button" className="word" onClick={() => host.imports.saveReport()}>
          Save as text
        </button>
      </div>
      {changes.length > 0 && (
        <Part title="Changed by the newer version">
          {changes.slice(0, 200).map((change) => (
            <li key={`${change.fate} ${change.id}`}>
              <button
                type="button"
                onClick={() => {
                  select(store, findOnFloor(file, change.id) ? [change.id] : []);
                  flyTo(store, change.at, findOnFloor(file, change.id) ? [change.id] : []);
                }}
              >
                <bdi className="answer-text">{change.name || change.id}</bdi>
                <span className="answer-aside">
                  {change.fate}
                  {change.what === '' ? '' : `: ${change.what}`}
                </span>
              </button>
            </li>
          ))}
        </Part>
      )}
      <Lines title="Guessed" remarks={guessed} ids={ids} />
      <Lines title="Left out" remarks={leftOut} ids={ids} />
    </section>
  );
}

function Part({ title, children }: { readonly title: string; readonly children: React.ReactNode }) {
  return (
    <>
      <h3 className="ledger-title">{title}</h3>
      <ul className="answers import-lines" aria-label={title}>
        {children}
      </ul>
    </>
  );
}

interface LinesProps {
  readonly title: string;
  readonly remarks: readonly KeptRemark[];
  readonly ids: ReadonlyMap<string, string>;
}

function Lines({ title, remarks, ids }: LinesProps) {
  if (remarks.length === 0) return null;
  return (
    <>
      <h3 className="ledger-title">{title}</h3>
      {remarks.map((remark) => (
        <details key={`${remark.what} ${remark.reason}`} className="import-line">
          <summary>
            <bdi>{remark.what}</bdi>: {remark.count}
            <bdi className="aside">{remark.reason}</bdi>
          </summary>
          <Places remark={remark} ids={ids} />
        </details>
      ))}
    </>
  );
}

function Places({ remark, ids }: { readonly remark: KeptRemark; readonly ids: ReadonlyMap<string, string> }) {
  const store = useEditorStore();
  const go = ({ key, at }: KeptPlace): void => {
    const id = ids.get(key);
    if (id !== undefined) select(store, [id]);
    if (at !== null) flyTo(store, at, id === undefined ? [] : [id]);
  };
  const listed = remark.places.slice(0, LISTED);
  if (listed.length === 0) return <p className="aside">Where they lie is not known.</p>;
  return (
    <ul className="answers import-lines" aria-label={`Places of ${remark.what}`}>
      {listed.map((place, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: places stay in their order, and two may be called alike
        <li key={`${place.key} ${i}`}>
          <button type="button" disabled={place.at === null && !ids.has(place.key)} onClick={() => go(place)}>
            <bdi className="answer-text">{place.name || place.key || 'a place'}</bdi>
            <span className="answer-aside">{ids.get(place.key) ?? ''}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}

function findOnFloor(file: FloorFile, id: string): boolean {
  return (['rooms', 'openings', 'furniture', 'luminaires', 'workplaces', 'sources'] as const).some((list) =>
    file[list]?.some((each) => each.id === id),
  );
}

function mark(at: readonly [number, number]): Guide {
  return { kind: 'mark', mark: 'centre', at };
}

/** Guessed things as targets, left-out ones as crosses. */
function markPlaces(remarks: readonly KeptRemark[]): readonly Guide[] {
  return remarks.flatMap(({ fate, places }) =>
    fate === 'taken'
      ? []
      : places.flatMap(({ at }): Guide[] =>
          at === null ? [] : [{ kind: 'mark', mark: fate === 'guessed' ? 'centre' : 'fault', at }],
        ),
  );
}
