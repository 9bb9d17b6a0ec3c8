/** A page of a PDF document as a picture and as lines. Its unit is the millimetre, exactly: a point is 25.4 / 72 of one. */
import { GlobalWorkerOptions, getDocument, OPS } from 'pdfjs-dist';
import workerUrl from 'pdfjs-dist/build/pdf.worker.min.mjs?url';
import { listPdfLines } from '../importers/underlay/pdf-lines.ts';

const MM_PER_POINT = 25.4 / 72;

export async function readPdfPage(bytes: Uint8Array, number: number, side: number) {
  GlobalWorkerOptions.workerSrc = workerUrl;
  // The reader takes the bytes away; the caller's stay.
  const task = getDocument({ data: bytes.slice(), isEvalSupported: false });
  try {
    const document_ = await task.promise;
    const pages = document_.numPages;
    const page = await document_.getPage(Math.min(Math.max(1, number), pages));
    const own = page.getViewport({ scale: 1 });
    const viewport = page.getViewport({ scale: side / Math.max(own.width, own.height) });
    const canvas = document.createElement('canvas');
    canvas.width = Math.max(1, Math.round(viewport.width));
    canvas.height = Math.max(1, Math.round(viewport.height));
    await page.render({ canvas, viewport, background: '#ffffff' }).promise;
    const image = await createImageBitmap(canvas);
    const operators = await page.getOperatorList();
    const [width, height] = [own.width * MM_PER_POINT, own.height * MM_PER_POINT];
    // The viewport's axes run right and down, in points; the picture's run right and up, in millimetres.
    const [a = 1, b = 0, c = 0, d = 1, e = 0, f = 0] = own.transform as number[];
    const m = MM_PER_POINT;
    const lines = listPdfLines(operators, OPS, [a * m, -b * m, c * m, -d * m, e * m, height - f * m]);
    return { image, width, height, pages, lines };
  } finally {
    await task.destroy();
  }
}
