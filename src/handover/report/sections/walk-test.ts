/** The walk-test record: a plan with the numbered points, then the six parts with room for what is found. */
import type { PdfContent } from 'pdfmake/build/pdfmake.js';
import type { HandoverJob } from '../../job.ts';
import { printedArea } from '../../paper/sizes.ts';
import { writeWalkTest } from '../../tables/walk-test.ts';
import { headingOne, paragraph, type Setter, titledTable } from '../setter.ts';
import { writeSheets } from './plans.ts';

/** Room to write in a row, mm. */
const WRITING = 4.3;

export function writeWalkTestPages(job: HandoverJob, setter: Setter): PdfContent[] {
  const width = printedArea(job.paper, 'portrait').width;
  const { parts, points } = writeWalkTest(job);
  return [
    headingOne('Walk-test record', 'portrait'),
    paragraph(
      setter,
      'Test mode on, indicator on, sensitivity as planned. Walk the points in their order: first every entrance (E), then the seats (S), the risky ones first, then the places that must not switch anything (N). Write what you find beside what is expected.',
    ),
    ...parts.flatMap((table) => titledTable(setter, table, width, 'Nothing to test here.', WRITING)),
    ...(points.length === 0 ? [] : writeSheets(job, setter, 'Walk-test points', { kind: 'points', points })),
  ];
}
