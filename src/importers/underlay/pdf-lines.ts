/** Straight lines of a PDF page, for the hand to rest on. */

/** The numbers by which the PDF reader names what a page draws. */
export interface DrawingCodes {
  readonly save: number;
  readonly restore: number;
  readonly transform: number;
  readonly paintFormXObjectBegin: number;
  readonly paintFormXObjectEnd: number;
  readonly constructPath: number;
}

/** What a page draws, in order, as the PDF reader hands it out. */
export interface PageOperators {
  readonly fnArray: readonly number[];
  readonly argsArray: readonly unknown[];
}

type Matrix = readonly [number, number, number, number, number, number];

/** Marks within a path: to a place, a line to it, curves to it with two and one control points, back to the start. */
const [MOVE, LINE, CURVE, QUADRATIC, CLOSE] = [0, 1, 2, 3, 4];
const MOST_LINES = 200_000;
/** Shorter pieces are letters and hatches, millimetres. */
const SHORTEST = 0.5;

/**
 * @param toPage from the page's own units to the result's
 * @returns flat x0, y0, x1, y1 of every straight piece of at least 0.5 of the result's units; at most 200,000
 */
export function listPdfLines({ fnArray, argsArray }: PageOperators, codes: DrawingCodes, toPage: Matrix): Float64Array {
  const lines: number[] = [];
  const stack: Matrix[] = [];
  let matrix = toPage;
  for (const [i, operator] of fnArray.entries()) {
    const args = argsArray[i];
    if (operator === codes.save) stack.push(matrix);
    else if (operator === codes.restore || operator === codes.paintFormXObjectEnd) matrix = stack.pop() ?? matrix;
    else if (operator === codes.transform) matrix = multiply(matrix, args);
    else if (operator === codes.paintFormXObjectBegin) {
      stack.push(matrix);
      matrix = multiply(matrix, Array.isArray(args) ? args[0] : null);
    } else if (operator === codes.constructPath) {
      const data = Array.isArray(args) && Array.isArray(args[1]) ? args[1][0] : null;
      if (data instanceof Float32Array) addPath(lines, data, matrix);
    }
    if (lines.length >= 4 * MOST_LINES) break;
  }
  return Float64Array.from(lines);
}

function multiply(outer: Matrix, inner: unknown): Matrix {
  if (!isNumbers(inner) || inner.length < 6) return outer;
  const [a, b, c, d, e, f] = inner as unknown as Matrix;
  return [
    outer[0] * a + outer[2] * b,
    outer[1] * a + outer[3] * b,
    outer[0] * c + outer[2] * d,
    outer[1] * c + outer[3] * d,
    outer[0] * e + outer[2] * f + outer[4],
    outer[1] * e + outer[3] * f + outer[5],
  ];
}

function isNumbers(value: unknown): value is readonly number[] {
  const isList = Array.isArray(value) || value instanceof Float32Array || value instanceof Float64Array;
  return isList && Array.from(value as ArrayLike<unknown>).every((each) => typeof each === 'number');
}

function addPath(lines: number[], data: Float32Array, [a, b, c, d, e, f]: Matrix): void {
  let [x, y, startX, startY] = [0, 0, 0, 0];
  const add = (toX: number, toY: number): void => {
    const [x0, y0, x1, y1] = [a * x + c * y + e, b * x + d * y + f, a * toX + c * toY + e, b * toX + d * toY + f];
    if (Math.hypot(x1 - x0, y1 - y0) >= SHORTEST) lines.push(x0, y0, x1, y1);
  };
  let i = 0;
  while (i < data.length) {
    const mark = data[i++];
    const at = (offset: number): number => data[i + offset] ?? 0;
    if (mark === MOVE) {
      [x, y] = [at(0), at(1)];
      [startX, startY] = [x, y];
      i += 2;
    } else if (mark === LINE) {
      add(at(0), at(1));
      [x, y] = [at(0), at(1)];
      i += 2;
    } else if (mark === CURVE) {
      [x, y] = [at(4), at(5)];
      i += 6;
    } else if (mark === QUADRATIC) {
      [x, y] = [at(2), at(3)];
      i += 4;
    } else if (mark === CLOSE) {
      add(startX, startY);
      [x, y] = [startX, startY];
    } else return;
  }
}
