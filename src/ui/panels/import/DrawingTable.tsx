import { useState } from 'react';
import { useHost } from '../context.tsx';
import { count } from '../format.ts';
import { Choice } from '../notes/Properties.tsx';
import type { DrawingQuestions, OfferedLayer } from './import-port.ts';

/** Layers shown before all are asked for, the fullest first; blocks are asked for. Hundreds of rows at once would hold the page up. */
const SHOWN = 8;

/** What the layers and blocks of a drawing are taken for, and its unit: guesses that can be changed and are remembered. */
export function DrawingTable({ drawing }: { readonly drawing: DrawingQuestions }) {
  const { imports } = useHost();
  const layers = drawing.layers.filter(({ isBlock }) => !isBlock);
  const blocks = drawing.layers.filter(({ isBlock }) => isBlock);
  return (
    <section className="import-part" aria-label="The drawing">
      <h3 className="ledger-title">Unit of the drawing</h3>
      <Choice
        label="one unit is"
        value={drawing.unit}
        options={drawing.units}
        onChoose={(unit) => imports.answerDrawing({ unit })}
      />
      <p className="aside">{drawing.unitBecause}</p>
      <Part title="Layers" items={layers} first={SHOWN} classes={drawing.classes} />
      {blocks.length > 0 && <Part title="Blocks" items={blocks} first={0} classes={drawing.classes} />}
    </section>
  );
}

interface PartProps {
  readonly title: string;
  readonly items: readonly OfferedLayer[];
  /** Rows shown before all are asked for. */
  readonly first: number;
  readonly classes: readonly string[];
}

function Part({ title, items, first, classes }: PartProps) {
  const { imports } = useHost();
  const [isWhole, setWhole] = useState(false);
  const shown = isWhole ? items : items.slice(0, first);
  return (
    <>
      <h3 className="ledger-title">{title}</h3>
      {shown.length > 0 && (
        <table className="ranges import-layers">
          <thead>
            <tr>
              <th scope="col">name</th>
              <th scope="col">on it</th>
              <th scope="col">taken for</th>
            </tr>
          </thead>
          <tbody>
            {shown.map((item) => (
              <tr key={item.key}>
                <th scope="row">
                  <bdi>{item.title}</bdi>
                </th>
                <td>{item.detail}</td>
                <td>
                  <select
                    className="field wide"
                    aria-label={`What ${item.title} holds`}
                    value={item.taken}
                    onChange={(event) => imports.answerDrawing({ classes: { [item.key]: event.target.value } })}
                  >
                    {classes.map((name) => (
                      <option key={name} value={name}>
                        {name}
                      </option>
                    ))}
                  </select>
                  <span className="aside">{item.because}</span>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {items.length > first && (
        <button type="button" className="word" onClick={() => setWhole(!isWhole)}>
          {isWhole
            ? 'Show fewer'
            : first === 0
              ? `Show ${count(items.length, 'block')}`
              : `Show ${items.length - first} more`}
        </button>
      )}
    </>
  );
}
