/** Plans to true scale: the plan with ranges, the setting-out drawing, the heat maps of both planes. */
import type { PdfContent } from 'pdfmake/build/pdfmake.js';
import type { HandoverJob } from '../../job.ts';
import { type Area, type Orientation, printedArea } from '../../paper/sizes.ts';
import type { CableLeg } from '../../plan/set-out-layer.ts';
import { drawSheet, measureKeys, type SheetKind } from '../../plan/sheet.ts';
import { layOutSheets, type SheetLayout } from '../../plan/sheet-layout.ts';
import { headingOne, type Setter } from '../setter.ts';

/** Scales of drawings that are measured from, and those of maps that are looked at. */
const DRAWING_SCALES = [50, 100, 200];
const MAP_SCALES = [50, 100, 200, 500, 1000];
/** A drawing to set out by stays at 1:100 or larger while it takes no more sheets than this. */
const SET_OUT_SCALES = [50, 100];
const MOST_SHEETS = 30;
/** The heading over a sheet, mm, with what the printer's rounding may take. */
const HEADING = 11;

/** Room for a sheet under its heading. */
function sheetArea(job: HandoverJob, orientation: Orientation): Area {
  const { width, height } = printedArea(job.paper, orientation);
  return { width, height: height - HEADING };
}

/** How a kind of sheet lies on the paper of a job. */
function layOut(job: HandoverJob, kind: SheetKind): SheetLayout {
  const areaOf = (orientation: Orientation): Area => {
    const area = sheetArea(job, orientation);
    return { width: area.width, height: area.height - measureKeys(job, kind, area.width) };
  };
  if (job.scale !== null) return layOutSheets(job.floor, areaOf, [job.scale], [job.scale], Number.POSITIVE_INFINITY);
  switch (kind.kind) {
    case 'setting-out':
      return layOutSheets(job.floor, areaOf, SET_OUT_SCALES, [100, 200, 500], MOST_SHEETS);
    case 'plan':
    case 'points':
      return layOutSheets(job.floor, areaOf, DRAWING_SCALES, [200, 500, 1000], MOST_SHEETS);
    case 'field':
      return layOutSheets(job.floor, areaOf, MAP_SCALES, [1000], MOST_SHEETS);
  }
}

/** All sheets of one kind, each on a page of its own. */
export function writeSheets(job: HandoverJob, setter: Setter, title: string, kind: SheetKind): PdfContent[] {
  const { scale, orientation, windows } = layOut(job, kind);
  const area = sheetArea(job, orientation);
  return windows.flatMap((window, k): PdfContent[] => {
    const sheets = windows.length === 1 ? '' : `, sheet ${window.name} (${k + 1} of ${windows.length})`;
    const heading = headingOne(`${title}, 1:${scale}${sheets}`, orientation);
    return [
      // Sheets after the first are found from it.
      { ...heading, tocItem: k === 0, margin: [0, 0, 0, 4] },
      setter.drawing(drawSheet(job, kind, window, scale, area), area.width, area.height),
    ];
  });
}

export function writePlans(job: HandoverJob, setter: Setter): PdfContent[] {
  const legs = job.groups.flatMap(({ plan }) =>
    (plan?.cable.legs ?? []).map(({ route }): CableLeg => ({ path: route })),
  );
  return [
    ...writeSheets(job, setter, 'Plan with ranges', { kind: 'plan' }),
    ...writeSheets(job, setter, 'Setting out', { kind: 'setting-out', legs }),
  ];
}

export function writeMaps(job: HandoverJob, setter: Setter): PdfContent[] {
  return [
    ...writeSheets(job, setter, 'Blind to seated people', { kind: 'field', plane: 'seated', show: 'blind' }),
    ...writeSheets(job, setter, 'Seated people, seen by how many', { kind: 'field', plane: 'seated', show: 'count' }),
    ...writeSheets(job, setter, 'Blind to walking people', { kind: 'field', plane: 'walking', show: 'blind' }),
    ...writeSheets(job, setter, 'Walking people, share of headings', {
      kind: 'field',
      plane: 'walking',
      show: 'headings',
    }),
  ];
}
