/** Tables as one workbook, a sheet each. Texts are texts, whatever they look like; the same tables give the same bytes. */
import { unzipSync, zipSync } from 'fflate';
import writeXlsxFile, { type Sheet, type SheetCell } from 'write-excel-file/universal';
import type { Cell, Column, Table } from './table.ts';

/** A name a sheet may have: 31 letters, none of these signs. */
const FORBIDDEN = /[\\/?*[\]:]/g;
const MOST_LETTERS = 31;
/** Letters the widest column shows; longer texts are wrapped. */
const WIDEST = 48;
const HEAD_GROUND = '#EEF1F3';
/** Letters a cell may hold. */
const MOST_CELL_LETTERS = 32_000;

export async function writeXlsx(tables: readonly Table[]): Promise<Uint8Array> {
  const blob = await writeXlsxFile(tables.map(toSheet)).toBlob();
  // The library writes the time of day into the archive: the same parts are packed again without it.
  const parts = unzipSync(new Uint8Array(await blob.arrayBuffer()));
  return zipSync(parts, { mtime: ARCHIVE_TIME });
}

/** By local reading the same everywhere, as archives hold local times. */
export const ARCHIVE_TIME = new Date(2000, 0, 1);

function toSheet(table: Table): Sheet {
  const head = table.columns.map(
    ({ title }): SheetCell => ({
      value: title,
      type: String,
      fontWeight: 'bold',
      wrap: true,
      alignVertical: 'top',
      backgroundColor: HEAD_GROUND,
      bottomBorderStyle: 'thin',
    }),
  );
  return {
    sheet: table.title.replace(FORBIDDEN, '').slice(0, MOST_LETTERS),
    orientation: 'landscape',
    stickyRowsCount: 1,
    columns: table.columns.map((column, k) => ({ width: widthOf(column, table.rows, k) })),
    data: [head, ...table.rows.map((row) => table.columns.map((column, k) => toCell(row[k] ?? null, column)))],
  };
}

function toCell(cell: Cell, { decimals = 0 }: Column): SheetCell | null {
  if (cell === null || cell === '') return null;
  if (typeof cell === 'string')
    return {
      value: cell.slice(0, MOST_CELL_LETTERS).replace(/[\ud800-\udbff]$/u, ''),
      type: String,
      format: '@',
      wrap: cell.length > WIDEST,
      alignVertical: 'top',
    };
  // As many digits as are read: what stands in a cell is what the report prints.
  const format = decimals === 0 ? '0' : `0.${'0'.repeat(decimals)}`;
  return { value: Number(cell.toFixed(decimals)), type: Number, format, alignVertical: 'top' };
}

function widthOf({ title }: Column, rows: Table['rows'], k: number): number {
  const longest = rows.reduce((most, row) => Math.max(most, String(row[k] ?? '').length), 0);
  return Math.min(WIDEST, Math.max(9, longest + 2, Math.min(18, title.length + 2)));
}
