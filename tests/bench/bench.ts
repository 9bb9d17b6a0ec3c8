/**
 * The speed table: what it ran on, a table of every case, and one line of JSON per case.
 *
 *     npm run bench [-- layers drag edit whole process drawing model arrange]
 */
import { availableParallelism, cpus, loadavg } from 'node:os';
import { type ArrangeRecord, runArrangeCases } from './arrange-case.ts';
import { chooseClock } from './clock.ts';
import { type DragRecord, runDragCases } from './drag-case.ts';
import { type DrawingRecord, runDrawingCase } from './drawing-case.ts';
import { type EditRecord, runEditCase } from './edit-case.ts';
import { COMPARED_LINES, type LayersResult, runLayersCases, TIMED_LINES } from './layers-case.ts';
import { MODEL_MEMORY, type ModelRecord, runModelCases, tellModelMemory } from './model-case.ts';
import { type ProcessRecord, runProcessCase } from './process-case.ts';
import { showNumber, writeRecord, writeTable } from './table.ts';
import { runWholeCases, type WholeRecord } from './whole-case.ts';

const CASES = ['layers', 'drag', 'edit', 'whole', 'process', 'drawing', 'model', 'arrange'];

if (process.env[MODEL_MEMORY] !== undefined) {
  await tellModelMemory();
  process.exit(0);
}

const wanted = process.argv.slice(2);
const unknown = wanted.filter((word) => !CASES.includes(word));
if (unknown.length > 0) {
  console.error(`There is no case ${unknown.join(', ')}. It must be one of: ${CASES.join(', ')}.`);
  process.exit(2);
}
const isWanted = (name: string): boolean => wanted.length === 0 || wanted.includes(name);

const started = performance.now();
const tell = (what: string): void => {
  if (process.stderr.isTTY) process.stderr.write(`\r\u001b[K${what}`);
};
const records: object[] = [];
const clock = chooseClock();

console.log(
  `${cpus()[0]?.model.trim() ?? 'unknown processor'}, ${availableParallelism()} cores, Node ${process.version}`,
);
console.log(`Load at the start: ${showLoad()}. One process, one thread, all cases of a table in turns.`);
console.log(`Times are by the ${clock.name} unless it says otherwise.\n`);
if (isWanted('layers')) showLayers(await runLayersCases(clock, tell));
if (isWanted('drag')) showDrags(runDragCases(clock, tell));
if (isWanted('edit')) showEdits(runEditCase(clock, tell));
if (isWanted('whole')) showWhole(runWholeCases(clock, tell));
if (isWanted('process')) showProcess(runProcessCase(tell));
if (isWanted('drawing')) showDrawing(runDrawingCase(clock, tell));
if (isWanted('model')) showModels(await runModelCases(clock, tell));
if (isWanted('arrange')) showArrange(await runArrangeCases(tell));
tell('');
console.log(`Load at the end: ${showLoad()}. ${Math.round((performance.now() - started) / 1_000)} s.\n`);
for (const record of records) console.log(writeRecord(record));

function showLoad(): string {
  return loadavg()
    .map((load) => load.toFixed(1))
    .join(', ');
}

function show(title: string, rows: readonly (readonly string[])[], ...remarks: readonly string[]): void {
  tell('');
  console.log([title, writeTable(rows), ...remarks, ''].join('\n'));
}

function showLayers(results: readonly LayersResult[]): void {
  show('Floors', [
    ['', 'cells', 'detectors', 'pieces', 'triangles', 'sight lines'],
    ...results.map(({ record, pieces, triangles }) => [
      record.case,
      ...[record.cells, record.detectors, pieces, triangles, record.sightLines].map(showNumber),
    ]),
  ]);
  show(
    'All layers of all detectors at both planes, ms (median)',
    [
      ['', 'lacuna', 'bvh', 'rapier', 'bytes', 'fill', 'ns/line', 'bvh/lacuna', 'lacuna/bytes'],
      ...results.map(({ record: { case: name, sightLines, lacunaMs, bvhMs, rapierMs, bytesMs, fillMs } }) => [
        name,
        ...[lacunaMs, bvhMs, rapierMs, bytesMs, fillMs, (lacunaMs * 1e6) / sightLines].map(showNumber),
        ...[bvhMs / lacunaMs, lacunaMs / bytesMs].map(showNumber),
      ]),
    ],
    ...results.map(({ record: { case: name }, wall }) =>
      [
        `${name}, by the wall clock: lacuna ${showNumber(wall.lacuna)}, bvh ${showNumber(wall.bvh)},`,
        `bytes ${showNumber(wall.bytes)}: ${showNumber(wall.bvh / wall.lacuna)} and ${showNumber(wall.lacuna / wall.bytes)}.`,
      ].join(' '),
    ),
    `bvh and rapier: timed on about ${showNumber(TIMED_LINES)} sight lines a run, every n-th row, other rows each run, and scaled.`,
    'bytes, fill: one byte per sight line of every layer.',
  );
  show(
    `Verdicts compared with the ray casters' on about ${showNumber(COMPARED_LINES)} sight lines a floor`,
    [
      ['', 'compared', 'clear', 'bvh differs', 'on an edge', 'rapier differs', 'on an edge'],
      ...results.map(({ record, compared, seen, bvh, rapier }) => [
        record.case,
        ...[compared, seen, bvh.disagree, bvh.onEdge, rapier.disagree, rapier.onEdge].map(showNumber),
      ]),
    ],
    'on an edge: the ray caster itself judges otherwise when the place moves by 1.5 mm in x or y. These are not counted.',
  );
  records.push(...results.map(({ record }) => record));
  const perLine = results.map(({ record }) => ({
    areaM2: record.areaM2,
    ns: (record.lacunaMs * 1e6) / record.sightLines,
  }));
  const [middle, large] = [1_000, 10_000].map((area) => perLine.find(({ areaM2 }) => areaM2 === area)!.ns) as [
    number,
    number,
  ];
  const ratio = large / middle;
  console.log(`Time per sight line at 10,000 m² is ${ratio.toFixed(2)} times that at 1,000 m² (goal: at most 1.5).\n`);
  records.push({ case: 'time per sight line, 10,000 m² / 1,000 m²', nsAt1000: middle, nsAt10000: large, ratio });
}

