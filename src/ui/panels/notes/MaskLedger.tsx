import type { Detector, Mask } from '../../../core/floor/index.ts';
import { edit } from '../../../editor/history.ts';
import { planByHand, sayLocked } from '../../../editor/locks.ts';
import type { QuantityRule } from '../../../editor/quantity.ts';
import { type MaskPart, removeMask, setMaskPart } from '../../../editor/recipes.ts';
import { holdMaskHandle } from '../../../editor/view.ts';
import { useEditorStore } from '../context.tsx';
import { formatDegrees, formatMetres } from '../format.ts';
import { NumberField } from '../NumberField.tsx';

interface Props {
  readonly detector: Detector;
  readonly mask: Mask;
  readonly index: number;
  /** Metres from the lens down to the seated plane. */
  readonly drop: number;
}

const PARTS: readonly MaskPart[] = ['from', 'to', 'inner', 'outer'];

export function MaskLedger({ detector, mask, index, drop }: Props) {
  const store = useEditorStore();
  const { id, name } = detector;
  const number = detector.masks.length > 1 ? ` ${index + 1}` : '';
  return (
    <section className="ledger">
      <h3 className="ledger-title">
        Mask{number}
        <span className="words">
          <button
            type="button"
            className="word"
            onClick={() => holdMaskHandle(store, { detector: id, mask: index, part: 'to' })}
          >
            Take it in hand
          </button>
          <button
            type="button"
            className="word"
            aria-label={`Remove mask${number} of ${name}`}
            onClick={() => {
              if (!sayLocked(store, id)) edit(store, `Removed a mask of ${name}`, removeMask(id, index));
            }}
          >
            Remove
          </button>
        </span>
      </h3>
      {PARTS.map((part) => (
        <NumberField
          key={part}
          label={part}
          name={`${part}, mask${number} of ${name}`}
          field={`${part} ${index}`}
          value={mask[part]}
          rule={ruleOf(part, mask)}
          plan={(_, degrees) => planByHand(store.getState(), id, setMaskPart(id, index, part, degrees))}
          subject={`Mask${number} of ${name}, ${part}`}
          aside={asideOf(part, mask, drop)}
        />
      ))}
    </section>
  );
}

/** A mask covers more than nothing and at most the whole ring, and its inner edge lies inside its outer. */
function ruleOf(part: MaskPart, mask: Mask): QuantityRule {
  switch (part) {
    case 'from':
    case 'to':
      return {
        kind: 'angle',
        min: -360,
        max: 720,
        check: (value) => {
          const span = part === 'to' ? value - mask.from : mask.to - value;
          if (span === 360) return null;
          if (span % 360 !== 0) return null;
          const other = part === 'to' ? 'from' : 'to';
          return `Write another angle than ${other}, ${formatDegrees(mask[other])}. For the whole ring, to is from + 360.`;
        },
      };
    case 'inner':
      return {
        kind: 'angle',
        min: 0,
        max: 90,
        check: (value) => (value < mask.outer ? null : `Write less than outer, ${formatDegrees(mask.outer)}.`),
      };
    case 'outer':
      return {
        kind: 'angle',
        min: 0,
        max: 90,
        check: (value) => (value > mask.inner ? null : `Write more than inner, ${formatDegrees(mask.inner)}.`),
      };
  }
}

/** How far from the foot an edge of the mask meets the seated plane; level and above it never does. */
function asideOf(part: MaskPart, mask: Mask, drop: number): string | undefined {
  if (part !== 'inner' && part !== 'outer') return undefined;
  if (mask[part] > 89 || drop <= 0) return undefined;
  return formatMetres(drop * Math.tan((mask[part] * Math.PI) / 180));
}
