/** How long one drawing unit is: what the header says, held against what is drawn. */
import type { Drawing } from './drawing.ts';
import { arcsOf, type Shape } from './expand.ts';

export const DXF_UNITS = ['mm', 'cm', 'dm', 'm', 'in', 'ft', 'yd'] as const;
export type DxfUnit = (typeof DXF_UNITS)[number];

/** Metres of one unit; inch, foot and yard are exact by definition. */
export const METRES: Readonly<Record<DxfUnit, number>> = {
  mm: 0.001,
  cm: 0.01,
  dm: 0.1,
  m: 1,
  in: 0.0254,
  ft: 0.3048,
  yd: 0.9144,
};

export const UNIT_WORDS: Readonly<Record<DxfUnit, string>> = {
  mm: 'millimetres',
  cm: 'centimetres',
  dm: 'decimetres',
  m: 'metres',
  in: 'inches',
  ft: 'feet',
  yd: 'yards',
};

/** `$INSUNITS`, from the format's public table. */
const OF_HEADER: Readonly<Record<number, DxfUnit>> = {
  1: 'in',
  2: 'ft',
  4: 'mm',
  5: 'cm',
  6: 'm',
  10: 'yd',
  14: 'dm',
  21: 'ft',
};

export interface UnitGuess {
  readonly taken: DxfUnit;
  /** What the header says, null where it says nothing of use. */
  readonly header: DxfUnit | null;
  readonly standing: 'read' | 'guessed';
  /** A sentence for the reader. */
  readonly reason: string;
  /** Units that fit what is drawn, the likeliest first. */
  readonly plausible: readonly DxfUnit[];
  /** Extent of the drawing in its own units. */
  readonly extent: readonly [number, number];
}

/** Swings of doors: quarter arcs of these radii (metres), a leaf of 0.6 to 1.2 m and what is drawn about it. Common practice, no source. */
const LEAF: readonly [number, number] = [0.55, 1.25];
/** Letters on a plan (metres): 2 to 5 mm on paper at 1:50 to 1:100. Common practice, no source. */
const LETTERS: readonly [number, number] = [0.06, 0.6];
const CANDIDATES: readonly DxfUnit[] = ['m', 'mm', 'cm', 'in', 'ft', 'dm'];

export function guessUnit(drawing: Drawing, shapes: readonly Shape[]): UnitGuess {
  const extent = robustExtent(shapes);
  const swings = listSwingRadii(shapes);
  const letters = shapes
    .flatMap(({ drawn }) => (drawn.kind === 'words' && drawn.size > 0 ? [drawn.size] : []))
    .sort((a, b) => a - b);
  const letter = letters[letters.length >> 1];
  const header = OF_HEADER[drawing.insUnits ?? 0] ?? null;
  const imperial = drawing.lengthUnits === 3 || drawing.lengthUnits === 4;

  const leavesIn = (unit: DxfUnit): number =>
    swings.filter((radius) => radius * METRES[unit] >= LEAF[0] && radius * METRES[unit] <= LEAF[1]).length;
  const scoreOf = (unit: DxfUnit): number => {
    const metres = METRES[unit];
    const long = Math.max(...extent) * metres;
    let score = unit === header ? 1.5 : 0;
    score += long >= 4 && long <= 300 ? 2 : long >= 2 && long <= 1500 ? 0.5 : -3;
    if (swings.length > 0) score += (swings.length > 1 ? 4 : 2) * (leavesIn(unit) / swings.length);
    if (letter !== undefined) score += letter * metres >= LETTERS[0] && letter * metres <= LETTERS[1] ? 1 : -0.5;
    if (imperial && unit === 'in') score += 1;
    if (drawing.measurement === 0 && drawing.insUnits === null && (unit === 'in' || unit === 'ft')) score += 0.25;
    if (unit === 'dm' || unit === 'ft') score -= 0.5;
    return score;
  };
  const candidates = header === null || CANDIDATES.includes(header) ? CANDIDATES : [...CANDIDATES, header];
  const ranked = candidates.map((unit) => ({ unit, score: scoreOf(unit) })).sort((a, b) => b.score - a.score);
  const best = ranked[0] ?? { unit: 'm' as const, score: 0 };
  const stated = ranked.find(({ unit }) => unit === header);
  // The header is believed unless what is drawn says clearly otherwise.
  const taken = stated !== undefined && stated.score > best.score - 1 ? stated : best;
  const plausible = ranked.filter(({ score }) => score > 0 && score > taken.score - 3).map(({ unit }) => unit);
  return {
    taken: taken.unit,
    header,
    standing: taken.unit === header ? 'read' : 'guessed',
    reason: sentence(taken.unit, header, drawing.insUnits, extent, leavesIn(taken.unit), swings.length),
    plausible: plausible.includes(taken.unit) ? plausible : [taken.unit, ...plausible],
    extent,
  };
}

