/** Sheets of paper (ISO 216) and what of them is printed on. Millimetres unless a name says points. */

export type PaperSize = 'a4' | 'a3';
export const PAPER_SIZES: readonly PaperSize[] = ['a4', 'a3'];

/** Short and long side. */
const SIDES: Readonly<Record<PaperSize, readonly [number, number]>> = { a4: [210, 297], a3: [297, 420] };

const PT_PER_MM = 72 / 25.4;

/** Left and right, top with the running head, bottom with the page number. */
export const MARGINS = { side: 15, top: 20, bottom: 17 } as const;

export interface Area {
  readonly width: number;
  readonly height: number;
}

export type Orientation = 'portrait' | 'landscape';

export function sheetOf(paper: PaperSize, orientation: Orientation): Area {
  const [short, long] = SIDES[paper];
  return orientation === 'portrait' ? { width: short, height: long } : { width: long, height: short };
}

/** What lies between the margins. */
export function printedArea(paper: PaperSize, orientation: Orientation): Area {
  const { width, height } = sheetOf(paper, orientation);
  return { width: width - 2 * MARGINS.side, height: height - MARGINS.top - MARGINS.bottom };
}

export function toPoints(mm: number): number {
  return mm * PT_PER_MM;
}
