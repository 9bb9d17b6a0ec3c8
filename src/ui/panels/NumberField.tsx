import { type KeyboardEvent, type ReactNode, useEffect, useId, useRef, useState } from 'react';
import type { FloorFile } from '../../core/floor/index.ts';
import type { Edit } from '../../editor/edits/edit.ts';
import { beginGesture, cancelGesture, commitGesture, edit, previewGesture, type Recipe } from '../../editor/history.ts';
import { describeKindLock } from '../../editor/locks.ts';
import { parseQuantity, type QuantityKind, type QuantityRule } from '../../editor/quantity.ts';
import { say } from '../../editor/view.ts';
import { useEditor, useEditorStore } from './context.tsx';
import { focusPage } from './focus.ts';
import { formatDegrees, formatMetres, formatNumber } from './format.ts';

/** What one press of an arrow adds: with Alt, plain, with Shift. */
const STEPS: Readonly<Record<QuantityKind | 'feet', readonly [number, number, number]>> = {
  length: [0.01, 0.1, 1],
  // An eighth of an inch, an inch, a foot.
  feet: [0.003175, 0.0254, 0.3048],
  angle: [0.1, 1, 5],
  number: [0.01, 0.05, 0.1],
};
const FORMATS = { length: formatMetres, angle: formatDegrees, number: formatNumber } as const;

export interface NumberFieldProps {
  readonly label: string;
  /** The name read out, where the label alone would not tell which thing is meant. */
  readonly name?: string;
  /** Null: several values, or none; the placeholder says which. */
  readonly value: number | null;
  readonly placeholder?: string | undefined;
  readonly rule: QuantityRule;
  /** The change that makes a typed value so; it is shown as it is typed. */
  readonly recipe?: (value: number) => Recipe;
  /** The same as an edit of the file, which may be refused. */
  readonly plan?: (file: FloorFile, value: number) => Edit;
  /** What leaving it empty does, where the value may be left out. */
  readonly clear?: (file: FloorFile) => Edit;
  /** A slider under the row, between two values. */
  readonly slider?: { readonly min: number; readonly max: number; readonly step: number };
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
export function NumberField({
  label,
  name,
  value,
  placeholder,
  rule,
  recipe,
  plan,
  clear,
  slider,
  subject,
  aside,
  field,
}: NumberFieldProps) {
  const store = useEditorStore();
  const errorId = useId();
  const input = useRef<HTMLInputElement>(null);
  const [draft, setDraft] = useState<string | null>(null);
  const [error, setError] = useState<string | null>(null);
  const units = useEditor((state) => state.units);
  const format = FORMATS[rule.kind];
  const shown = draft ?? (value === null ? '' : format(value));
  const planFor = (number: number): { readonly recipe: Recipe } | { readonly fault: string } => {
    if (plan === undefined) return { recipe: recipe?.(number) ?? (() => {}) };
    const planned = plan(store.getState().file, number);
    const refused = planned.ok ? describeKindLock(store.getState(), planned.ids) : planned;
    return refused === null && planned.ok ? planned : { fault: `${refused?.what}. ${refused?.remedy}`.trim() };
  };
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
    if (clear !== undefined && text.trim() === '') {
      setError(null);
      if (editing.current) {
        editing.current = false;
        cancelGesture(store);
      }
      return;
    }
    const read = parseQuantity(text, rule, units);
    setError(read.ok ? null : read.remedy);
    if (!read.ok) return;
    const made = planFor(read.value);
    if ('fault' in made) {
      setError(made.fault);
      return;
    }
    if (!editing.current) beginGesture(store, `Typing: ${lowerFirst(subject)}`);
    editing.current = true;
    previewGesture(store, made.recipe);
  };

  /** True: there is nothing left to correct. */
  const commit = (): boolean => {
    if (draft === null) return true;
    if (clear !== undefined && draft.trim() === '') {
      const planned = clear(store.getState().file);
      const lock = planned.ok ? describeKindLock(store.getState(), planned.ids) : null;
      if (lock !== null) {
        setError(`${lock.what}. ${lock.remedy}`);
        return false;
      }
      if (value !== null && planned.ok) edit(store, planned.name, planned.recipe);
      setDraft(null);
      return true;
    }
    const read = parseQuantity(draft, rule, units);
    if (!read.ok) {
      setError(read.remedy);
      return false;
    }
    if (!editing.current && error === null) {
      setDraft(null);
      return true;
    }
    const made = planFor(read.value);
    if ('fault' in made) {
      setError(made.fault);
      return false;
    }
    editing.current = false;
    const outcome = commitGesture(store, `${subject}: ${format(read.value)}`, made.recipe);
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
      // Whoever has gone on meanwhile keeps the focus.
      if (commit())
        requestAnimationFrame(() => {
          if (document.activeElement === input.current) input.current?.select();
        });
    } else if (event.key === 'Escape') {
      event.preventDefault();
      event.stopPropagation();
      if (draft === null) focusPage();
      else revert();
    } else if (event.key === 'ArrowUp' || event.key === 'ArrowDown') {
      event.preventDefault();
      const [fine, plain, coarse] = STEPS[rule.kind === 'length' && units === 'feet' ? 'feet' : rule.kind];
      const step = event.altKey ? fine : event.shiftKey ? coarse : plain;
      const read = draft === null ? null : parseQuantity(draft, rule, units);
      const from = read?.ok ? read.value : (value ?? 0);
      const next = from + (event.key === 'ArrowUp' ? step : -step);
      const text = format(Math.round(next * 1e6) / 1e6);
      if (parseQuantity(text, rule, units).ok) type(text);
    }
  };

  const onBlur = (): void => {
    if (commit()) return;
    revert();
    say(store, value === null ? `${subject} stays as it is.` : `${subject} stays at ${format(value)}.`);
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
        placeholder={placeholder}
        onChange={(event) => type(event.target.value)}
        onFocus={(event) => event.target.select()}
        onKeyDown={onKeyDown}
        onBlur={onBlur}
      />
      {aside !== undefined && aside !== null && <span className="row-aside">{aside}</span>}
      {slider !== undefined && (
        <input
          className="slider"
          type="range"
          {...slider}
          aria-label={`${name ?? subject}, slider`}
          aria-valuetext={value === null ? undefined : format(value)}
          value={value ?? slider.min}
          onChange={(event) => type(format(Number(event.target.value)))}
          onPointerUp={() => commit()}
          onKeyUp={(event) => {
            if (event.key.startsWith('Arrow') || /^(Home|End|Page)/u.test(event.key)) commit();
          }}
          onKeyDown={(event) => {
            if (event.key !== 'Escape') return;
            event.stopPropagation();
            if (draft === null) focusPage();
            else revert();
          }}
          onBlur={onBlur}
        />
      )}
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
