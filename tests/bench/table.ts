/** Text in columns. */

/** Rows of equal length under their heads: the first column to the left, numbers to the right. */
export function writeTable(rows: readonly (readonly string[])[]): string {
  const widths = (rows[0] ?? []).map((_, column) => Math.max(...rows.map((row) => (row[column] ?? '').length)));
  return rows
    .map((row) =>
      row
        .map((text, column) => (column === 0 ? text.padEnd(widths[column]!) : text.padStart(widths[column]!)))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

/** Three digits that count, or whole numbers with thousands set apart. */
export function showNumber(value: number): string {
  if (Number.isInteger(value) || Math.abs(value) >= 1_000) return Math.round(value).toLocaleString('en');
  return value.toLocaleString('en', { minimumSignificantDigits: 3, maximumSignificantDigits: 3 });
}

/** One line of JSON, numbers to four digits that count. */
export function writeRecord(record: object): string {
  return JSON.stringify(record, (_, value: unknown) =>
    typeof value === 'number' && !Number.isInteger(value) ? Number(value.toPrecision(4)) : value,
  );
}
