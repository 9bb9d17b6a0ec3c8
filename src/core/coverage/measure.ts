/** Cells and steps into figures: square metres and metres without the last bits' noise. */

/** A length or an area to ten decimals: what whole cells and steps give exactly, as a decimal says it. */
export function tidy(value: number): number {
  return Math.round(value * 1e10) / 1e10;
}

/** Square metres of so many cells. */
export function areaOfCells(cells: number, { cell }: { readonly cell: number }): number {
  return tidy(cells * cell * cell);
}
