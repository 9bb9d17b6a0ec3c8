/**
 * The parts of a hand-over. One list for the command line and the page: a part more is an entry more.
 * A part is a pure function of the floor's job; the platform gives faces and pictures.
 */
import { drawPlanDxf } from './drawing/plan-dxf.ts';
import { makeMasks } from './masks/masks-part.ts';
import type { HandoverFile, Part, PartOutput } from './part.ts';
import { drawPlan } from './plan/plan.ts';
import { makeReport } from './report/report.ts';
import { writeVerdicts } from './safe-json.ts';
import { makeSceneGlb } from './scene/scene-glb.ts';
import { writeSharePage } from './share/share-page.ts';
import { writeCsv } from './tables/csv.ts';
import { writeCables, writeGroups, writeTotals } from './tables/groups.ts';
import { writeMasks } from './tables/masks.ts';
import { writeLabels, writeSchedule } from './tables/schedule.ts';
import { writeSettings } from './tables/settings.ts';
import { writeWalkTest } from './tables/walk-test.ts';
import { writeXlsx } from './tables/xlsx.ts';

const PDF = 'application/pdf';
const CSV = 'text/csv;charset=utf-8';
const SVG = 'image/svg+xml';
const PNG = 'image/png';
const DXF = 'image/vnd.dxf';
const HTML = 'text/html;charset=utf-8';
const GLB = 'model/gltf-binary';
const XLSX = 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet';

/** Every part, in the order in which they are offered and made. */
export const PARTS: readonly Part[] = [
  {
    name: 'report',
    title: 'Report',
    about: 'everything on paged paper, plans to scale (PDF)',
    async produce(job, { fonts }, onProgress) {
      return filesOf({ name: 'report.pdf', mime: PDF, content: await makeReport(job, fonts, onProgress) });
    },
  },
  {
    name: 'plan',
    title: 'Plan',
    about: 'both planes, to scale (SVG, PNG)',
    async produce(job, platform) {
      const files: HandoverFile[] = [];
      for (const plane of ['seated', 'walking'] as const) {
        const scale = job.scale === null ? {} : { scale: job.scale };
        const plan = drawPlan(job.coverage, job.result, { plane, show: 'blind', ranges: [], ...scale });
        files.push({ name: `plan-${plane}.svg`, mime: SVG, content: plan.svg });
        files.push({ name: `plan-${plane}.png`, mime: PNG, content: await platform.rasterise(plan) });
      }
      return filesOf(...files);
    },
  },
  {
    name: 'drawing',
    title: 'Drawing',
    about: 'the plan in metres, a layer for each kind (DXF)',
    produce: async (job) => filesOf({ name: 'plan.dxf', mime: DXF, content: drawPlanDxf(job) }),
  },
  {
    name: 'scene',
    title: 'Scene',
    about: 'the floor as bodies with its blind places (GLB)',
    produce: async (job) => filesOf({ name: 'scene.glb', mime: GLB, content: await makeSceneGlb(job) }),
  },
  {
    name: 'page',
    title: 'Page',
    about: 'the floor to look at, in one file that opens without a network (HTML)',
    produce: async (job, platform) =>
      filesOf({ name: 'floor.html', mime: HTML, content: writeSharePage(await platform.readSharePage(), job.floor) }),
  },
  {
    name: 'masks',
    title: 'Mask templates',
    about: 'one for each masked lens, at 1:1 (PDF, SVG)',
    produce: (job, { fonts }) => makeMasks(job, fonts),
  },
  {
    name: 'schedule',
    title: 'Detector schedule',
    about: 'with labels, groups, settings and walk test as sheets (CSV, XLSX)',
    async produce(job) {
      const schedule = writeSchedule(job);
      const labels = writeLabels(job);
      const { parts } = writeWalkTest(job);
      const tables = [
        schedule,
        labels,
        writeGroups(job),
        writeCables(job),
        writeTotals(job),
        writeSettings(job),
        writeMasks(job),
        ...parts,
      ];
      return filesOf(
        { name: 'schedule.csv', mime: CSV, content: writeCsv(schedule) },
        { name: 'labels.csv', mime: CSV, content: writeCsv(labels) },
        { name: 'schedule.xlsx', mime: XLSX, content: await writeXlsx(tables) },
      );
    },
  },
  {
    name: 'groups',
    title: 'Groups and cables',
    about: 'who serves what, by which circuits (CSV)',
    produce: async (job) =>
      filesOf(
        { name: 'groups.csv', mime: CSV, content: writeCsv(writeGroups(job)) },
        { name: 'cables.csv', mime: CSV, content: writeCsv(writeCables(job)) },
        { name: 'totals.csv', mime: CSV, content: writeCsv(writeTotals(job)) },
      ),
  },
  {
    name: 'settings',
    title: 'Settings',
    about: 'planned, found and set, and the masks (CSV)',
    produce: async (job) =>
      filesOf(
        { name: 'settings.csv', mime: CSV, content: writeCsv(writeSettings(job)) },
        { name: 'masks.csv', mime: CSV, content: writeCsv(writeMasks(job)) },
      ),
  },
  {
    name: 'walk-test',
    title: 'Walk test',
    about: 'every test point in one route (CSV)',
    produce: async (job) => filesOf({ name: 'walk-test.csv', mime: CSV, content: writeCsv(writeWalkTest(job).route) }),
  },
  {
    name: 'verdicts',
    title: 'Verdicts',
    about: 'the same as check --json (JSON)',
    produce: async ({ result }) =>
      filesOf({ name: 'verdicts.json', mime: 'application/json', content: writeVerdicts(result) }),
  },
];

function filesOf(...files: readonly HandoverFile[]): PartOutput {
  return { files, refusals: [] };
}