function sentence(
  taken: DxfUnit,
  header: DxfUnit | null,
  code: number | null,
  extent: readonly [number, number],
  leaves: number,
  swings: number,
): string {
  const says =
    header !== null
      ? `The header says ${UNIT_WORDS[header]}`
      : code === null || code === 0
        ? 'The header names no unit'
        : `The header's unit (code ${code}) is none of a building`;
  const size = (unit: DxfUnit): string =>
    extent
      .map((side) => (side * METRES[unit]).toPrecision(3))
      .map(Number)
      .join(' × ');
  const doors =
    swings > 0 ? `, and ${leaves} of ${swings} quarter arcs are then swings of doors 0.6 to 1.2 m wide` : '';
  if (taken === header) return `${says}: the drawing is ${size(taken)} m${doors}.`;
  const absurd = header === null ? '' : `, with which it would be ${size(header)} m in size`;
  return `This drawing seems to be in ${UNIT_WORDS[taken]}. ${says}${absurd}; in ${UNIT_WORDS[taken]} it is ${size(taken)} m${doors}.`;
}

/** Radii of all quarter arcs, drawing units. */
function listSwingRadii(shapes: readonly Shape[]): number[] {
  const radii: number[] = [];
  for (const shape of shapes) {
    const arcs = arcsOf(shape);
    for (let i = 0; i + 5 < arcs.length; i += 6) {
      const [ax, ay] = [
        (arcs[i + 2] as number) - (arcs[i] as number),
        (arcs[i + 3] as number) - (arcs[i + 1] as number),
      ];
      const [bx, by] = [
        (arcs[i + 4] as number) - (arcs[i] as number),
        (arcs[i + 5] as number) - (arcs[i + 1] as number),
      ];
      const radius = Math.hypot(ax, ay);
      if (
        radius > 0 &&
        Math.abs(ax * bx + ay * by) < 0.2 * radius * radius &&
        Math.abs(Math.hypot(bx, by) / radius - 1) < 0.02
      )
        radii.push(radius);
    }
  }
  return radii;
}

/** Width and height of what is drawn, without the outermost 1 % on every side: a stray point far away is no building. */
function robustExtent(shapes: readonly Shape[]): readonly [number, number] {
  const { minX, minY, maxX, maxY } = robustBox(shapes);
  return [Math.max(0, maxX - minX), Math.max(0, maxY - minY)];
}

export function robustBox(shapes: readonly Shape[]) {
  const xs: number[] = [];
  const ys: number[] = [];
  const paths = shapes.filter(({ drawn }) => drawn.kind === 'path');
  const list = paths.length > 0 ? paths : shapes;
  const step = Math.max(1, Math.floor(list.length / 20_000));
  for (let i = 0; i < list.length; i += step) {
    const { points } = list[i] as Shape;
    // First and middle point stand for a path.
    for (const at of [0, (points.length >> 2) << 1]) {
      const x = points[at];
      const y = points[at + 1];
      if (x === undefined || y === undefined || !Number.isFinite(x) || !Number.isFinite(y)) continue;
      xs.push(x);
      ys.push(y);
    }
    if (list.length < 200 && points.length > 0) {
      for (let at = 0; at < points.length; at += 2) {
        xs.push(points[at] as number);
        ys.push(points[at + 1] as number);
      }
    }
  }
  xs.sort((a, b) => a - b);
  ys.sort((a, b) => a - b);
  const cut = Math.floor(xs.length / 100);
  const at = (list: readonly number[], index: number): number =>
    list[Math.min(Math.max(index, 0), list.length - 1)] ?? 0;
  return { minX: at(xs, cut), minY: at(ys, cut), maxX: at(xs, xs.length - 1 - cut), maxY: at(ys, ys.length - 1 - cut) };
}
