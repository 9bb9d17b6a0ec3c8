/** A list of workplaces pasted from a spreadsheet or typed: name; x; y; facing; posture, one a line. */
import { LIMITS } from '../../core/floor/index.ts';
import { parseQuantity } from '../quantity.ts';
import type { Units } from '../tools/tool.ts';
import { showText } from './fault-words.ts';
import { type Cells, readTable } from './table-text.ts';
import type { NewWorkplace } from './workplaces.ts';

/** What is wrong with one line; the other lines stand. */
export interface LineFault {
  /** Counted from 1, in the text as it was pasted. */
  readonly line: number;
  readonly what: string;
  readonly remedy: string;
}

export interface WorkplaceTable {
  readonly items: readonly NewWorkplace[];
  readonly faults: readonly LineFault[];
}

type Column = 'name' | 'x' | 'y' | 'facing' | 'posture' | 'radius';
const COLUMNS: readonly Column[] = ['name', 'x', 'y', 'facing', 'posture'];
/** What a heading may be called, small letters and without its unit. */
const HEADINGS: ReadonlyMap<string, Column> = new Map([
  ['name', 'name'],
  ['workplace', 'name'],
  ['seat', 'name'],
  ['no', 'name'],
  ['no.', 'name'],
  ['number', 'name'],
  ['x', 'x'],
  ['y', 'y'],
  ['facing', 'facing'],
  ['direction', 'facing'],
  ['posture', 'posture'],
  ['radius', 'radius'],
]);
const UNIT = /^(.*?)\s*(?:[([]|in\b|,)?\s*(mm|cm|m|ft|°|deg(?:rees)?|met(?:re|er)s?)?\s*[)\]]?$/;
const FACTORS: Readonly<Record<string, number>> = {
  mm: 0.001,
  cm: 0.01,
  m: 1,
  metres: 1,
  ft: 0.3048,
  feet: 0.3048,
};
const POSTURES: ReadonlyMap<string, 'seated' | 'standing'> = new Map([
  ['seated', 'seated'],
  ['sitting', 'seated'],
  ['standing', 'standing'],
]);
const MOST_FAULTS = 100;

/**
 * Reads a pasted list. Cells are parted by tabs, else by semicolons, else by commas; a number may have a decimal comma
 * (unless commas part the cells), a unit and sums. Names may stand in double quotes, and then hold any of it. A first
 * line of headings may put the columns in another order and state the unit of x and y. Empty lines are passed over.
 * @param units of a length that names none
 */
export function parseWorkplaces(text: string, units: Units): WorkplaceTable {
  const rows = readTable(text);
  const faults: LineFault[] = [];
  const items: NewWorkplace[] = [];
  const heading = rows[0] === undefined ? null : readHeading(rows[0], units);
  if (heading !== null && 'what' in heading) return { items, faults: [heading] };
  const layout = heading ?? { columns: COLUMNS, factor: FACTORS[units] ?? 1, units };
  for (const row of heading === null ? rows : rows.slice(1)) {
    if (row.unclosed) {
      faults.push({ line: row.line, what: 'A quotation mark is not closed', remedy: 'Close it with another ".' });
      continue;
    }
    if (items.length >= LIMITS.pieces) {
      faults.push({
        line: row.line,
        what: `The list has more than ${LIMITS.pieces} workplaces`,
        remedy: 'Paste it in parts.',
      });
      break;
    }
    const read = readRow(row, layout);
    if ('what' in read) faults.push(read);
    else items.push(read);
    if (faults.length >= MOST_FAULTS) break;
  }
  return { items, faults };
}

interface Layout {
  readonly columns: readonly (Column | null)[];
  /** Metres in one unit of x and y. */
  readonly factor: number;
  /** In which everything else is read. */
  readonly units: Units;
}

