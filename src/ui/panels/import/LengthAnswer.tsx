import { useId, useState } from 'react';
import { parseQuantity } from '../../../editor/quantity.ts';
import { useEditor } from '../context.tsx';
import { formatBare } from '../format.ts';

interface Props {
  readonly label: string;
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly aside?: string;
  readonly onAnswer: (value: number) => void;
}

/** A length that is answered: taken with Enter or on leaving; what cannot be read says what would be right. */
export function LengthAnswer({ label, value, min, max, aside, onAnswer }: Props) {
  const units = useEditor((state) => state.units);
  const id = useId();
  const [written, setWritten] = useState<string | null>(null);
  const [remedy, setRemedy] = useState<string | null>(null);
  const take = (): void => {
    if (written === null) return;
    const parsed = parseQuantity(written, { kind: 'length', min, max }, units);
    if (!parsed.ok) {
      setRemedy(parsed.remedy);
      return;
    }
    setWritten(null);
    setRemedy(null);
    if (parsed.value !== value) onAnswer(parsed.value);
  };
  return (
    <div className="row">
      <label className="row-label" htmlFor={id}>
        {label}
      </label>
      <input
        id={id}
        className="row-value field"
        inputMode="decimal"
        autoComplete="off"
        value={written ?? formatBare(value)}
        aria-invalid={remedy !== null}
        aria-describedby={remedy === null ? undefined : `${id}-error`}
        onChange={(event) => setWritten(event.target.value)}
        onBlur={take}
        onKeyDown={(event) => {
          if (event.key === 'Enter') take();
          if (event.key === 'Escape' && written !== null) {
            event.preventDefault();
            event.stopPropagation();
            setWritten(null);
            setRemedy(null);
          }
        }}
      />
      {aside !== undefined && <span className="row-aside">{aside}</span>}
      {remedy !== null && (
        <span className="row-error" id={`${id}-error`} role="alert">
          {remedy}
        </span>
      )}
    </div>
  );
}
