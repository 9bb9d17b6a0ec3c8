import type { CheckResult } from '../../core/coverage/result.ts';
import type { Floor, Furniture } from '../../core/floor/index.ts';
import { setFurnitureBase, setFurnitureKind, setFurnitureTop, setGlass, setName } from '../../editor/recipes.ts';
import { isResultStale } from '../../editor/store.ts';
import { useEditor } from './context.tsx';
import { CheckField, SelectField, TextField } from './Fields.tsx';
import { formatArea, formatMetres, joinNames } from './format.ts';
import { Ledger, Row } from './Ledger.tsx';
import { NoteHead } from './NoteHead.tsx';
import { NumberField } from './NumberField.tsx';
import { nameOfId } from './words.ts';

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
  const hides = result === null ? null : sumHidden(result, id);
  return (
    <>
      <NoteHead title={name} aside={piece.kind} about={id}>
        {hides === null ? null : sayHidden(hides)}
      </NoteHead>
      <Ledger>
        <NumberField
          label="top"
          value={piece.top}
          field="top"
          rule={{
            kind: 'length',
            min: 0,
            max: 50,
            check: (value) => (value > piece.base ? null : `Write more than the base, ${formatMetres(piece.base)}.`),
          }}
          recipe={(top) => setFurnitureTop(id, top)}
          subject={`Top of ${name}`}
          aside={piece.top === before.top ? undefined : `was ${before.top.toFixed(2)}`}
        />
        <NumberField
          label="base"
          value={piece.base}
          rule={{
            kind: 'length',
            min: 0,
            max: 50,
            check: (value) => (value < piece.top ? null : `Write less than the top, ${formatMetres(piece.top)}.`),
          }}
          recipe={(base) => setFurnitureBase(id, base)}
          subject={`Base of ${name}`}
          aside={piece.base === before.base ? undefined : `was ${before.base.toFixed(2)}`}
        />
        <Row label="length, depth" wide>
          {saySize(piece)}
        </Row>
        <TextField label="name" value={name} recipe={(value) => setName('furniture', id, value)} subject="Name" />
        <SelectField
          label="kind"
          value={piece.kind}
          options={KINDS.map((kind) => ({ value: kind, text: kind }))}
          recipe={(kind) => setFurnitureKind(id, kind)}
          subject={`Kind of ${name}`}
        />
        <CheckField
          label="glass"
          value={piece.glass}
          recipe={(glass) => setGlass(id, glass)}
          subject={`Glass of ${name}`}
        />
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

/** The sides of the box along the longest edge: what a tape would find on a piece with square corners. */
function saySize({ outline }: Furniture): string {
  let longest = 0;
  let ux = 1;
  let uy = 0;
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length] ?? a;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (length <= longest) return;
    longest = length;
    ux = (b[0] - a[0]) / length;
    uy = (b[1] - a[1]) / length;
  });
  const along = outline.map(([x, y]) => x * ux + y * uy);
  const across = outline.map(([x, y]) => y * ux - x * uy);
  const size = (values: number[]): number => Math.max(...values) - Math.min(...values);
  return `${size(along).toFixed(2)} × ${formatMetres(size(across))}`;
}