/** The layout of a line of headings, a fault of one that lacks a column, or null for a line that is none. */
function readHeading({ line, cells }: Cells, units: Units): Layout | LineFault | null {
  let factor = FACTORS[units] ?? 1;
  const columns = cells.map((cell): Column | null => {
    const [, word = '', unit = ''] = UNIT.exec(cell.trim().toLowerCase()) ?? [];
    const column = HEADINGS.get(word.trim()) ?? null;
    if (column === 'x' || column === 'y') factor = FACTORS[unit] ?? factor;
    return column;
  });
  const known = columns.filter((column) => column !== null);
  if (!known.includes('x') && !known.includes('y')) {
    // Words where the numbers should be are headings nobody knows; so are two columns that are no places.
    const isHeading = known.length >= 2 && cells.every((cell) => !/\d/.test(cell));
    return isHeading ? { line, what: 'The headings name no x and y', remedy: 'Call two columns x and y.' } : null;
  }
  const missing = (['x', 'y'] as const).filter((column) => !known.includes(column));
  if (missing.length > 0)
    return { line, what: `The headings name no ${missing.join(' and ')}`, remedy: 'Call two columns x and y.' };
  const twice = known.find((column, i) => known.indexOf(column) !== i);
  return twice === undefined
    ? { columns, factor, units }
    : { line, what: `Two columns are called ${twice}`, remedy: 'Keep one of them.' };
}

function readRow({ line, cells }: Cells, { columns, factor, units }: Layout): NewWorkplace | LineFault {
  const cellOf = (column: Column): string => cells[columns.indexOf(column)]?.trim() ?? '';
  const fault = (what: string, remedy: string): LineFault => ({ line, what, remedy });
  const extra = cells.findIndex((cell, i) => columns[i] === undefined && cell.trim() !== '');
  if (extra >= 0)
    return fault(
      `The line has ${cells.length} cells and there are ${columns.length} columns`,
      'Part the cells with tabs or semicolons, and put names in quotation marks.',
    );
  const place: number[] = [];
  for (const axis of ['x', 'y'] as const) {
    const text = cellOf(axis);
    if (text === '') return fault(`${axis} is missing`, `Write it in ${units}, such as 3.25.`);
    // Without a unit of its own a length counts in that of the heading.
    const isBare = !/[\p{L}'"′″]/u.test(text);
    const read = parseQuantity(text, { kind: 'length' }, 'metres');
    if (!read.ok) return fault(`${axis} is "${showText(text)}"`, read.remedy);
    const value = isBare ? read.value * factor : read.value;
    if (Math.abs(value) > LIMITS.coordinate)
      return fault(`${axis} is ${value} m`, `Coordinates lie within ${LIMITS.coordinate} m of the origin.`);
    place.push(value);
  }
  const [x = 0, y = 0] = place;
  const facingText = cellOf('facing');
  const facing = facingText === '' ? null : parseQuantity(facingText, { kind: 'angle', min: -3600, max: 3600 }, units);
  if (facing?.ok === false) return fault(`Facing is "${showText(facingText)}"`, facing.remedy);
  const postureText = cellOf('posture').toLowerCase();
  const posture = POSTURES.get(postureText);
  if (postureText !== '' && posture === undefined)
    return fault(`Posture is "${showText(postureText)}"`, 'Write seated or standing, or leave it empty.');
  const radiusText = cellOf('radius');
  const radius = radiusText === '' ? null : parseQuantity(radiusText, { kind: 'length', above: 0, max: 10 }, units);
  if (radius?.ok === false) return fault(`Radius is "${showText(radiusText)}"`, radius.remedy);
  const name = cellOf('name');
  if (name.length > LIMITS.text)
    return fault(`The name has ${name.length} characters`, `A name has at most ${LIMITS.text}.`);
  return {
    ...(name === '' ? {} : { name }),
    at: [x, y],
    ...(facing === null ? {} : { facing: facing.value }),
    ...(posture === undefined ? {} : { posture }),
    ...(radius === null ? {} : { radius: radius.value }),
  };
}
