import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { expect, test } from 'vitest';
import { listPdfLines } from '../../../src/importers/underlay/pdf-lines.ts';
import { writePdf } from './small-pdf.ts';

const MM = 25.4 / 72;

async function linesOf(content: string): Promise<number[][]> {
  const task = getDocument({ data: writePdf([595.276, 841.89], content), isEvalSupported: false, verbosity: 0 });
  const page = await (await task.promise).getPage(1);
  const lines = listPdfLines(await page.getOperatorList(), OPS, [MM, 0, 0, MM, 0, 0]);
  await task.destroy();
  return Array.from({ length: lines.length / 4 }, (_, i) =>
    [...lines.slice(4 * i, 4 * i + 4)].map((value) => Math.round(value * 1000) / 1000),
  );
}

test('lines, rectangles and closed paths of a page lie where they are drawn, in millimetres', async () => {
  expect(await linesOf('72 72 m 144 72 l S')).toEqual([[25.4, 25.4, 50.8, 25.4]]);
  const rectangle = await linesOf('72 72 72 36 re S');
  expect(rectangle).toHaveLength(4);
  expect(rectangle).toContainEqual([25.4, 25.4, 50.8, 25.4]);
  expect(rectangle).toContainEqual([25.4, 38.1, 25.4, 25.4]);
});

test('what is moved, turned and scaled is followed, and taken back', async () => {
  // A quarter turn about the origin, twice as large, one inch to the right.
  const turned = await linesOf('q 0 2 -2 0 72 0 cm 0 0 m 36 0 l S Q 0 0 m 36 0 l S');
  expect(turned).toEqual([
    [25.4, 0, 25.4, 25.4],
    [0, 0, 12.7, 0],
  ]);
});

test('curves and what is shorter than half a millimetre are no lines', async () => {
  expect(await linesOf('72 72 m 100 100 120 100 144 72 c S 10 10 m 11 10 l S')).toEqual([]);
});
