/** Detector types: a data sheet entered row by row, and what its rows come to at a height. */
import { type FloorFile, LIMITS, type Motion, resolveFloor } from '../../core/floor/index.ts';
import { type Extent, extentAt, hangRange } from '../../core/sight/range.ts';
import { tidy } from '../recipes.ts';
import { indexOfId } from '../things.ts';
import { createChange } from './change.ts';
import { type Edit, type Refused, refuse, refuseGone } from './edit.ts';
import { nameThing, showMetres } from './fault-words.ts';
import { createIdMaker } from './ids.ts';
import { findItem, type Items } from './lists.ts';

type Type = Items['types'];
type Row = Type['ranges'][number];

/** The size of one row, metres: round, or rectangular in axes turned with the detector. */
export type RangeSize = { readonly diameter: number } | { readonly length: number; readonly width: number };

/** A row of a data sheet as it is entered. */
export interface NewRange {
  readonly motion: Motion;
  /** Height of the lens at which the size holds. */
  readonly mounting: number;
  /** Height above the floor at which the size holds: asked for with the first row of a motion, and then shared by all of them. */
  readonly plane?: number;
  readonly size: RangeSize;
}

const WORDS: Readonly<Record<Motion, string>> = {
  minor: 'small movements',
  tangential: 'walking past',
  radial: 'walking at it',
};

/** Adds a detector type; its rows follow. The origin says where its figures are from. */
export function addDetectorType(
  file: FloorFile,
  { name, ...rest }: Partial<Omit<Type, 'id' | 'ranges'>> = {},
  rows: readonly NewRange[] = [],
): Edit {
  const maker = createIdMaker(file);
  const id = maker.next('types');
  let type: Type = { ...rest, id, name: name ?? maker.nextName('types', 'Detector type'), ranges: [] };
  for (const row of rows) {
    const added = withRow(type, row);
    if ('ok' in added) return added;
    type = added;
  }
  const change = createChange(file);
  change.add('types', type);
  return change.plan(`Added ${nameThing({ list: 'types', item: type })}`, [id]);
}

/** Adds a row. The plane is a choice nobody can be spared: without one the first row of a motion is refused. */
export function addRange(file: FloorFile, typeId: string, row: NewRange): Edit {
  return changeType(
    file,
    typeId,
    (type) => withRow(type, row),
    (name) => `Added a row to ${name}`,
  );
}

/** Changes mounting height or size of a row. */
export function changeRange(
  file: FloorFile,
  typeId: string,
  index: number,
  { mounting, size }: { readonly mounting?: number; readonly size?: RangeSize },
): Edit {
  const row = findItem(file, 'types', typeId)?.ranges[index];
  if (row === undefined) return refuseGone('row');
  const { motion, plane } = row;
  const next = {
    motion,
    plane,
    mounting: mounting ?? row.mounting,
    size: size ?? ('diameter' in row ? { diameter: row.diameter } : { length: row.length, width: row.width }),
  };
  const without = (type: Type): Type => ({ ...type, ranges: type.ranges.filter((_, i) => i !== index) });
  return changeType(
    file,
    typeId,
    (type) => withRow(without(type), next, index),
    (name) => `Changed a row of ${name}`,
  );
}

export function removeRange(file: FloorFile, typeId: string, index: number): Edit {
  if (findItem(file, 'types', typeId)?.ranges[index] === undefined) return refuseGone('row');
  return changeType(
    file,
    typeId,
    (type) => ({ ...type, ranges: type.ranges.filter((_, i) => i !== index) }),
    (name) => `Removed a row of ${name}`,
  );
}

/** Sets the height at which all sizes of a motion hold: 0 where the sheet draws a cone to the floor. */
export function setRangePlane(file: FloorFile, typeId: string, motion: Motion, plane: number): Edit {
  return changeType(
    file,
    typeId,
    (type) =>
      rewriteRows({
        ...type,
        ranges: type.ranges.map((row) => (row.motion === motion ? { ...row, plane: tidy(plane) } : row)),
      }),
    (name) => `${name}: ${WORDS[motion]} stated at ${showMetres(plane)}`,
  );
}

/** Makes all rows of a motion round or rectangular. A rectangle made round keeps its shorter side: no more than was stated. */
export function setRangeShape(file: FloorFile, typeId: string, motion: Motion, shape: 'round' | 'rectangular'): Edit {
  const reshape = (row: Row): Row => {
    if (row.motion !== motion || (shape === 'round') === 'diameter' in row) return row;
    const { mounting, plane } = row;
    return 'diameter' in row
      ? { motion, mounting, plane, length: row.diameter, width: row.diameter }
      : { motion, mounting, plane, diameter: Math.min(row.length, row.width) };
  };
  return changeType(
    file,
    typeId,
    (type) => ({ ...type, ranges: type.ranges.map(reshape) }),
    (name) => `${name}: ${WORDS[motion]} ${shape}`,
  );
}

