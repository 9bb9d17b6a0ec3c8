import type { CheckResult } from '../../../core/coverage/result.ts';
import type { Floor, Furniture } from '../../../core/floor/index.ts';
import { measurePiece, resizePiece } from '../../../editor/edits/furniture-pieces.ts';
import { isResultStale } from '../../../editor/store.ts';
import { useEditor } from '../context.tsx';
import { formatArea, formatBare, formatMetres, joinNames } from '../format.ts';
import { Ledger, Row } from '../Ledger.tsx';
import { NoteHead } from '../NoteHead.tsx';
import { NumberField } from '../NumberField.tsx';
import { ceilingOf } from '../rule-marks.ts';
import { nameOfId } from '../words.ts';
import { HEIGHTS_FROM, PropertyChoice, PropertyFlag, PropertyNumber, PropertyText } from './Properties.tsx';

const KINDS: readonly Furniture['kind'][] = [
  'partition',
  'screen',
  'shelving',
  'cabinet',
  'desk',
  'column',
  'hanging',
  'other',
];

interface Props {
  readonly floor: Floor;
  readonly piece: Furniture;
  readonly before: Furniture;
}

export function FurnitureNote({ floor, piece, before }: Props) {
  const result = useEditor((state) => state.result);
  const stale = useEditor(isResultStale);
  const { id, name } = piece;
  const ids = [id];
  const size = measurePiece(piece.outline);
  const ceiling = ceilingOf(floor);
  const hides = result === null ? null : sumHidden(result, id);
  return (
    <>
      <NoteHead title={name} aside={piece.kind} about={id}>
        {hides === null ? null : sayHidden(hides)}
      </NoteHead>
      <Ledger>
        <PropertyNumber
          ids={ids}
          property="top"
          label="top"
          field="top"
          value={piece.top}
          rule={{
            kind: 'length',
            min: 0,
            max: 50,
            check: (value) => (value > piece.base ? null : `Write more than the base, ${formatMetres(piece.base)}.`),
          }}
          slider={{ min: 0, max: ceiling, step: 0.01 }}
          subject={`Top of ${name}`}
          aside={piece.top === before.top ? undefined : `was ${formatBare(before.top)}`}
        />
        <PropertyNumber
          ids={ids}
          property="base"
          label="base"
          value={piece.base}
          rule={{
            kind: 'length',
            min: 0,
            max: 50,
            check: (value) => (value < piece.top ? null : `Write less than the top, ${formatMetres(piece.top)}.`),
          }}
          subject={`Base of ${name}`}
          aside={piece.base === before.base ? undefined : `was ${formatBare(before.base)}`}
        />
        {(['length', 'width'] as const).map((side) => (
          <NumberField
            key={side}
            label={side === 'length' ? 'length' : 'depth'}
            value={size[side]}
            rule={{ kind: 'length', above: 0, max: 1000 }}
            plan={(file, value) => resizePiece(file, id, { [side]: value })}
            subject={`${side === 'length' ? 'Length' : 'Depth'} of ${name}`}
          />
        ))}
        <PropertyText ids={ids} property="name" label="name" />
        <PropertyChoice
          ids={ids}
          property="kind"
          label="kind"
          options={KINDS.map((kind) => ({ value: kind, text: kind }))}
        />
        <PropertyFlag ids={ids} property="glass" label="glass" />
        <PropertyNumber
          ids={ids}
          property="raised"
          label="can be raised by"
          value={piece.raised}
          rule={{ kind: 'length', min: 0, max: 50 }}
          subject={`Raising of ${name}`}
        />
        <PropertyFlag ids={ids} property="movable" label="is moved about" />
        <PropertyChoice ids={ids} property="from" label="height is" options={HEIGHTS_FROM} />
      </Ledger>
      {hides !== null && (
        <Ledger title="Leaves blind" stale={stale}>
          <Row label="to seated people">{formatArea(hides.seatedM2)}</Row>
          <Row label="to walking people">{formatArea(hides.walkingM2)}</Row>
          <Row label="workplaces not met" wide>
            {hides.workplaces.length === 0 ? (
              'none'
            ) : (
              <bdi>{joinNames(hides.workplaces.map((each) => nameOfId(floor, each).replace(/^Workplace /u, '')))}</bdi>
            )}
          </Row>
        </Ledger>
      )}
    </>
  );
}

interface Hidden {
  readonly seatedM2: number;
  readonly walkingM2: number;
  readonly workplaces: readonly string[];
}

/** The blind areas of the check that this piece causes, and the workplaces it leaves unmet. */
function sumHidden(result: CheckResult, id: string): Hidden {
  const sum = (plane: 'seated' | 'walking'): number =>
    result.blind
      .filter((area) => area.plane === plane && area.by === id)
      .reduce((total, area) => total + area.areaM2, 0);
  const workplaces = result.workplaces
    .filter((each) => !each.met && each.hiddenBy.some((by) => by === id))
    .map((each) => each.id);
  return { seatedM2: sum('seated'), walkingM2: sum('walking'), workplaces };
}

function sayHidden({ seatedM2, workplaces }: Hidden): string {
  if (seatedM2 === 0 && workplaces.length === 0) return 'It leaves no place blind.';
  return `${formatArea(seatedM2)} behind it is blind to seated people.`;
}
