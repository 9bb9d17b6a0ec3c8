/** A table as text for spreadsheets: byte order mark, semicolons, CRLF. */
import papaparse from 'papaparse';
import { type Column, type Table, writeCell } from './table.ts';

const BYTE_ORDER_MARK = '\ufeff';

/** What a spreadsheet would read as a formula, after any space, and in its full-width form too. */
const FORMULA = /^[\s\u00a0]*[=+\-@\t\r\uff0b\uff0d\uff1d\uff20]/u;

/** A table as CSV. Texts that look like a formula get an apostrophe before them; numbers stay numbers. */
export function writeCsv({ columns, rows }: Table): string {
  const lines = rows.map((row) =>
    columns.map((column, k) => {
      const cell = row[k] ?? null;
      return typeof cell === 'string' ? neutralise(cell) : writeCell(cell, column);
    }),
  );
  const head = columns.map(({ title }: Column) => title);
  return `${BYTE_ORDER_MARK}${papaparse.unparse([head, ...lines], { delimiter: ';', newline: '\r\n' })}\r\n`;
}

function neutralise(text: string): string {
  return FORMULA.test(text) ? `'${text}` : text;
}
