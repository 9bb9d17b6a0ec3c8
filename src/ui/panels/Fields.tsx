import { useId } from 'react';
import { edit, type Recipe } from '../../editor/history.ts';
import { sayLocked } from '../../editor/locks.ts';
import { useEditorStore } from './context.tsx';
import { focusPage } from './focus.ts';

interface SelectFieldProps<Value extends string> {
  readonly label: string;
  readonly value: Value;
  readonly options: readonly { readonly value: Value; readonly text: string }[];
  /** Id of the thing that is changed: while it is locked nothing is chosen. */
  readonly of: string;
  readonly recipe: (value: Value) => Recipe;
  readonly subject: string;
}

/** One of several, chosen in place. */
export function SelectField<Value extends string>({
  label,
  value,
  options,
  of,
  recipe,
  subject,
}: SelectFieldProps<Value>) {
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
          if (chosen !== undefined && !sayLocked(store, of))
            edit(store, `${subject}: ${chosen.text}`, recipe(chosen.value));
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
