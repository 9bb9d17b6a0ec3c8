import { useId, useState } from 'react';
import type { Floor } from '../../../core/floor/index.ts';
import type { KeptDetectors } from '../../../core/planning/arrange/options.ts';
import { parseQuantity, type QuantityRule } from '../../../editor/quantity.ts';
import { useEditor } from '../context.tsx';
import { focusPage } from '../focus.ts';
import { formatMetres, formatNumber } from '../format.ts';
import { Ledger } from '../Ledger.tsx';
import { Choice } from '../notes/Properties.tsx';
import { type Choices, hasTurns, readTurns } from './arrange-state.ts';

interface Props {
  readonly floor: Floor;
  readonly selection: readonly string[];
  readonly choices: Choices;
  readonly onChange: (choices: Choices) => void;
}

const METRES: QuantityRule = { kind: 'length', min: 0, max: 100 };

/** Types, needs, places, what stays, and what is kept clear. */
export function ArrangeChoices({ floor, selection, choices, onChange }: Props) {
  const change = (part: Partial<Choices>): void => onChange({ ...choices, ...part });
  const zones = floor.zones.filter(({ need }) => need !== 'nobody').length;
  const held = [...floor.workplaces, ...floor.zones].filter(({ id }) => selection.includes(id)).length;
  const isOwnPitch = choices.pitch !== null && ![0.6, 1.2].includes(choices.pitch);
  const turns = readTurns(choices.turns);
  return (
    <>
      <Ticks
        title="types"
        none="choose one or several"
        options={floor.types.map(({ id, name }) => ({ id, text: name || id }))}
        chosen={choices.types}
        onChange={(types) => change({ types })}
      />
      {choices.types.length > 1 && (
        <Ledger title="prices" aside="1 each: the fewest">
          {floor.types
            .filter(({ id }) => choices.types.includes(id))
            .map(({ id, name }) => (
              <Amount
                key={id}
                label={name || id}
                value={choices.prices[id] ?? 1}
                rule={{ kind: 'number', min: 0.01, max: 1e9 }}
                onWrite={(price) => change({ prices: { ...choices.prices, [id]: price } })}
              />
            ))}
        </Ledger>
      )}
      <div className="ledger">
        <Choice
          label="needs"
          value={choices.needs}
          options={[
            { value: 'all', text: `all ${floor.workplaces.length + zones}` },
            { value: 'workplaces', text: 'workplaces' },
            { value: 'zones', text: 'zones' },
            { value: 'selected', text: `what is selected, ${held}` },
          ]}
          onChoose={(needs) => change({ needs: needs as Choices['needs'] })}
        />
        <Choice
          label="places"
          value={choices.pitch === null ? 'tiles' : isOwnPitch ? 'own' : String(choices.pitch)}
          options={[
            { value: 'tiles', text: 'ceiling tiles' },
            { value: '0.6', text: `every ${formatMetres(0.6)}` },
            { value: '1.2', text: `every ${formatMetres(1.2)}` },
            { value: 'own', text: 'other steps' },
          ]}
          onChoose={(value) => change({ pitch: value === 'tiles' ? null : value === 'own' ? 1 : Number(value) })}
        />
        {isOwnPitch && (
          <Amount
            label="steps"
            value={choices.pitch ?? 1}
            rule={{ kind: 'length', min: 0.05, max: 100 }}
            onWrite={(pitch) => change({ pitch })}
          />
        )}
        {hasTurns(floor, choices) && (
          <Text
            label="turns °"
            value={choices.turns}
            fault={turns === null ? 'Write degrees with commas between, such as 0, 90.' : null}
            onWrite={(text) => change({ turns: text })}
          />
        )}
        <Choice
          label="stay"
          value={choices.kept}
          options={[
            { value: 'fixed', text: 'existing, locked' },
            { value: 'all', text: 'all there are' },
            { value: 'none', text: 'none' },
          ]}
          onChoose={(kept) => change({ kept: kept as KeptDetectors })}
        />
        <Amount label="from walls" value={choices.wall} rule={METRES} onWrite={(wall) => change({ wall })} />
        <Amount
          label="from air outlets"
          value={choices.outlet}
          rule={METRES}
          onWrite={(outlet) => change({ outlet })}
        />
        <Amount label="from hanging lamps" value={choices.lamp} rule={METRES} onWrite={(lamp) => change({ lamp })} />
        <Amount
          label="seconds at most"
          value={choices.seconds}
          rule={{ kind: 'number', min: 1, max: 3600 }}
          onWrite={(seconds) => change({ seconds })}
        />
      </div>
      {floor.zones.length > 0 && (
        <Ticks
          title="kept free"
          none="no zone"
          options={floor.zones.map(({ id, name }) => ({ id, text: name || id }))}
          chosen={choices.avoid}
          onChange={(avoid) => change({ avoid })}
        />
      )}
      <Ticks
        title="at the end"
        none="on the grid alone"
        options={[{ id: 'off', text: 'try to save one more off the grid' }]}
        chosen={choices.offGrid ? ['off'] : []}
        onChange={(chosen) => change({ offGrid: chosen.length > 0 })}
      />
    </>
  );
}

interface TicksProps {
  readonly title: string;
  /** What an empty choice means. */
  readonly none: string;
  readonly options: readonly { readonly id: string; readonly text: string }[];
  readonly chosen: readonly string[];
  readonly onChange: (chosen: readonly string[]) => void;
}

function Ticks({ title, none, options, chosen, onChange }: TicksProps) {
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
            onChange={(event) =>
              onChange(event.target.checked ? [...chosen, id] : chosen.filter((each) => each !== id))
            }
          />
          <bdi>{text}</bdi>
        </label>
      ))}
    </fieldset>
  );
}

interface AmountProps {
  readonly label: string;
  readonly value: number;
  readonly rule: QuantityRule;
  readonly onWrite: (value: number) => void;
}

/** A number that belongs to the note, not to the floor. */
function Amount({ label, value, rule, onWrite }: AmountProps) {
  const units = useEditor((state) => state.units);
  const [fault, setFault] = useState<string | null>(null);
  return (
    <Text
      label={label}
      value={rule.kind === 'length' ? formatMetres(value) : formatNumber(value)}
      fault={fault}
      onWrite={(text) => {
        const read = parseQuantity(text, rule, units);
        setFault(read.ok ? null : read.remedy);
        if (read.ok) onWrite(read.value);
      }}
    />
  );
}

interface TextProps {
  readonly label: string;
  readonly value: string;
  readonly fault: string | null;
  readonly onWrite: (text: string) => void;
}

function Text({ label, value, fault, onWrite }: TextProps) {
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
        className="row-value field"
        type="text"
        autoComplete="off"
        spellCheck={false}
        aria-invalid={fault !== null}
        aria-describedby={fault === null ? undefined : `${id} fault`}
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
      {fault !== null && (
        <span id={`${id} fault`} className="row-error" role="alert">
          {fault}
        </span>
      )}
    </div>
  );
}
