/** What a fitter measures by: two dimensions a detector, its turn mark, the ceiling tiles, the order of the cable. */
import type { Detector, Floor, Point, Room } from '../../core/floor/index.ts';
import { computeBox } from '../../core/geometry/polygon.ts';
import type { WallMeasure } from '../set-out.ts';
import { drawDetector } from './detectors-layer.ts';
import type { Frame } from './frame.ts';
import { drawSectorSwatch, type Entry } from './key.ts';
import type { Labels } from './labels.ts';
import { COLOUR, LINE } from './paper.ts';
import { element, formatNumber, measureText, pathOf, type Spot } from './svg.ts';
import { around } from './things-layer.ts';

const DIMENSION_SIZE = 1.9;
/** Half a slash at the end of a dimension, mm. */
const SLASH = 0.8;
/** From the lens to the tip of its turn mark, mm. */
const MARK = 3.2;

export interface SetOutDetector {
  readonly detector: Detector;
  readonly number: string;
  readonly isMain: boolean;
  readonly measures: readonly WallMeasure[];
}

/** Dimensions of detectors: a line square to each wall, its length in metres on it. */
export function drawDimensions(detectors: readonly SetOutDetector[], frame: Frame, labels: Labels): string {
  let lines = '';
  const all = detectors.flatMap(({ detector, number, measures }) =>
    measures.map(({ foot, metres }) => ({
      number,
      metres,
      from: frame.toSpot(detector.at),
      to: frame.toSpot(foot),
    })),
  );
  for (const each of all) {
    const { number, metres, from, to } = each;
    lines += pathOf([from, to], false) + slashAt(to);
    // Where two lenses are measured along one line, a length alone could be either's.
    const isShared = all.some((other) => other.number !== number && liesAlong(other, each));
    writeLength(isShared ? `${number}: ${metres.toFixed(2)}` : metres.toFixed(2), from, to, labels);
  }
  return element('path', { d: lines, fill: 'none', stroke: COLOUR.ink, 'stroke-width': LINE.hair });
}

interface Stretch {
  readonly from: Spot;
  readonly to: Spot;
}

/** Dimensions nearer than this on paper are taken for one line, mm. */
const ONE_LINE = 0.5;

/** Whether two straight lines lie on one another over a length that could be read. */
function liesAlong(other: Stretch, { from, to }: Stretch): boolean {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  if (length === 0) return false;
  const [ux, uy] = [(to.x - from.x) / length, (to.y - from.y) / length];
  const off = (spot: Spot) => Math.abs((spot.x - from.x) * uy - (spot.y - from.y) * ux);
  if (off(other.from) > ONE_LINE || off(other.to) > ONE_LINE) return false;
  const along = (spot: Spot) => (spot.x - from.x) * ux + (spot.y - from.y) * uy;
  const [a, b] = [along(other.from), along(other.to)];
  return Math.min(Math.max(a, b), length) - Math.max(Math.min(a, b), 0) > ONE_LINE;
}

function slashAt({ x, y }: Spot): string {
  return pathOf(
    [
      { x: x - SLASH, y: y + SLASH },
      { x: x + SLASH, y: y - SLASH },
    ],
    false,
  );
}

function writeLength(text: string, from: Spot, to: Spot, labels: Labels): void {
  const isUpright = Math.abs(to.y - from.y) > Math.abs(to.x - from.x);
  const off = 0.45;
  const style = {
    size: DIMENSION_SIZE,
    anchor: 'middle' as const,
    rim: true,
    ...(isUpright ? { turn: -90 } : {}),
  };
  const spots = [0.5, 0.62, 0.38, 0.75, 0.25, 0.86].flatMap((part): Spot[] => {
    const x = from.x + (to.x - from.x) * part;
    const y = from.y + (to.y - from.y) * part;
    return isUpright
      ? [
          { x: x - off, y },
          { x: x + off + DIMENSION_SIZE * 0.74, y },
        ]
      : [
          { x, y: y - off },
          { x, y: y + off + DIMENSION_SIZE * 0.74 },
        ];
  });
  labels.put(text, spots, style, true);
}

/** Marks of detectors with their turn marks, and their numbers beside them. */
export function drawSetOutMarks(detectors: readonly SetOutDetector[], frame: Frame, labels: Labels): string {
  return detectors
    .map(({ detector, number, isMain }) => {
      const spot = frame.toSpot(detector.at);
      labels.block(around(spot, 2));
      const style = {
        size: 2.6,
        bold: true,
        rim: true,
        fill: detector.status === 'remove' ? COLOUR.ink3 : COLOUR.ink,
      };
      const width = measureText(number, style);
      const corners = [
        { x: spot.x + 2, y: spot.y - 1.6 },
        { x: spot.x + 2, y: spot.y + 3.4 },
        { x: spot.x - 2 - width, y: spot.y - 1.6 },
        { x: spot.x - 2 - width, y: spot.y + 3.4 },
        { x: spot.x + 4, y: spot.y + 0.9 },
        { x: spot.x - 4 - width, y: spot.y + 0.9 },
      ];
      labels.put(number, corners, style, true);
      return drawTurnMark(spot, detector.turn) + drawDetector(spot, isMain, detector.status);
    })
    .join('');
}

/** A wedge outside the rim where the detector's own 0° lies. @param turn degrees counter-clockwise from +x */
function drawTurnMark({ x, y }: Spot, turn: number, inner = 1.9, outer = MARK): string {
  const angle = (turn * Math.PI) / 180;
  const on = (radius: number, off: number): Spot => ({
    x: x + radius * Math.cos(angle + off),
    y: y - radius * Math.sin(angle + off),
  });
  return element('path', { d: pathOf([on(outer, 0), on(inner, 0.32), on(inner, -0.32)], true), fill: COLOUR.ink });
}

