import { type KeyboardEvent, memo, useEffect, useMemo, useRef, useState } from 'react';
import type { Finding, Level } from '../../core/coverage/result.ts';
import { filterFindings, goToFinding, listFindings } from '../../editor/findings.ts';
import { isResultStale } from '../../editor/store.ts';
import { useEditor, useEditorStore } from './context.tsx';
import { focusPage } from './focus.ts';
import { formatPlace } from './format.ts';
import { sayFinding } from './words.ts';

/** From this many rows on the filter stands open. */
const MANY = 8;
/** Rows drawn at once; the filter reaches the others. */
const SHOWN = 200;

/** What the check found, row by row: click or Enter goes there. */
export default function Findings() {
  const findings = useEditor((state) => listFindings(state.result));
  const floor = useEditor((state) => state.floor);
  const current = useEditor((state) => state.finding);
  const stale = useEditor(isResultStale);
  const waiting = useEditor((state) => state.result === null);
  const [filter, setFilter] = useState('');
  const list = useRef<HTMLOListElement>(null);
  const rows = useMemo(() => filterFindings(findings, filter), [findings, filter]);
  const inTabOrder = rows.some((row) => row.index === current) ? current : rows[0]?.index;

  useEffect(() => {
    list.current?.querySelector(`[data-index="${current}"]`)?.scrollIntoView({ block: 'nearest' });
  }, [current]);

  const onKeyDown = (event: KeyboardEvent<HTMLOListElement>): void => {
    const by = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0;
    if (by === 0) return;
    event.preventDefault();
    const buttons = [...event.currentTarget.querySelectorAll('button')];
    const at = buttons.indexOf(document.activeElement as HTMLButtonElement);
    buttons[at + by]?.focus();
  };

  return (
    <section className={stale ? 'findings stale' : 'findings'} aria-labelledby="findings-title">
      <h2 className="findings-title" id="findings-title">
        Findings
        <span className="aside">{waiting ? 'being checked' : sayCounts(findings)}</span>
      </h2>
      {(findings.length >= MANY || filter !== '') && (
        <input
          className="filter"
          type="search"
          data-field="filter"
          aria-label="Filter findings"
          placeholder="Filter  /"
          value={filter}
          onChange={(event) => setFilter(event.target.value)}
          onKeyDown={(event) => {
            if (event.key !== 'Escape') return;
            event.stopPropagation();
            setFilter('');
            focusPage();
          }}
        />
      )}
      {!waiting && findings.length === 0 && <p className="say">Nothing is amiss.</p>}
      {filter !== '' && rows.length === 0 && <p className="say">No finding holds these words.</p>}
      <ol ref={list} onKeyDown={onKeyDown}>
        {rows.slice(0, SHOWN).map(({ finding, index }) => (
          <Row
            key={`${finding.code} ${finding.about.join(' ')} ${index}`}
            finding={finding}
            text={sayFinding(floor, finding.text)}
            index={index}
            isCurrent={index === current}
            isInTabOrder={index === inTabOrder}
          />
        ))}
      </ol>
      {rows.length > SHOWN && <p className="aside">{rows.length - SHOWN} more. The filter finds them.</p>}
    </section>
  );
}

interface RowProps {
  readonly finding: Finding;
  /** Its sentence in the unit shown. */
  readonly text: string;
  readonly index: number;
  readonly isCurrent: boolean;
  readonly isInTabOrder: boolean;
}

/** One finding; most rows stay as they are while the floor is worked on. */
const Row = memo(function Row({ finding, text, index, isCurrent, isInTabOrder }: RowProps) {
  const store = useEditorStore();
  return (
    <li>
      <button
        type="button"
        className="finding"
        aria-current={isCurrent}
        data-index={index}
        tabIndex={isInTabOrder ? 0 : -1}
        onClick={() => goToFinding(store, index)}
      >
        <span className={`level ${finding.level}`}>{finding.level}</span>
        <span className="finding-text" dir="auto">
          {text}
        </span>
        {finding.at !== null && (
          <span className="finding-place">
            {formatPlace(finding.at)}
            {isCurrent && <span className="goes"> · Enter goes there</span>}
          </span>
        )}
      </button>
    </li>
  );
});

function sayCounts(findings: readonly Finding[]): string {
  const levels: readonly Level[] = ['fail', 'warn', 'note'];
  const parts = levels.flatMap((level) => {
    const many = findings.filter((finding) => finding.level === level).length;
    return many === 0 ? [] : [`${many} ${level}`];
  });
  return parts.length === 0 ? 'none' : parts.join(', ');
}