function showDrags(drags: readonly DragRecord[]): void {
  show(
    'One step of a drag, ms (median and 95th percentile)',
    [
      [
        '',
        'detectors',
        'pieces',
        'workplaces',
        'steps',
        'update',
        'p95',
        'texture',
        'step',
        'p95',
        'goal',
        'update, wall',
      ],
      ...drags.map((drag) => [
        drag.case,
        ...[drag.detectors, drag.pieces, drag.workplaces, drag.steps].map(showNumber),
        ...[
          drag.updateMs,
          drag.updateP95Ms,
          drag.textureMs,
          drag.stepMs,
          drag.stepP95Ms,
          drag.goalMs,
          drag.updateWallMs,
        ].map(showNumber),
      ]),
    ],
    'update: layers, counts, heading shares, areas, workplaces. texture: the words of the plane that is shown, the dearer one.',
  );
  records.push(...drags);
}

function showEdits(record: EditRecord): void {
  show(
    `${record.edits} edits and their undoing, ms and megabytes`,
    [
      ['', 'edit', 'most', 'undo', 'p95', 'most', 'goal', 'MB after edits', 'after undo', 'after both again'],
      [
        record.case,
        ...[record.editMs, record.editMostMs, record.undoMs, record.undoP95Ms, record.undoMostMs, record.goalMs].map(
          showNumber,
        ),
        ...[record.afterEditsMB, record.afterUndoMB, record.afterSecondMB].map(showNumber),
      ],
    ],
    'edit: the change, the judging of the whole file and the coverage. MB: in use after collecting, from before the first edit.',
  );
  records.push(record);
}

function showWhole(whole: readonly WholeRecord[]): void {
  show('From nothing, ms (median)', [
    ['', 'detectors', 'pieces', 'workplaces', 'rounds', 'ms', 'wall'],
    ...whole.map(({ case: name, detectors, pieces, workplaces, rounds, medianMs, wallMs }) => [
      name,
      ...[detectors, pieces, workplaces, rounds, medianMs, wallMs].map(showNumber),
    ]),
  ]);
  records.push(...whole);
}

function showArrange(cases: readonly ArrangeRecord[]): void {
  show(
    'Fewest detectors on a grid of 1.2 m, seconds by the wall clock',
    [
      ['', 'workplaces', 'zones', 'candidates', 'greedy', 'found', 'bound', 'gap %', 'seeing', 'first', 'all'],
      ...cases.map(
        ({ case: name, workplaces, zones, candidates, greedy, count, bound, gapPercent, seeingS, firstS, allS }) => [
          name,
          ...[workplaces, zones, candidates, greedy, count, bound, gapPercent, seeingS, firstS, allS].map(showNumber),
        ],
      ),
    ],
    'seeing: what every candidate sees of every place. first: the first sufficient arrangement. A gap of 0 is a proof.',
  );
  records.push(...cases);
}

function showProcess(record: ProcessRecord): void {
  const { checkMs, emptyMs, jsonMs, parseMs, ratio, ratioChecked, ratioFastest, goalRatio } = record;
  show(
    'The whole command, ms by the wall clock (median)',
    [
      ['', 'check', 'node -e 0', 'JSON', 'parse', 'check/(node + JSON)', 'fastest', 'check/(node + parse)', 'goal'],
      [
        record.case,
        ...[checkMs, emptyMs, jsonMs, parseMs, ratio, ratioFastest, ratioChecked, goalRatio].map(showNumber),
      ],
    ],
    'JSON, parse: the text of the file to a value, and to a floor with every check of the format, in this process.',
  );
  records.push(record);
}

function showDrawing(record: DrawingRecord): void {
  const { entities, bytes, lacunaMs, libraryMs, ratio, wallRatio, goalRatio } = record;
  show(
    'A drawing, ms (median)',
    [
      ['', 'entities', 'bytes', 'storey', 'library', 'storey/library', 'by the wall', 'goal'],
      [record.case, ...[entities, bytes, lacunaMs, libraryMs, ratio, wallRatio, goalRatio].map(showNumber)],
    ],
    'storey: bytes to walls, doors, names and furniture in metres. library: text to entities and polylines, by the dxf package.',
  );
  records.push(record);
}

function showModels(models: readonly ModelRecord[]): void {
  show(
    'Building models, ms (median)',
    [
      ['', 'bytes', 'storeys', 'engine', 'storeys/engine', 'goal', 'peak MB', 'goal'],
      ...models.map(({ case: name, bytes, lacunaMs, engineMs, ratio, goalRatio, peakMB, goalMB }) => [
        name,
        ...[bytes, lacunaMs, engineMs, ratio, goalRatio].map(showNumber),
        peakMB === null ? '' : showNumber(peakMB),
        peakMB === null ? '' : showNumber(goalMB),
      ]),
    ],
    'storeys: bytes to rooms, walls, doors and furniture in metres. engine: web-ifc opens the same bytes and streams every mesh.',
    'peak: the most memory of a process of its own that writes the model and reads it, the engine included.',
  );
  records.push(...models);
}
