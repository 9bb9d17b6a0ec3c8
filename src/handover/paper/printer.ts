/** Turns a page description into the bytes of a PDF, with the faces embedded and the same bytes every time. */
import type { PdfDefinition } from 'pdfmake/build/pdfmake.js';
import { FACES, type FontFiles } from './fonts.ts';

/** Documents carry no time of day: the same floor gives the same bytes. */
export const DOCUMENT_TIME = new Date(Date.UTC(2000, 0, 1));

/** Loaded with the first document: nothing else needs it. */
export async function printPdf(definition: PdfDefinition, fonts: FontFiles): Promise<Uint8Array> {
  const { default: pdfmake } = await import('pdfmake/build/pdfmake.js');
  const file = (data: Uint8Array) => ({ data });
  pdfmake.addVirtualFileSystem({
    'working.ttf': file(fonts.working),
    'working-bold.ttf': file(fonts.workingBold),
    'reading.ttf': file(fonts.reading),
    'more.ttf': file(fonts.more),
    'more-bold.ttf': file(fonts.moreBold),
  });
  pdfmake.setFonts({
    [FACES.working]: { normal: 'working.ttf', bold: 'working-bold.ttf' },
    [FACES.reading]: { normal: 'reading.ttf', bold: 'reading.ttf' },
    [FACES.more]: { normal: 'more.ttf', bold: 'more-bold.ttf' },
  });
  // Fonts are then known by their file's name to text and drawings alike. Else every word of a drawing opens its font
  // anew: a page of plan took seconds.
  pdfmake.virtualfs = NOTHING_BESIDE;
  // A document looks nothing up; files it has none but those above.
  pdfmake.setUrlAccessPolicy(() => false);
  return new Uint8Array(await pdfmake.createPdf(definition).getBuffer());
}

const NOTHING_BESIDE = { existsSync: () => false };
