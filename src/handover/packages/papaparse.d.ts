/** The part of papaparse that is used here. Its own types bring all of Node with them, which this room does without. */
interface UnparseOptions {
  readonly delimiter: string;
  readonly newline: string;
}
declare const papaparse: { unparse(rows: readonly (readonly string[])[], options: UnparseOptions): string };
export default papaparse;
