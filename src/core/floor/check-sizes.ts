/** Order and bounds that need two values of one thing, and the number of cells. */
import { computeBox } from '../geometry/polygon.ts';
import { headOf } from './derived.ts';
import { describeValue, type FaultList, formatMetres, formatNumber } from './fault.ts';
import { type DetectorType, type Floor, LIMITS, type Mask } from './schema.ts';

const LEAST_OPENING = 0.1;
const SLACK = 1e-9;

export function checkSizes(floor: Floor, faults: FaultList): void {
  for (const list of ['furniture', 'luminaires', 'sources'] as const) {
    floor[list].forEach(({ base, top }, i) => {
      if (top <= base)
        faults.add(
          `${list}[${i}].top`,
          `is ${formatNumber(top)} and base is ${formatNumber(base)}`,
          'The top must be above the base.',
        );
    });
  }
  checkOpenings(floor, faults);
  floor.types.forEach((type, i) => {
    checkRanges(type, `types[${i}].ranges`, faults);
  });
  floor.detectors.forEach((detector, i) => {
    detector.masks.forEach((mask, k) => {
      checkMask(mask, `detectors[${i}].masks[${k}]`, faults);
    });
  });
  checkCells(floor, faults);
}

function checkOpenings(floor: Floor, faults: FaultList): void {
  floor.openings.forEach((opening, i) => {
    const path = `openings[${i}]`;
    const width = Math.hypot(opening.to[0] - opening.from[0], opening.to[1] - opening.from[1]);
    if (width < LEAST_OPENING - SLACK) {
      faults.add(
        `${path}.to`,
        `is ${formatMetres(width)} away from \`from\``,
        `An opening is at least ${formatMetres(LEAST_OPENING)} wide.`,
      );
    } else if (opening.sill > 0 || opening.head !== undefined) {
      const head = headOf(opening, floor);
      const stated =
        opening.head === undefined ? `the head, left out, is ${formatMetres(head)}` : `head is ${formatNumber(head)}`;
      if (head <= opening.sill)
        faults.add(
          `${path}.sill`,
          `is ${formatNumber(opening.sill)} and ${stated}`,
          'The head must be above the sill.',
        );
    }
    if (opening.state !== undefined && opening.kind !== 'door') {
      const remedy =
        opening.kind === 'passage'
          ? 'A passage is always open. Leave state out.'
          : 'A window never opens for sight. Leave state out.';
      faults.add(`${path}.state`, `is ${describeValue(opening.state)} on a ${opening.kind}`, remedy);
    }
  });
}

/** Rows of one motion state the size of one shape at one plane, each from a mounting height of its own above it. */
function checkRanges(type: DetectorType, path: string, faults: FaultList): void {
  const firsts = new Map<string, number>();
  const mountings = new Map<string, number>();
  type.ranges.forEach((row, i) => {
    if (row.plane >= row.mounting)
      faults.add(
        `${path}[${i}].plane`,
        `is ${formatNumber(row.plane)} and mounting is ${formatNumber(row.mounting)}`,
        'The plane must be below the mounting height.',
      );
    const place = firsts.get(row.motion);
    const first = place === undefined ? undefined : type.ranges[place];
    if (first === undefined) firsts.set(row.motion, i);
    else {
      if (row.plane !== first.plane)
        faults.add(
          `${path}[${i}].plane`,
          `is ${formatNumber(row.plane)}, and ${path}[${place}], of the same motion, has ${formatNumber(first.plane)}`,
          'All rows of one motion share one plane.',
        );
      if ('diameter' in row !== 'diameter' in first)
        faults.add(
          `${path}[${i}]`,
          `has another shape than ${path}[${place}], of the same motion`,
          'All rows of one motion are round, or all are rectangular.',
        );
    }
    const key = `${row.motion} ${row.mounting}`;
    const same = mountings.get(key);
    if (same === undefined) mountings.set(key, i);
    else
      faults.add(
        `${path}[${i}].mounting`,
        `is ${formatNumber(row.mounting)}, as in ${path}[${same}], of the same motion`,
        'Each row of one motion has a mounting height of its own.',
      );
  });
}

function checkMask(mask: Mask, path: string, faults: FaultList): void {
  const { from, to, inner, outer } = mask;
  const turn = to - from;
  if (turn > 360 + SLACK) {
    faults.add(
      `${path}.to`,
      `is ${formatNumber(to)} and from is ${formatNumber(from)}, ${formatNumber(turn)}° apart`,
      'A mask runs over at most 360°.',
    );
  } else if (turn % 360 === 0 && turn !== 360) {
    faults.add(
      `${path}.to`,
      `is ${formatNumber(to)} and from is ${formatNumber(from)}, the same direction`,
      `The whole ring is to = from + 360, here ${formatNumber(from + 360)}.`,
    );
  }
  if (inner >= outer)
    faults.add(
      `${path}.outer`,
      `is ${formatNumber(outer)} and inner is ${formatNumber(inner)}`,
      'The outer angle must be above the inner.',
    );
}

/** Cells lie on a grid over all rooms, whether a room holds them or not. */
function checkCells(floor: Floor, faults: FaultList): void {
  const { minX, minY, maxX, maxY } = computeBox(floor.rooms.flatMap((room) => room.outline));
  const count = (cell: number): number =>
    Math.max(0, Math.ceil((maxX - minX) / cell - SLACK)) * Math.max(0, Math.ceil((maxY - minY) / cell - SLACK));
  const { cell } = floor.analysis;
  const cells = count(cell);
  if (cells <= LIMITS.cells) return;
  let enough = Math.ceil(Math.sqrt(((maxX - minX) * (maxY - minY)) / LIMITS.cells) * 1_000) / 1_000;
  while (count(enough) > LIMITS.cells) enough += 0.001;
  const remedy =
    enough <= LIMITS.cell.max
      ? `At most ${LIMITS.cells} are counted. A cell of ${formatMetres(enough)} is enough.`
      : `At most ${LIMITS.cells} are counted. Bring the rooms nearer to each other, or make two floors of them.`;
  faults.add('analysis.cell', `is ${formatNumber(cell)}, which makes ${cells} cells over the rooms`, remedy);
}