/** The size of a type's range for one motion, hung at a height: as stated at the plane of its rows, and at another height. */
export interface MeasuredRange {
  /** The plane of the rows; null without rows. */
  readonly plane: number | null;
  /** Null: nothing is seen for this motion. */
  readonly stated: Extent | null;
  readonly there: Extent | null;
}

/** @param height above the floor at which people are looked for; @param lensHeight metres */
export function measureRange(
  file: FloorFile,
  typeId: string,
  motion: Motion,
  lensHeight: number,
  height: number,
): MeasuredRange {
  const { types } = resolveFloor(file);
  const type = types[indexOfId(types, typeId)];
  const range = type === undefined ? null : hangRange(type, motion, lensHeight, 1);
  return {
    plane: type?.ranges.find((row) => row.motion === motion)?.plane ?? null,
    stated: range === null ? null : extentAt(range, lensHeight, range.plane),
    there: extentAt(range, lensHeight, height),
  };
}

/** The type with one more row, in the order of mounting heights or at a position, or why it cannot have it. */
function withRow(type: Type, { motion, mounting, plane, size }: NewRange, at?: number): Type | Refused {
  const others = type.ranges.filter((row) => row.motion === motion);
  const held = plane ?? others[0]?.plane;
  if (held === undefined)
    return refuse(
      `It is not said at which height the size for ${WORDS[motion]} holds`,
      'Choose the floor (0 m), the seated plane or the walking plane, as the data sheet states it.',
    );
  const row: Row = { motion, mounting: tidy(mounting), plane: tidy(held), ...tidySize(size) };
  const position = at ?? insertionOf(type.ranges, row);
  return rewriteRows({ ...type, ranges: [...type.ranges.slice(0, position), row, ...type.ranges.slice(position)] });
}

/** After the last row of its motion that hangs lower; without one before the next of its motion, else at the end. */
function insertionOf(rows: readonly Row[], { motion, mounting }: Row): number {
  const lower = rows.findLastIndex((row) => row.motion === motion && row.mounting <= mounting);
  if (lower >= 0) return lower + 1;
  const first = rows.findIndex((row) => row.motion === motion);
  return first >= 0 ? first : rows.length;
}

function tidySize(size: RangeSize): RangeSize {
  return 'diameter' in size
    ? { diameter: tidy(size.diameter) }
    : { length: tidy(size.length), width: tidy(size.width) };
}

/** The type itself when its rows go together, else what keeps them from it. */
function rewriteRows(type: Type): Type | Refused {
  for (const [i, row] of type.ranges.entries()) {
    const whose = `A row for ${WORDS[row.motion]}`;
    const sizes = 'diameter' in row ? [row.diameter] : [row.length, row.width];
    if (!sizes.every((size) => size > 0 && size <= LIMITS.rangeSize))
      return refuse(`${whose} has no size`, `Write sizes above 0 and up to ${LIMITS.rangeSize} m.`);
    if (!(row.mounting > 0 && row.mounting <= LIMITS.height && row.plane >= 0))
      return refuse(`${whose} is mounted at ${row.mounting} m`, `Write heights from 0 to ${LIMITS.height} m.`);
    if (row.plane >= row.mounting)
      return refuse(
        `${whose} holds at ${showMetres(row.plane)} and is mounted at ${showMetres(row.mounting)}`,
        'The plane must be below the mounting height.',
      );
    const other = type.ranges.slice(0, i).find((each) => each.motion === row.motion);
    if (other !== undefined && other.plane !== row.plane)
      return refuse(
        `The other rows for ${WORDS[row.motion]} hold at ${showMetres(other.plane)}`,
        'All rows of one motion share one plane. Change it for all of them.',
      );
    if (other !== undefined && 'diameter' in other !== 'diameter' in row)
      return refuse(
        `The other rows for ${WORDS[row.motion]} are ${'diameter' in other ? 'round' : 'rectangular'}`,
        'All rows of one motion have one shape. Change it for all of them.',
      );
    if (type.ranges.some((each, k) => k < i && each.motion === row.motion && each.mounting === row.mounting))
      return refuse(
        `There is a row for ${WORDS[row.motion]} at ${showMetres(row.mounting)} already`,
        'Change that one, or write another mounting height.',
      );
  }
  return type;
}

function changeType(
  file: FloorFile,
  id: string,
  next: (type: Type) => Type | Refused,
  name: (type: string) => string,
): Edit {
  const type = findItem(file, 'types', id);
  if (type === undefined) return refuseGone('detector type');
  const changed = next(type);
  if ('ok' in changed) return changed;
  const change = createChange(file);
  change.set('types', changed);
  return change.plan(name(nameThing({ list: 'types', item: type })), [id]);
}
