/** Fields of one property over one thing or many: what they have in common, or that it is mixed. */
import { useId, useState } from 'react';
import type { FloorFile } from '../../../core/floor/index.ts';
import type { Edit } from '../../../editor/edits/edit.ts';
import {
  type PropertyName,
  type PropertyValue,
  readProperty,
  type Shared,
  setProperty,
} from '../../../editor/edits/properties.ts';
import type { QuantityRule } from '../../../editor/quantity.ts';
import { useEditor, useEditorStore } from '../context.tsx';
import { makeEdit } from '../edit-actions.ts';
import { focusPage } from '../focus.ts';
import { NumberField, type NumberFieldProps } from '../NumberField.tsx';

interface PropertyProps {
  readonly ids: readonly string[];
  readonly property: PropertyName;
  readonly label: string;
}

function useShared(ids: readonly string[], property: PropertyName): Shared {
  const file = useEditor((state) => state.file);
  return readProperty(file, ids, property);
}

type PropertyNumberProps = PropertyProps &
  Pick<NumberFieldProps, 'subject' | 'aside' | 'field' | 'slider'> & {
    readonly rule: QuantityRule;
    /** It may be left out: an empty field does so. */
    readonly isOptional?: true;
    /** As it is while a gesture runs; left out: as the file has it. */
    readonly value?: number;
  };

/** A number that all of the things get when it is written. */
export function PropertyNumber({ ids, property, value, isOptional, ...rest }: PropertyNumberProps) {
  const shared = useShared(ids, property);
  if (shared.kind === 'none') return null;
  const common = shared.kind === 'same' && typeof shared.value === 'number' ? shared.value : null;
  return (
    <NumberField
      {...rest}
      value={value ?? common}
      placeholder={shared.kind === 'mixed' ? 'mixed' : 'not set'}
      plan={(file, number) => setProperty(file, ids, property, number)}
      {...(isOptional ? { clear: (file: FloorFile) => setProperty(file, ids, property, null) } : {})}
    />
  );
}

interface ChoiceProps extends PropertyProps {
  readonly options: readonly { readonly value: PropertyValue; readonly text: string }[];
  /** What leaving it out is called, where it may be left out. */
  readonly none?: string;
}

/** One of several words, or yes and no. */
export function PropertyChoice({ ids, property, label, options, none }: ChoiceProps) {
  const store = useEditorStore();
  const shared = useShared(ids, property);
  if (shared.kind === 'none') return null;
  const value = shared.kind === 'mixed' ? 'mixed' : shared.value === undefined ? '' : String(shared.value);
  return (
    <Choice
      label={label}
      value={value}
      options={[
        ...(value === 'mixed' ? [{ value: 'mixed', text: 'mixed' }] : []),
        ...(none === undefined ? [] : [{ value: '', text: none }]),
        ...options.map((each) => ({ value: String(each.value), text: each.text })),
      ]}
      onChoose={(chosen) => {
        const option = options.find((each) => String(each.value) === chosen);
        if (chosen === 'mixed') return;
        makeEdit(store, setProperty(store.getState().file, ids, property, option?.value ?? null), true);
      }}
    />
  );
}

const YES_OR_NO = [
  { value: true, text: 'yes' },
  { value: false, text: 'no' },
] as const;

export function PropertyFlag(props: PropertyProps) {
  return <PropertyChoice {...props} options={YES_OR_NO} />;
}

/** A text that all of the things get; Enter or leaving makes it so, Escape takes it back. */
export function PropertyText({ ids, property, label }: PropertyProps) {
  const store = useEditorStore();
  const shared = useShared(ids, property);
  if (shared.kind === 'none') return null;
  return (
    <WrittenText
      label={label}
      value={shared.kind === 'same' ? String(shared.value ?? '') : ''}
      placeholder={shared.kind === 'mixed' ? 'mixed' : undefined}
      onWrite={(text) => {
        const left = text.trim() === '' && property !== 'name' ? null : text.trim();
        makeEdit(store, setProperty(store.getState().file, ids, property, left), true);
      }}
    />
  );
}

interface WrittenTextProps {
  readonly label: string;
  readonly value: string;
  readonly placeholder?: string | undefined;
  readonly onWrite: (text: string) => void;
}

export function WrittenText({ label, value, placeholder, onWrite }: WrittenTextProps) {
  const id = useId();
  const [draft, setDraft] = useState<string | null>(null);
  const write = (): void => {
    if (draft !== null && draft !== value) onWrite(draft);
    setDraft(null);
  };
  return (
    <div className="row">
      <label className="row-label" htmlFor={id}>
        {label}
      </label>
      <input
        id={id}
        className="row-value field wide"
        type="text"
        dir="auto"
        maxLength={1000}
        autoComplete="off"
        spellCheck={false}
        placeholder={placeholder}
        value={draft ?? value}
        onChange={(event) => setDraft(event.target.value)}
        onBlur={write}
        onKeyDown={(event) => {
          if (event.key === 'Enter') write();
          if (event.key !== 'Escape') return;
          event.stopPropagation();
          if (draft === null) focusPage();
          setDraft(null);
        }}
      />
    </div>
  );
}

interface RawChoiceProps {
  readonly label: string;
  readonly value: string;
  readonly options: readonly { readonly value: string; readonly text: string }[];
  readonly onChoose: (value: string) => void;
}

/** One of several, chosen in place. */
export function Choice({ label, value, options, onChoose }: RawChoiceProps) {
  const id = useId();
  return (
    <div className="row">
      <label className="row-label" htmlFor={id}>
        {label}
      </label>
      <select
        id={id}
        className="row-value field wide"
        value={value}
        onChange={(event) => onChoose(event.target.value)}
        onKeyDown={(event) => {
          if (event.key !== 'Escape') return;
          event.stopPropagation();
          focusPage();
        }}
      >
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.text}
          </option>
        ))}
      </select>
    </div>
  );
}

interface SetProps {
  readonly title: string;
  /** What an empty choice means. */
  readonly none: string;
  readonly chosen: readonly string[];
  readonly options: readonly { readonly id: string; readonly text: string }[];
  readonly plan: (file: FloorFile, ids: readonly string[]) => Edit;
}

/** Several of several, each a box to tick. */
export function SetField({ title, none, chosen, options, plan }: SetProps) {
  const store = useEditorStore();
  const name = useId();
  return (
    <fieldset className="set-field">
      <legend className="ledger-title">
        {title}
        {chosen.length === 0 && <span className="aside">{none}</span>}
      </legend>
      {options.map(({ id, text }) => (
        <label key={id} className="tick" htmlFor={`${name} ${id}`}>
          <input
            id={`${name} ${id}`}
            type="checkbox"
            checked={chosen.includes(id)}
            onChange={(event) => {
              const next = event.target.checked ? [...chosen, id] : chosen.filter((each) => each !== id);
              makeEdit(store, plan(store.getState().file, next), true);
            }}
          />
          <bdi>{text}</bdi>
        </label>
      ))}
      {options.length === 0 && <p className="aside">There is none.</p>}
    </fieldset>
  );
}

/** How a height is known. */
export const HEIGHTS_FROM = [
  { value: 'measured', text: 'measured' },
  { value: 'drawn', text: 'drawn' },
  { value: 'assumed', text: 'only assumed' },
] as const;
