/** One model for every table: the report, the spreadsheet and the text file show the same cells. */

/** A text, a number, or null: to be filled in by hand, or nothing is known. */
export type Cell = string | number | null;

export interface Column {
  readonly title: string;
  /** Digits after the point of a number; left out: a text. */
  readonly decimals?: number;
  /** Width in the report, as a share of all columns. */
  readonly width: number;
  /** Filled in on site: left empty, with a line to write on. */
  readonly byHand?: true;
}

export interface Table {
  readonly title: string;
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
}

/** A cell as it is read: numbers with the digits of their column, null as nothing. */
export function writeCell(cell: Cell, { decimals = 0 }: Column): string {
  if (cell === null) return '';
  if (typeof cell === 'string') return cell;
  const written = cell.toFixed(decimals);
  return Number(written) === 0 ? written.replace('-', '') : written;
}

/** A table with some of its columns, by their titles. */
export function keepColumns(table: Table, title: string, titles: readonly string[]): Table {
  const kept = titles.flatMap((each) => {
    const index = table.columns.findIndex((column) => column.title === each);
    return index === -1 ? [] : [index];
  });
  return {
    title,
    columns: kept.flatMap((index) => table.columns[index] ?? []),
    rows: table.rows.map((row) => kept.map((index) => row[index] ?? null)),
  };
}
