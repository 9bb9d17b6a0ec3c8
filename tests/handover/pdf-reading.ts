/** Reads a PDF with a library that had no part in making it: its words, and its lines in millimetres of the page. */
import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';

const MM_PER_PT = 25.4 / 72;

export interface PageReading {
  /** All words of the page, joined by blanks. */
  readonly text: string;
  /** Straight stretches of every path, with the transforms applied, in millimetres from the lower left. */
  readonly lines: readonly Line[];
  readonly widthMm: number;
  readonly heightMm: number;
}

export interface Line {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly lengthMm: number;
}

export async function readPdf(bytes: Uint8Array): Promise<readonly PageReading[]> {
  const document = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
  const pages: PageReading[] = [];
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number);
    const [, , width = 0, height = 0] = page.view;
    const { items } = await page.getTextContent();
    const text = items.map((item) => ('str' in item ? `${item.str}${item.hasEOL ? ' ' : ''}` : '')).join('');
    const { fnArray, argsArray } = await page.getOperatorList();
    pages.push({
      text,
      lines: readLines(fnArray, argsArray),
      widthMm: width * MM_PER_PT,
      heightMm: height * MM_PER_PT,
    });
  }
  await document.loadingTask.destroy();
  return pages;
}

type Matrix = readonly [number, number, number, number, number, number];

function readLines(operators: readonly number[], operands: readonly unknown[]): Line[] {
  const lines: Line[] = [];
  const stack: Matrix[] = [];
  let matrix: Matrix = [1, 0, 0, 1, 0, 0];
  operators.forEach((operator, k) => {
    switch (operator) {
      case OPS.save:
        stack.push(matrix);
        break;
      case OPS.restore:
        matrix = stack.pop() ?? matrix;
        break;
      case OPS.transform:
        matrix = multiply(matrix, operands[k] as Matrix);
        break;
      case OPS.constructPath: {
        const [, [data]] = operands[k] as [number, [Float32Array | null]];
        if (data) walkPath(data, matrix, lines);
        break;
      }
      default:
    }
  });
  return lines;
}

function multiply(a: Matrix, b: Matrix): Matrix {
  return [
    a[0] * b[0] + a[2] * b[1],
    a[1] * b[0] + a[3] * b[1],
    a[0] * b[2] + a[2] * b[3],
    a[1] * b[2] + a[3] * b[3],
    a[0] * b[4] + a[2] * b[5] + a[4],
    a[1] * b[4] + a[3] * b[5] + a[5],
  ];
}

/** Steps of a path as the library hands them over: 0 move, 1 line, 2 curve, 3 quadratic curve, 4 close. */
function walkPath(data: Float32Array, matrix: Matrix, lines: Line[]): void {
  const place = (x: number, y: number) => ({
    x: (matrix[0] * x + matrix[2] * y + matrix[4]) * MM_PER_PT,
    y: (matrix[1] * x + matrix[3] * y + matrix[5]) * MM_PER_PT,
  });
  let start = { x: 0, y: 0 };
  let at = start;
  const lineTo = (to: { x: number; y: number }) => {
    lines.push({ x0: at.x, y0: at.y, x1: to.x, y1: to.y, lengthMm: Math.hypot(to.x - at.x, to.y - at.y) });
    at = to;
  };
  for (let k = 0; k < data.length; ) {
    switch (data[k++]) {
      case 0:
        start = at = place(data[k++]!, data[k++]!);
        break;
      case 1:
        lineTo(place(data[k++]!, data[k++]!));
        break;
      case 2:
        at = place(data[k + 4]!, data[k + 5]!);
        k += 6;
        break;
      case 3:
        at = place(data[k + 2]!, data[k + 3]!);
        k += 4;
        break;
      default:
        lineTo(start);
    }
  }
}

/** Text without what a page's setting adds or takes: blanks, hyphens of no meaning, direction marks. */
export function squeeze(text: string): string {
  return text.normalize('NFKC').replace(/[\s\u2066-\u2069\u200e\u200f\u202a-\u202e]/gu, '');
}
