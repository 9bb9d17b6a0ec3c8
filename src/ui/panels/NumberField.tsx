import { type KeyboardEvent, type ReactNode, useEffect, useId, useRef, useState } from 'react';
import { beginGesture, cancelGesture, commitGesture, previewGesture, type Recipe } from '../../editor/history.ts';
import { parseQuantity, type QuantityKind, type QuantityRule } from '../../editor/quantity.ts';
import { say } from '../../editor/view.ts';
import { useEditorStore } from './context.tsx';
import { focusPage } from './focus.ts';
import { formatDegrees, formatMetres, formatNumber } from './format.ts';

/** What one press of an arrow adds: with Alt, plain, with Shift. */
const STEPS: Readonly<Record<QuantityKind, readonly [number, number, number]>> = {
  length: [0.01, 0.1, 1],
  angle: [0.1, 1, 5],
  number: [0.01, 0.05, 0.1],
};
const FORMATS = { length: formatMetres, angle: formatDegrees, number: formatNumber } as const;

export interface NumberFieldProps {
  readonly label: string;
  /** The name read out, where the label alone would not tell which thing is meant. */
  readonly name?: string;
  readonly value: number;
  readonly rule: QuantityRule;
  /** The change that makes a typed value so; it is shown as it is typed. */
  readonly recipe: (value: number) => Recipe;
  /** What the value is called in the undo history: "Top of Shelf 3". */
  readonly subject: string;
  readonly aside?: ReactNode;
  /** Finds the field from outside: "to 0" for the second edge of the first mask. */
  readonly field?: string;
}

/**
 * A value that is written in place. What is typed is shown on the floor at once and becomes one undo step with Enter or
 * on leaving; Escape takes it back; a value that cannot be read keeps the focus and says what would be right.
 */
export function NumberField({ label, name, value, rule, recipe, subject, aside, field }: NumberFieldProps) {
  const store = useEditorStore();
  const errorId = useId();
  const input = useRef<HTMLInputElement>(null);
  const [draft, setDraft] = useState<string | null>(null);
  const [error, setError] = useState<string | null>(null);
  const format = FORMATS[rule.kind];
  const shown = draft ?? format(value);
  // A gesture ended from outside (Escape on the page, undo) takes the typed text with it.
  const editing = useRef(false);
  useEffect(
    () =>
      store.subscribe((state) => {
        if (!editing.current || state.gesture !== null) return;
        editing.current = false;
        setDraft(null);
      }),
    [store],
  );
  useEffect(
    () => () => {
      if (editing.current) cancelGesture(store);
    },
    [store],
  );

  const type = (text: string): void => {
    setDraft(text);
    const read = parseQuantity(text, rule);
    setError(read.ok ? null : read.remedy);
    if (!read.ok) return;
    if (!editing.current) beginGesture(store, `Typing: ${lowerFirst(subject)}`);
    editing.current = true;
    previewGesture(store, recipe(read.value));
  };

  /** True: there is nothing left to correct. */
  const commit = (): boolean => {
    if (draft === null) return true;
    const read = parseQuantity(draft, rule);
    if (!read.ok) {
      setError(read.remedy);
      return false;
    }
    if (!editing.current) {
      setDraft(null);
      return true;
    }
    editing.current = false;
    const outcome = commitGesture(store, `${subject}: ${format(read.value)}`, recipe(read.value));
    if (outcome.ok) {
      setDraft(null);
      setError(null);
      return true;
    }
    const fault = outcome.refusal.faults[0];
    store.setState({ refusal: null });
    setError(fault === undefined ? null : `${fault.remedy === '' ? fault.what : fault.remedy}`);
    return false;
  };

  const revert = (): void => {
    if (editing.current) {
      editing.current = false;
      cancelGesture(store);
    }
    setDraft(null);
    setError(null);
  };

  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key === 'Enter') {
      event.preventDefault();
      if (commit()) requestAnimationFrame(() => input.current?.select());
    } else if (event.key === 'Escape') {
      event.preventDefault();
      event.stopPropagation();
      if (draft === null) focusPage();
      else revert();
    } else if (event.key === 'ArrowUp' || event.key === 'ArrowDown') {
      event.preventDefault();
      const [fine, plain, coarse] = STEPS[rule.kind];
      const step = event.altKey ? fine : event.shiftKey ? coarse : plain;
      const read = draft === null ? null : parseQuantity(draft, rule);
      const from = read?.ok ? read.value : value;
      const next = from + (event.key === 'ArrowUp' ? step : -step);
      const rounded = Math.round(next * 1000) / 1000;
      if (parseQuantity(String(rounded), rule).ok) type(format(rounded));
    }
  };

  const onBlur = (): void => {
    if (commit()) return;
    revert();
    say(store, `${subject} stays at ${format(value)}.`);
  };

  return (
    <div className={error === null ? 'row' : 'row bad'}>
      <label className="row-label" htmlFor={`${errorId}in`}>
        {label}
      </label>
      <input
        ref={input}
        id={`${errorId}in`}
        className="row-value field"
        type="text"
        inputMode="decimal"
        autoComplete="off"
        spellCheck={false}
        aria-label={name}
        aria-invalid={error !== null}
        aria-describedby={error === null ? undefined : errorId}
        data-field={field}
        value={shown}
        onChange={(event) => type(event.target.value)}
        onFocus={(event) => event.target.select()}
        onKeyDown={onKeyDown}
        onBlur={onBlur}
      />
      {aside !== undefined && aside !== null && <span className="row-aside">{aside}</span>}
      <span className="row-error" id={errorId} role="status">
        {error}
      </span>
    </div>
  );
}

/** "Top of Shelf 3" inside a sentence. Names keep their letters. */
function lowerFirst(text: string): string {
  return /^[A-Z][a-z]/u.test(text) ? `${text.charAt(0).toLowerCase()}${text.slice(1)}` : text;
}
