import { useId, useState } from 'react';
import { edit, type Recipe } from '../../editor/history.ts';
import { useEditorStore } from './context.tsx';
import { focusPage } from './focus.ts';

interface TextFieldProps {
  readonly label: string;
  readonly value: string;
  readonly recipe: (value: string) => Recipe;
  readonly subject: string;
}

/** A name that is written in place; Enter or leaving makes it so, Escape takes it back. */
export function TextField({ label, value, recipe, subject }: TextFieldProps) {
  const store = useEditorStore();
  const id = useId();
  const [draft, setDraft] = useState<string | null>(null);
  const commit = (): void => {
    if (draft !== null && draft !== value) edit(store, `${subject}: ${draft}`, recipe(draft));
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
        value={draft ?? value}
        onChange={(event) => setDraft(event.target.value)}
        onBlur={commit}
        onKeyDown={(event) => {
          if (event.key === 'Enter') commit();
          if (event.key !== 'Escape') return;
          event.stopPropagation();
          if (draft === null) focusPage();
          setDraft(null);
        }}
      />
    </div>
  );
}

interface SelectFieldProps<Value extends string> {
  readonly label: string;
  readonly value: Value;
  readonly options: readonly { readonly value: Value; readonly text: string }[];
  readonly recipe: (value: Value) => Recipe;
  readonly subject: string;
}

/** One of several, chosen in place. */
export function SelectField<Value extends string>({ label, value, options, recipe, subject }: SelectFieldProps<Value>) {
  const store = useEditorStore();
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
        onChange={(event) => {
          const chosen = options.find((option) => option.value === event.target.value);
          if (chosen !== undefined) edit(store, `${subject}: ${chosen.text}`, recipe(chosen.value));
        }}
        onKeyDown={(event) => {
          if (event.key === 'Escape') focusPage();
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

interface CheckFieldProps {
  readonly label: string;
  readonly value: boolean;
  readonly recipe: (value: boolean) => Recipe;
  readonly subject: string;
}

/** Yes or no, set in place. */
export function CheckField({ label, value, recipe, subject }: CheckFieldProps) {
  const options = [
    { value: 'yes', text: 'yes' },
    { value: 'no', text: 'no' },
  ] as const;
  return (
    <SelectField
      label={label}
      value={value ? 'yes' : 'no'}
      options={options}
      recipe={(chosen: 'yes' | 'no') => recipe(chosen === 'yes')}
      subject={subject}
    />
  );
}
