/** Sets text, headings and tables in the documents' own type. Lengths in millimetres, type sizes in points. */
import type { PdfContent, PdfNode, PdfStyle } from 'pdfmake/build/pdfmake.js';
import { FACES, type SplitRuns } from '../paper/fonts.ts';
import { toPrintSvg } from '../paper/print-svg.ts';
import { type Orientation, toPoints } from '../paper/sizes.ts';
import { COLOUR } from '../plan/paper.ts';
import { type Cell, type Column, type Table, writeCell } from '../tables/table.ts';

export interface Setter {
  readonly split: SplitRuns;
  /** Text in one or more faces; whatever comes from a file passes here. */
  say(text: string, style?: PdfNode): PdfNode;
  /** A drawing at its own size. */
  drawing(svg: string, widthMm: number, heightMm: number, margin?: PdfNode['margin']): PdfNode;
}

export const TYPE = { body: 9, small: 7.5, table: 7.5, second: 11, first: 17 } as const;

/** Rows of a list in the report; the files hold all of them. */
const MOST_ROWS = 600;

export function createSetter(split: SplitRuns): Setter {
  return {
    split,
    say(text, style = {}) {
      const face = style.font === FACES.reading ? 'reading' : 'working';
      const runs = split(text, face);
      const plain = runs.length === 1 && runs[0]?.face === face ? runs[0].text : null;
      return {
        ...style,
        text: plain ?? runs.map((run) => ({ text: run.text, font: FACES[run.face] })),
      };
    },
    drawing: (svg, widthMm, heightMm, margin = [0, 0, 0, 0]) => ({
      svg: toPrintSvg(svg, split),
      width: toPoints(widthMm),
      height: toPoints(heightMm),
      margin,
    }),
  };
}

/** A heading of the first order: begins a page and stands in the table of contents. */
export function headingOne(text: string, orientation: Orientation): PdfNode {
  return {
    text,
    font: FACES.reading,
    fontSize: TYPE.first,
    color: COLOUR.ink,
    margin: [0, 0, 0, 8],
    tocItem: true,
    tocMargin: [0, 0, 0, 2],
    pageBreak: 'before',
    pageOrientation: orientation,
  };
}

export function headingTwo(setter: Setter, text: string): PdfNode {
  return setter.say(text, { fontSize: TYPE.second, bold: true, margin: [0, 10, 0, 4], headlineLevel: 2 });
}

export function paragraph(setter: Setter, text: string, style: PdfStyle = {}): PdfNode {
  return setter.say(text, { margin: [0, 0, 0, 5], ...style });
}

/** Points in the order given, numbered or with a dash. */
export function listOf(setter: Setter, points: readonly string[], numbered: boolean): PdfNode {
  return {
    stack: points.map((point, k) => ({
      columns: [
        { width: toPoints(6), text: numbered ? `${k + 1}.` : '–', color: COLOUR.ink2 },
        setter.say(point, { width: '*' }),
      ],
      margin: [0, 0, 0, 3],
    })),
    margin: [0, 0, 0, 5],
  };
}

const PADDING = 2.2;
/** More before a text that follows a number: the one ends where the other begins. */
const GAP = 5;
/** Under the head of a column that nobody can know before the work. */
const ON_SITE = 'on site';

function needsGap(before: Column | undefined, column: Column): boolean {
  return before?.decimals !== undefined && column.decimals === undefined;
}

