import { useId, useState } from 'react';
import { parseQuantity, type QuantityRule } from '../../../editor/quantity.ts';
import { useEditor } from '../context.tsx';
import { formatBare, formatNumber } from '../format.ts';

interface Props {
  readonly label: string;
  /** Null: nothing is written yet. */
  readonly value: number | null;
  readonly rule: QuantityRule;
  /** Makes a value so; answers what keeps it from that, or null. */
  readonly write: (value: number) => string | null;
}

/** A number in a table: written by Enter or on leaving, taken back by Escape; a bad one says what would be right. */
export function CellNumber({ label, value, rule, write }: Props) {
  const id = useId();
  const units = useEditor((state) => state.units);
  const [draft, setDraft] = useState<string | null>(null);
  const [error, setError] = useState<string | null>(null);
  const format = rule.kind === 'length' ? formatBare : formatNumber;
  const commit = (): void => {
    if (draft === null) return;
    const read = parseQuantity(draft, rule, units);
    const fault = read.ok ? write(read.value) : read.remedy;
    setError(fault);
    if (fault === null) setDraft(null);
  };
  return (
    <span className={error === null ? 'cell' : 'cell bad'}>
      <input
        className="field"
        type="text"
        inputMode="decimal"
        autoComplete="off"
        spellCheck={false}
        aria-label={label}
        aria-invalid={error !== null}
        aria-describedby={error === null ? undefined : id}
        value={draft ?? (value === null ? '' : format(value))}
        onChange={(event) => setDraft(event.target.value)}
        onFocus={(event) => event.target.select()}
        onBlur={commit}
        onKeyDown={(event) => {
          if (event.key === 'Enter') {
            event.preventDefault();
            commit();
          } else if (event.key === 'Escape' && draft !== null) {
            event.preventDefault();
            event.stopPropagation();
            setDraft(null);
            setError(null);
          }
        }}
      />
      <span className="row-error" id={id} role="status">
        {error}
      </span>
    </span>
  );
}