/** The tiles of the ceilings, cut to their rooms. */
export function drawTiles(floor: Floor, frame: Frame): string {
  return floor.rooms
    .map((room, index) => {
      const lines = listTileLines(room);
      if (lines.length === 0) return '';
      const id = `ceiling-${index}`;
      const outline = [room.outline, ...room.holes].map((ring) => pathOf(ring.map(frame.toSpot), true)).join('');
      return [
        element('clipPath', { id }, element('path', { d: outline, 'clip-rule': 'evenodd' })),
        element(
          'g',
          { 'clip-path': `url(#${id})` },
          element('path', {
            d: lines.map((line) => pathOf(line.map(frame.toSpot), false)).join(''),
            fill: 'none',
            stroke: COLOUR.hair,
            'stroke-width': LINE.hair,
          }),
        ),
      ].join('');
    })
    .join('');
}

/** More lines than this of one ceiling are no help to anybody. */
const MOST_TILE_LINES = 1_000;

function listTileLines(room: Room): [Point, Point][] {
  const { tiles } = room;
  if (tiles === undefined) return [];
  const turn = (tiles.turn * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const local = room.outline.map(([x, y]): Point => {
    const [dx, dy] = [x - tiles.origin[0], y - tiles.origin[1]];
    return [dx * c + dy * s, dy * c - dx * s];
  });
  const { minX, minY, maxX, maxY } = computeBox(local);
  const back = (u: number, v: number): Point => [tiles.origin[0] + u * c - v * s, tiles.origin[1] + u * s + v * c];
  const lines: [Point, Point][] = [];
  const [wide, deep] = tiles.pitch;
  if ((maxX - minX) / wide + (maxY - minY) / deep > MOST_TILE_LINES) return [];
  for (let k = Math.ceil(minX / wide); k * wide < maxX; k++) lines.push([back(k * wide, minY), back(k * wide, maxY)]);
  for (let k = Math.ceil(minY / deep); k * deep < maxY; k++) lines.push([back(minX, k * deep), back(maxX, k * deep)]);
  return lines;
}

/** A stretch of cable from one lens to the next, as it is laid in plan. */
export interface CableLeg {
  readonly path: readonly Point[];
}

/** Legs as dashed lines, an arrow in the middle of each showing the order. */
export function drawCables(legs: readonly CableLeg[], frame: Frame): string {
  const lines = legs.map(({ path }) => pathOf(path.map(frame.toSpot), false)).join('');
  const arrows = legs.map(({ path }) => arrowOn(path.map(frame.toSpot))).join('');
  if (lines === '') return '';
  return (
    element('path', {
      d: lines,
      fill: 'none',
      stroke: COLOUR.ink2,
      'stroke-width': LINE.drawing,
      'stroke-dasharray': '1.6 0.8',
      'stroke-linejoin': 'round',
    }) + element('path', { d: arrows, fill: COLOUR.ink2 })
  );
}

/** A head on the longest stretch of a path, pointing along it. */
function arrowOn(path: readonly Spot[]): string {
  let longest = 0;
  let head = '';
  for (let k = 0; k + 1 < path.length; k++) {
    const [a, b] = [path[k], path[k + 1]];
    if (a === undefined || b === undefined) continue;
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    if (length <= longest) continue;
    longest = length;
    const [ux, uy] = [(b.x - a.x) / length, (b.y - a.y) / length];
    const [x, y] = [(a.x + b.x) / 2, (a.y + b.y) / 2];
    head = pathOf(
      [
        { x: x + ux * 1.1, y: y + uy * 1.1 },
        { x: x - ux * 0.7 - uy * 0.65, y: y - uy * 0.7 + ux * 0.65 },
        { x: x - ux * 0.7 + uy * 0.65, y: y - uy * 0.7 - ux * 0.65 },
      ],
      true,
    );
  }
  return head;
}

/** The key of the marks above. */
export function listSetOutKey(hasMasks: boolean, hasCables: boolean, hasTiles: boolean): readonly Entry[] {
  const dimension = (at: Spot) =>
    element('path', {
      d: `${pathOf([at, { x: at.x + 7, y: at.y }], false)}${slashAt({ x: at.x + 7, y: at.y })}`,
      fill: 'none',
      stroke: COLOUR.ink,
      'stroke-width': LINE.hair,
    });
  const turned = (at: Spot) => {
    const middle = { x: at.x + 1.9, y: at.y };
    return drawTurnMark(middle, 0) + drawDetector(middle, false, 'new');
  };
  const cable = (at: Spot) => {
    const line = [at, { x: at.x + 8, y: at.y }];
    return (
      element('path', {
        d: pathOf(line, false),
        stroke: COLOUR.ink2,
        'stroke-width': LINE.drawing,
        'stroke-dasharray': '1.6 0.8',
      }) + element('path', { d: arrowOn(line), fill: COLOUR.ink2 })
    );
  };
  const tile = (at: Spot) =>
    element('path', {
      d: `M${formatNumber(at.x)} ${formatNumber(at.y - 1.5)}h5v3h-5Zm2.5 0v3`,
      fill: 'none',
      stroke: COLOUR.ink3,
      'stroke-width': LINE.hair,
    });
  return [
    { width: 7.8, draw: dimension, label: 'metres from the wall, square to it' },
    { width: 5.4, draw: turned, label: 'turn mark' },
    ...(hasMasks ? [{ width: 5, draw: drawSectorSwatch, label: 'mask' }] : []),
    ...(hasCables ? [{ width: 8, draw: cable, label: 'cable, in order' }] : []),
    ...(hasTiles ? [{ width: 5, draw: tile, label: 'ceiling tiles' }] : []),
  ];
}
