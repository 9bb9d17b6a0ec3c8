/** Text as spreadsheets copy it, in lines of cells. */

/** One line of a table; empty lines are left out. */
export interface Cells {
  /** Counted from 1: where the line begins. */
  readonly line: number;
  readonly cells: readonly string[];
  /** Whether a quotation mark was opened and never closed. */
  readonly unclosed: boolean;
}

/**
 * Reads cells parted by tabs, else by semicolons, else by commas, whichever the text has outside quotation marks. A cell
 * in double quotes may hold separators, line ends and, written twice, quotation marks.
 */
export function readTable(text: string): readonly Cells[] {
  const body = text.replace(/^\uFEFF/, '').replace(/\r\n?|[\u2028\u2029]/g, '\n');
  const separator = findSeparator(body);
  const rows: Cells[] = [];
  let line = 1;
  let at = 0;
  while (at < body.length) {
    const begin = line;
    const cells: string[] = [];
    let unclosed = false;
    for (;;) {
      const quoted = readQuoted(body, at, separator);
      if (quoted === null) {
        const end = findEnd(body, at, separator);
        cells.push(body.slice(at, end));
        at = end;
      } else {
        cells.push(quoted.text);
        line += countLines(body.slice(at, quoted.end));
        unclosed ||= quoted.unclosed;
        at = quoted.end;
      }
      if (body[at] !== separator) break;
      at++;
    }
    // Here a line ends, or the text.
    at++;
    line++;
    if (cells.some((cell) => cell.trim() !== '') || unclosed) rows.push({ line: begin, cells, unclosed });
  }
  return rows;
}

function findSeparator(body: string): string {
  const bare = body.replace(/"[^"]*"/g, '');
  return ['\t', ';'].find((mark) => bare.includes(mark)) ?? ',';
}

function findEnd(body: string, from: number, separator: string): number {
  for (let at = from; at < body.length; at++) if (body[at] === separator || body[at] === '\n') return at;
  return body.length;
}

interface Quoted {
  readonly text: string;
  readonly end: number;
  readonly unclosed: boolean;
}

/** A cell in quotation marks from `from` on, or null when it is none: what follows the closing mark belongs to no cell. */
function readQuoted(body: string, from: number, separator: string): Quoted | null {
  const open = /^[ ]*"/.exec(body.slice(from, from + 50));
  if (open === null) return null;
  let text = '';
  let at = from + open[0].length;
  for (;;) {
    const close = body.indexOf('"', at);
    if (close < 0) return { text: '', end: findEnd(body, from, '\n'), unclosed: true };
    text += body.slice(at, close);
    at = close + 1;
    if (body[at] !== '"') break;
    text += '"';
    at++;
  }
  while (body[at] === ' ') at++;
  const isEnd = at >= body.length || body[at] === separator || body[at] === '\n';
  // Such as 5" ledge: the marks are part of the text.
  return isEnd ? { text, end: at, unclosed: false } : null;
}

function countLines(text: string): number {
  return text.split('\n').length - 1;
}
