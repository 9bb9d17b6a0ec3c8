/** A table as text for spreadsheets: byte order mark, semicolons, CRLF. */
import papaparse from 'papaparse';
import { type Column, type Table, writeCell } from './table.ts';

const BYTE_ORDER_MARK = '\ufeff';

/**
 * What a spreadsheet would read as a formula, in its full-width form too: after any space, and after marks that cannot be
 * seen (those that part right-to-left names from the rest among them), because some programs take them away.
 */
const FORMULA = /^[\s\p{Cf}]*[=+\-@\t\r\uff0b\uff0d\uff1d\uff20]/u;

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
