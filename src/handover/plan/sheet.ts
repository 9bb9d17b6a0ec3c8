/** One sheet of a plan, as large as the paper's printed area: the drawing in its window, with its keys around it. */
import type { Floor } from '../../core/floor/index.ts';
import { type Box, computeBox, overlaps, type PlanRing } from '../../core/geometry/polygon.ts';
import { luminaireOutline } from '../../core/sight/index.ts';
import type { HandoverJob } from '../job.ts';
import type { Area } from '../paper/sizes.ts';
import { createSetOut } from '../set-out.ts';
import { drawMasks } from './detectors-layer.ts';
import type { Show } from './field-layer.ts';
import { drawFloor, labelRooms } from './floor-drawing.ts';
import { createFrame, type Frame } from './frame.ts';
import { drawNorth, drawScaleBar, type Entry, type KeyBlock, layEntries, writeFieldKey, writeMarkKey } from './key.ts';
import { createLabels } from './labels.ts';
import { COLOUR, FONT, LINE } from './paper.ts';
import {
  type CableLeg,
  drawCables,
  drawDimensions,
  drawSetOutMarks,
  drawTiles,
  listSetOutKey,
  type SetOutDetector,
} from './set-out-layer.ts';
import type { SheetWindow } from './sheet-layout.ts';
import { drawGround, drawWalls } from './structure-layer.ts';
import { element, formatNumber, measureText, type Spot, textAt } from './svg.ts';
import { drawFurniture, drawLowFurniture, drawLuminaires, drawSources, labelFurniture } from './things-layer.ts';

/** What a sheet shows. */
export type SheetKind =
  | { readonly kind: 'plan' }
  | { readonly kind: 'setting-out'; readonly legs: readonly CableLeg[] }
  | { readonly kind: 'field'; readonly plane: 'seated' | 'walking'; readonly show: Show }
  | { readonly kind: 'points'; readonly points: readonly NumberedPoint[] };

interface NumberedPoint {
  readonly no: string;
  readonly at: readonly [number, number];
}

/** Scale bar and north under the drawing, mm. */
const FOOT = 11;
const GAP = 2.5;

/** Millimetres of a sheet that its keys take from the drawing. */
export function measureKeys(job: HandoverJob, kind: SheetKind, width: number): number {
  const { top, bottom } = writeKeys(job, kind, { x: 0, y: 0 }, width);
  return top.height + bottom.height + FOOT + 2 * GAP;
}

interface Keys {
  readonly top: KeyBlock;
  readonly bottom: KeyBlock;
}

/** Keys as they stand at a spot; the lower one is written for the same spot, and moved where it goes. */
function writeKeys({ floor, coverage, result }: HandoverJob, kind: SheetKind, spot: Spot, width: number): Keys {
  const none: KeyBlock = { svg: '', height: 0 };
  switch (kind.kind) {
    case 'field': {
      const { plane, show } = kind;
      const top = writeFieldKey(plane, coverage[plane].height, show, coverage.areas[plane], spot, width);
      return { top, bottom: none };
    }
    case 'plan': {
      const hasUnmet = result.workplaces.some((each) => !each.met);
      return { top: none, bottom: writeMarkKey(floor, true, hasUnmet, spot, width) };
    }
    case 'setting-out': {
      const hasMasks = floor.detectors.some((each) => each.masks.length > 0);
      const hasTiles = floor.rooms.some((each) => each.tiles !== undefined);
      return { top: none, bottom: layEntries(listSetOutKey(hasMasks, kind.legs.length > 0, hasTiles), spot, width) };
    }
    case 'points':
      return { top: none, bottom: layEntries(POINT_KEY, spot, width) };
  }
}

const POINT_KEY: readonly Entry[] = [
  { width: 0, draw: () => '', label: '', value: 'E entrance' },
  { width: 0, draw: () => '', label: '', value: 'S seat' },
  { width: 0, draw: () => '', label: '', value: 'N must not switch' },
];

/** Draws the window of a floor at 1:scale. One metre is 1000 / scale mm of the sheet. */
export function drawSheet(job: HandoverJob, kind: SheetKind, window: SheetWindow, scale: number, area: Area): string {
  const { box } = window;
  const keys = writeKeys(job, kind, { x: 0, y: 0 }, area.width);
  const drawn = { width: ((box.maxX - box.minX) * 1000) / scale, height: ((box.maxY - box.minY) * 1000) / scale };
  const spot = { x: Math.max(0, (area.width - drawn.width) / 2), y: keys.top.height + GAP };
  const frame = createFrame(scale, box.minX, box.maxY, spot);
  const footTop = spot.y + drawn.height + GAP;
  const seen = cutFloor(job, box);
  const view = { x: spot.x, y: spot.y, width: drawn.width, height: drawn.height };
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      width: `${formatNumber(area.width)}mm`,
      height: `${formatNumber(area.height)}mm`,
      viewBox: `0 0 ${formatNumber(area.width)} ${formatNumber(area.height)}`,
      'font-family': FONT.working,
      fill: COLOUR.ink,
    },
    [
      keys.top.svg,
      element('clipPath', { id: 'window' }, element('rect', view)),
      element('g', { 'clip-path': 'url(#window)' }, drawInside(seen, kind, frame)),
      window.name === ''
        ? ''
        : element('rect', { ...view, fill: 'none', stroke: COLOUR.ink3, 'stroke-width': LINE.hair }),
      drawScaleBar({ x: 0, y: footTop + 7 }, scale),
      window.name === ''
        ? ''
        : textAt({ x: area.width / 2, y: footTop + 7 }, `Sheet ${window.name}`, {
            size: 3,
            bold: true,
            anchor: 'middle',
          }),
      drawNorth({ x: area.width - 4, y: footTop + 6 }, job.floor.north),
      element('g', { transform: `translate(0 ${formatNumber(footTop + FOOT)})` }, keys.bottom.svg || element('g', {})),
    ].join('\n'),
  );
}

