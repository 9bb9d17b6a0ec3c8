/** Words for a terminal: names that cannot forge output, tables whose columns stand under one another, numbers with units. */

import { eastAsianWidth } from 'get-east-asian-width';
import { UNSAFE } from '../handover/safe-json.ts';

export { escapeJson } from '../handover/safe-json.ts';

/** Text of a file as it may stand in output: one line, left to right, what is unsafe written out as `\u{202e}`. */
export function escapeText(text: string): string {
  return text.replace(UNSAFE, (character) => `\\u{${(character.codePointAt(0) ?? 0).toString(16)}}`);
}

/** Letters and signs of one cell each, without marks that join another: most names, and known without looking further. */
const PLAIN = /^[\x20-\x7e\u00a1-\u00ac\u00ae-\u02ff\u2010-\u2027\u2070-\u209c]*$/;
const INVISIBLE = /^[\p{M}\p{Cf}]/u;
const PICTURE = /^\p{Emoji_Presentation}|^\p{Emoji}\ufe0f/u;

/** Cells of a terminal that a text takes: two for East Asian wide letters and pictures, none for marks on a letter. */
export function measureCells(text: string): number {
  if (PLAIN.test(text)) return text.length;
  let cells = 0;
  for (const segment of splitLetters(text)) {
    if (INVISIBLE.test(segment)) continue;
    cells += PICTURE.test(segment) ? 2 : eastAsianWidth(segment.codePointAt(0) ?? 0);
  }
  return cells;
}

/** What a reader takes for one letter each, marks and joined pictures included. */
function splitLetters(text: string): string[] {
  return [...new Intl.Segmenter('en', { granularity: 'grapheme' }).segment(text)].map(({ segment }) => segment);
}

/** Shortens a text to at most so many cells; what was cut is marked by `…`. */
export function cutToCells(text: string, most: number): string {
  if (measureCells(text) <= most) return text;
  let kept = '';
  let cells = 0;
  for (const segment of splitLetters(text)) {
    cells += measureCells(segment);
    if (cells > most - 1) break;
    kept += segment;
  }
  return `${kept}…`;
}

/** One column of a table: its title, and on which side its cells stand flush. */
export interface Column {
  readonly title: string;
  readonly flush?: 'left' | 'right';
}

const MOST_CELLS = 60;

/**
 * Lines of a table, indented by two, the title line first. Every cell is escaped here, and cut when it is very long,
 * except in the last column. Columns that are empty in every row are left out.
 */
export function formatTable(columns: readonly Column[], rows: readonly (readonly string[])[]): string[] {
  const cells = rows.map((row) =>
    row.map((cell, k) => (k === columns.length - 1 ? escapeText(cell) : cutToCells(escapeText(cell), MOST_CELLS))),
  );
  const kept = columns.map((column, k) => ({ ...column, k })).filter(({ k }) => cells.some((row) => row[k] !== ''));
  const widths = kept.map(({ title, k }) =>
    Math.max(measureCells(title), ...cells.map((row) => measureCells(row[k] ?? ''))),
  );
  const formatLine = (read: (k: number, title: string) => string): string =>
    `  ${kept
      .map(({ title, flush, k }, place) => {
        const text = read(k, title);
        const space = ' '.repeat(Math.max(0, (widths[place] ?? 0) - measureCells(text)));
        return flush === 'right' ? space + text : text + space;
      })
      .join('  ')}`.trimEnd();
  return [formatLine((_, title) => title), ...cells.map((row) => formatLine((k) => row[k] ?? ''))];
}

/** Breaks a text at spaces into lines of at most so many cells; a longer word keeps a line of its own. */
export function wrapText(text: string, most: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && measureCells(line) + 1 + measureCells(word) > most) {
      lines.push(line);
      line = word;
    } else {
      line = line === '' ? word : `${line} ${word}`;
    }
  }
  return [...lines, line];
}

/** `3.88`: square metres or metres, two decimals. */
export function formatMetres(value: number): string {
  return value.toFixed(2);
}