/** A table as wide as the page: its head stands again on every page, a row is never cut in two. */
export function tableOf(setter: Setter, table: Table, widthMm: number, look: TableLook = {}): PdfNode {
  const { columns, rows } = table;
  const { rowHeightMm = 0, isTitled = false, isForm = false } = look;
  const shown = rows.slice(0, MOST_ROWS);
  const all = columns.reduce((sum, column) => sum + column.width, 0);
  const leads = columns.map((column, k) => PADDING + (needsGap(columns[k - 1], column) ? GAP : 0));
  const room = toPoints(widthMm) - leads.reduce((sum, lead) => sum + lead + PADDING, 0);
  const size = columns.length > 14 ? 6.4 : columns.length > 10 ? 6.8 : TYPE.table;
  const left = rows.length - shown.length;
  const head = columns.map(
    ({ title, decimals, byHand }): PdfNode => ({
      stack: [
        { text: title === '' ? ' ' : title, bold: true, color: COLOUR.ink },
        ...(byHand === true ? [{ text: ON_SITE, color: COLOUR.ink2 }] : []),
      ],
      fontSize: size,
      alignment: decimals === undefined ? 'left' : 'right',
    }),
  );
  // The title is a row of the head: it is never left behind at the foot of a page, and stands again on the next.
  const title = [
    setter.say(table.title, {
      fontSize: TYPE.second,
      bold: true,
      colSpan: columns.length,
      margin: [-PADDING, 6, 0, 1],
    }),
    ...columns.slice(1).map(() => ({ text: '' })),
  ];
  const heads = isTitled ? 2 : 1;
  const grid: PdfNode = {
    table: {
      widths: columns.map((column) => (room * column.width) / all),
      headerRows: heads,
      keepWithHeaderRows: 1,
      dontBreakRows: true,
      ...(rowHeightMm > 0 ? { heights: (row: number) => (row < heads ? 0 : toPoints(rowHeightMm)) } : {}),
      body: [
        ...(isTitled ? [title] : []),
        head,
        ...shown.map((row) => columns.map((column, k) => cellOf(setter, row[k] ?? null, column, size, isForm))),
      ],
    },
    layout: { ...ruledUnder(heads), paddingLeft: (column) => leads[column] ?? PADDING },
    margin: [0, 0, 0, 8],
  };
  if (left <= 0) return grid;
  return { stack: [grid, paragraph(setter, `And ${left} more rows: the files beside this report hold all of them.`)] };
}

interface TableLook {
  /** Room to write in, for rows that are filled in by hand. */
  readonly rowHeightMm?: number;
  /** With its title as the first row of its head. */
  readonly isTitled?: boolean;
  /** Every cell that is null is filled in by hand. */
  readonly isForm?: boolean;
}

function cellOf(setter: Setter, cell: Cell, column: Column, fontSize: number, isForm: boolean): PdfNode {
  const text = writeCell(cell, column);
  const isNumber = column.decimals !== undefined;
  return {
    ...(text === '' ? { text: ' ' } : setter.say(text)),
    fontSize,
    alignment: isNumber ? 'right' : 'left',
    ...(column.byHand === true || (cell === null && isForm) ? { fillColor: BY_HAND_GROUND } : {}),
  };
}

/** Where something is to be written by hand. */
const BY_HAND_GROUND = '#F3F5F6';

/** Hairlines under rows, a stronger line under the head. */
function ruledUnder(heads: number): NonNullable<Exclude<PdfNode['layout'], string>> {
  return {
    hLineWidth: (line, node) => (line < heads ? 0 : line === heads ? 0.8 : line === node.table.body.length ? 0.5 : 0.3),
    vLineWidth: () => 0,
    hLineColor: (line) => (line === heads ? COLOUR.ink : COLOUR.hair),
    vLineColor: () => COLOUR.hair,
    paddingLeft: () => PADDING,
    paddingRight: () => PADDING,
    paddingTop: () => 1.8,
    paddingBottom: () => 1.8,
  };
}

/** A table with its title; a table without rows is a sentence. */
export function titledTable(
  setter: Setter,
  table: Table,
  widthMm: number,
  empty: string,
  rowHeightMm = 0,
): PdfContent[] {
  return table.rows.length === 0
    ? [headingTwo(setter, table.title), paragraph(setter, empty)]
    : [tableOf(setter, table, widthMm, { rowHeightMm, isTitled: true })];
}

/** Pairs of a name and a value, one a row. */
export function ledgerOf(
  setter: Setter,
  rows: readonly (readonly [name: string, value: string])[],
  widthMm: number,
): PdfNode {
  return {
    table: {
      widths: [toPoints(widthMm * 0.34) - 2 * PADDING, toPoints(widthMm * 0.66) - 2 * PADDING],
      dontBreakRows: true,
      body: rows.map(([name, value]) => [setter.say(name, { color: COLOUR.ink2 }), setter.say(value)]),
    },
    layout: { ...ruledUnder(0), hLineWidth: (line: number) => (line === 0 ? 0 : 0.3), hLineColor: () => COLOUR.hair },
    margin: [0, 0, 0, 8],
  };
}