/** Only what reaches into a window: walls and rooms are few and stay, so that they are cut nowhere but at its edge. */
function cutFloor(job: HandoverJob, box: Box): HandoverJob {
  const { floor } = job;
  const touches = (ring: PlanRing) => overlaps(computeBox(ring), box);
  const isNear = ({ at: [x, y] }: { readonly at: readonly [number, number] }) =>
    x >= box.minX - 1 && x <= box.maxX + 1 && y >= box.minY - 1 && y <= box.maxY + 1;
  const seen: Floor = {
    ...floor,
    furniture: floor.furniture.filter((piece) => touches(piece.outline)),
    luminaires: floor.luminaires.filter(({ at, size, turn }) => touches(luminaireOutline(at, size, turn))),
    workplaces: floor.workplaces.filter(isNear),
    zones: floor.zones.filter((zone) => touches(zone.outline)),
    sources: floor.sources.filter(isNear),
  };
  return { ...job, floor: seen, coverage: { ...job.coverage, floor: seen } };
}

function drawInside(job: HandoverJob, kind: SheetKind, frame: Frame): string {
  const { coverage, result } = job;
  switch (kind.kind) {
    case 'field':
      return drawFloor(coverage, result, { plane: kind.plane, show: kind.show, ranges: [], isBare: true }, frame);
    case 'plan':
      return drawFloor(coverage, result, { plane: 'seated', show: null, ranges: 'all' }, frame);
    case 'setting-out':
      return drawSettingOut(job, kind.legs, frame);
    case 'points':
      return drawPoints(job, kind.points, frame);
  }
}

function drawSettingOut({ floor, names }: HandoverJob, legs: readonly CableLeg[], frame: Frame): string {
  const plane = floor.analysis.seatedPlane;
  const labels = createLabels();
  const mains = new Set(floor.groups.map((group) => group.main));
  const measure = createSetOut(floor);
  const detectors = floor.detectors.map(
    (detector): SetOutDetector => ({
      detector,
      number: names.numberOf(detector.id),
      isMain: mains.has(detector.id),
      measures: detector.status === 'remove' ? [] : measure(detector),
    }),
  );
  const marks = drawSetOutMarks(detectors, frame, labels);
  const dimensions = drawDimensions(detectors, frame, labels);
  const sources = drawSources(floor, frame, labels);
  labelRooms(floor, frame, labels);
  labelFurniture(floor, plane, frame, labels);
  return [
    drawGround(floor, frame),
    drawTiles(floor, frame),
    drawLowFurniture(floor, plane, frame),
    drawFurniture(floor, plane, frame),
    drawLuminaires(floor, frame),
    drawWalls(floor, frame),
    drawMasks(floor, plane, frame),
    drawCables(legs, frame),
    dimensions,
    sources,
    marks,
    labels.write(),
  ].join('\n');
}

/** Points at one place, within a centimetre, as one with all their numbers. */
function joinPoints(points: readonly NumberedPoint[]): readonly NumberedPoint[] {
  const joined = new Map<string, NumberedPoint>();
  for (const point of points) {
    const key = point.at.map((each) => Math.round(each * 100)).join(' ');
    const known = joined.get(key);
    joined.set(key, known === undefined ? point : { ...known, no: `${known.no}, ${point.no}` });
  }
  return [...joined.values()];
}

/** The test points of a walk test, numbered, on a bare plan. */
function drawPoints({ floor }: HandoverJob, points: readonly NumberedPoint[], frame: Frame): string {
  const labels = createLabels();
  const marks = joinPoints(points)
    .map(({ no, at }) => {
      const spot = frame.toSpot(at);
      const style = { size: 2.1, bold: true, rim: true };
      labels.block({ x0: spot.x - 0.6, y0: spot.y - 0.6, x1: spot.x + 0.6, y1: spot.y + 0.6 });
      const spots = [
        { x: spot.x + 0.9, y: spot.y + 0.7 },
        { x: spot.x + 0.5, y: spot.y - 0.9 },
        { x: spot.x + 0.5, y: spot.y + 2.4 },
        { x: spot.x - 0.9 - measureText(no, style), y: spot.y + 0.7 },
      ];
      labels.put(no, spots, style, true);
      return element('circle', { cx: spot.x, cy: spot.y, r: 0.6, fill: COLOUR.ink });
    })
    .join('');
  labelRooms(floor, frame, labels);
  return [
    drawGround(floor, frame),
    drawLowFurniture(floor, floor.analysis.seatedPlane, frame),
    drawFurniture(floor, floor.analysis.seatedPlane, frame),
    drawWalls(floor, frame),
    marks,
    labels.write(),
  ].join('\n');
}
