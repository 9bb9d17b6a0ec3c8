/** What is used of the `dxf` package, which has no types of its own. */
declare module 'dxf' {
  export function parseString(text: string): unknown;
  export function toPolylines(parsed: unknown): { readonly polylines: readonly unknown[] };
}
