/** The report: everything about one floor, paged, to true scale, with the faces embedded. */
import type { PdfContent, PdfDefinition } from 'pdfmake/build/pdfmake.js';
import type { HandoverJob } from '../job.ts';
import { createSplitRuns, FACES, type FontFiles } from '../paper/fonts.ts';
import { DOCUMENT_TIME, printPdf } from '../paper/printer.ts';
import { MARGINS, sheetOf, toPoints } from '../paper/sizes.ts';
import type { OnProgress } from '../part.ts';
import { COLOUR } from '../plan/paper.ts';
import { cutToWidth } from '../plan/svg.ts';
import { ASSUMPTIONS } from '../plan/words.ts';
import { writeFindingPages } from './sections/findings.ts';
import { writeCautions, writeGroupPages, writeSchedulePages, writeSettingsPages } from './sections/installing.ts';
import { writeJob, writeTitlePage, writeVerdict } from './sections/opening.ts';
import { writeMaps, writePlans } from './sections/plans.ts';
import { writeWalkTestPages } from './sections/walk-test.ts';
import { createSetter, type Setter, TYPE } from './setter.ts';

/** The report as a PDF. Most of the time goes into drawing the maps and into setting the pages. */
export async function makeReport(job: HandoverJob, fonts: FontFiles, onProgress: OnProgress): Promise<Uint8Array> {
  const setter = createSetter(createSplitRuns(fonts));
  const content: PdfContent[] = [];
  const chapters: (() => PdfContent[])[] = [
    () => writeTitlePage(job, setter),
    () => writeJob(job, setter),
    () => writeVerdict(job, setter),
    () => writePlans(job, setter),
    () => writeMaps(job, setter),
    () => writeFindingPages(job, setter),
    () => writeSchedulePages(job, setter),
    () => writeGroupPages(job, setter),
    () => writeSettingsPages(job, setter),
    () => writeCautions(setter),
    () => writeWalkTestPages(job, setter),
  ];
  for (const [k, chapter] of chapters.entries()) {
    content.push(...chapter());
    onProgress(((k + 1) / chapters.length) * 0.4);
  }
  const bytes = await printPdf(definePages(job, setter, 'Hand-over report', content), fonts);
  onProgress(1);
  return bytes;
}

/** Pages with a running head, the assumptions at their foot, and their number. */
export function definePages(
  job: HandoverJob,
  setter: Setter,
  title: string,
  content: readonly PdfContent[],
): PdfDefinition {
  const sheet = sheetOf(job.paper, 'portrait');
  const side = toPoints(MARGINS.side);
  const last = job.floor.revision.at(-1);
  const revision = last === undefined ? '' : `Revision ${last.no}, ${last.date}`;
  const small = { fontSize: TYPE.small, color: COLOUR.ink2 };
  return {
    info: {
      title: `${title}: ${job.floor.name}`,
      creator: 'Lacuna',
      producer: 'Lacuna',
      creationDate: DOCUMENT_TIME,
    },
    pageSize: { width: toPoints(sheet.width), height: toPoints(sheet.height) },
    pageOrientation: 'portrait',
    pageMargins: [side, toPoints(MARGINS.top), side, toPoints(MARGINS.bottom)],
    header: (page) =>
      page === 1
        ? ''
        : {
            columns: [
              setter.say(cutToWidth(job.floor.name, 110, { size: 2.6 }), { ...small, width: '*' }),
              setter.say(cutToWidth(revision, 60, { size: 2.6 }), { ...small, width: 'auto' }),
            ],
            margin: [side, toPoints(9), side, 0],
          },
    footer: (page, pageCount) => ({
      columns: [
        { text: ASSUMPTIONS, ...small, width: '*' },
        { text: `${page} / ${pageCount}`, ...small, width: 'auto' },
      ],
      margin: [side, toPoints(5), side, 0],
    }),
    content,
    defaultStyle: { font: FACES.working, fontSize: TYPE.body, color: COLOUR.ink, lineHeight: 1.12 },
  };
}
