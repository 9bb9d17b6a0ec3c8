/**
 * The plan on paper: a floor to true scale in millimetres, with what is seen and blind at one plane. One SVG text that
 * looks nothing up; the same input gives the same bytes.
 */
import type { CheckResult, Coverage } from '../../core/coverage/index.ts';
import { type Floor, findRoomAt, type Room } from '../../core/floor/index.ts';
import { type Box, computeBox, computeSignedArea } from '../../core/geometry/polygon.ts';
import { drawDetectors, drawMasks, drawRanges, type Ranges } from './detectors-layer.ts';
import { drawField, type Show } from './field-layer.ts';
import { createFrame, type Frame } from './frame.ts';
import { drawNorth, drawScaleBar, writeFieldKey, writeMarkKey } from './key.ts';
import { createLabels, type Labels, type Rect, rectOf } from './labels.ts';
import { COLOUR, FONT } from './paper.ts';
import { drawGround, drawRooms, drawWalls, WALL_BAND } from './structure-layer.ts';
import {
  cleanText,
  cutToWidth,
  element,
  escapeXml,
  formatNumber,
  measureText,
  type Spot,
  textAt,
  wrapToWidth,
} from './svg.ts';
import {
  boxOf,
  drawFurniture,
  drawLowFurniture,
  drawLuminaires,
  drawSources,
  drawWorkplaces,
  drawZones,
  labelFurniture,
} from './things-layer.ts';
import { ASSUMPTIONS, formatArea, writeHeadline } from './words.ts';

/** Scales a plan is drawn at, as 1 to so many. */
export const SCALES = ['50', '100', '200'] as const;
export const SHOWS: readonly Show[] = ['blind', 'count', 'headings'];

export interface PlanOptions {
  readonly plane: 'seated' | 'walking';
  /** `headings` is about the walking plane. */
  readonly show: Show;
  readonly ranges: Ranges;
  /** Drawn at 1:scale; left out, the one of `SCALES` that suits the size of the floor. */
  readonly scale?: number;
}

export interface Plan {
  readonly svg: string;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly scale: number;
}

/** Millimetres. */
const MARGIN = 12;
const LEAST_WIDTH = 190;
const NAME_SIZE = 3.4;
const HEADLINE_SIZE = 5.2;
const HEADLINE_LINE = 6.8;
const SMALL_SIZE = 2.3;
const ROOM_SIZE = 2.6;
const FOOT_HEIGHT = 14;

/** Draws the plan of a floor. `coverage` and `result` must be of the same floor. */
export function drawPlan(coverage: Coverage, result: CheckResult, options: PlanOptions): Plan {
  const { floor } = coverage;
  const box = boxOfRooms(floor);
  const [left, right] = [box.minX - WALL_BAND, box.maxX + WALL_BAND];
  const [bottom, top] = [box.minY - WALL_BAND, box.maxY + WALL_BAND];
  const scale = options.scale ?? chooseScale(Math.max(right - left, top - bottom));
  const drawn = { width: ((right - left) * 1000) / scale, height: ((top - bottom) * 1000) / scale };
  const width = Math.max(LEAST_WIDTH, drawn.width + 2 * MARGIN);
  const inner = width - 2 * MARGIN;

  let y = MARGIN;
  const head: string[] = [];
  const name = { size: NAME_SIZE, bold: true };
  head.push(textAt({ x: MARGIN, y: y + NAME_SIZE * 0.8 }, cutToWidth(floor.name, inner, name), name));
  y += NAME_SIZE + 1.6;
  const reading = { size: HEADLINE_SIZE, font: 'reading' as const };
  for (const line of wrapToWidth(writeHeadline(floor, result).join(' '), inner, reading)) {
    head.push(textAt({ x: MARGIN, y: y + HEADLINE_SIZE * 0.85 }, line, reading));
    y += HEADLINE_LINE;
  }
  y += 1.5;
  const { plane, show, ranges } = options;
  const fieldKey = writeFieldKey(plane, coverage[plane].height, show, coverage.areas[plane], { x: MARGIN, y }, inner);
  y += fieldKey.height + 3;

  const frame = createFrame(scale, left, top, { x: MARGIN, y });
  y += drawn.height + 4;

  const withRanges = ranges === 'all' || ranges.length > 0;
  const hasUnmet = result.workplaces.some((each) => !each.met);
  const foot = [
    drawScaleBar({ x: MARGIN, y: y + 6 }, scale),
    drawNorth({ x: width - MARGIN - 4, y: y + 6 }, floor.north),
  ];
  y += FOOT_HEIGHT;
  const markKey = writeMarkKey(floor, withRanges, hasUnmet, { x: MARGIN, y }, inner);
  y += markKey.height + 2;
  const small = { size: SMALL_SIZE, fill: COLOUR.ink2 };
  for (const line of wrapToWidth(ASSUMPTIONS, inner, small)) {
    foot.push(textAt({ x: MARGIN, y: y + SMALL_SIZE }, line, small));
    y += SMALL_SIZE * 1.5;
  }
  const height = y + MARGIN - 2;

  const svg = element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      width: `${formatNumber(width)}mm`,
      height: `${formatNumber(height)}mm`,
      viewBox: `0 0 ${formatNumber(width)} ${formatNumber(height)}`,
      'font-family': FONT.working,
      fill: COLOUR.ink,
    },
    [
      element('title', {}, escapeXml(cleanText(floor.name)) || '\u00a0'),
      element('desc', {}, escapeXml(cleanText(`${writeHeadline(floor, result).join(' ')} ${ASSUMPTIONS}`))),
      element('rect', { width, height, fill: COLOUR.paper }),
      ...head,
      fieldKey.svg,
      drawFloor(coverage, result, options, frame),
      ...foot,
      markKey.svg,
    ].join('\n'),
  );
  return { svg: `${svg}\n`, widthMm: width, heightMm: height, scale };
}

/** The box around all rooms; of a floor without rooms one of a metre. */
function boxOfRooms(floor: Floor): Box {
  if (floor.rooms.length === 0) return { minX: 0, minY: 0, maxX: 1, maxY: 1 };
  return computeBox(floor.rooms.flatMap((room) => room.outline));
}

/** 1:50 for what then fits a metre of paper by far, 1:200 for what would not at 1:100. */
function chooseScale(longestM: number): number {
  if (longestM <= 18) return 50;
  return longestM <= 80 ? 100 : 200;
}

function drawFloor(coverage: Coverage, result: CheckResult, options: PlanOptions, frame: Frame): string {
  const { floor } = coverage;
  const { plane, show, ranges } = options;
  const height = coverage[plane].height;
  const labels = createLabels();
  // The order in which they ask for room for their words; the drawing has its own.
  const detectors = drawDetectors(floor, frame, labels);
  const workplaces = drawWorkplaces(coverage, result.workplaces, frame, labels);
  const sources = drawSources(floor, frame, labels);
  labelRooms(floor, frame, labels);
  const zones = drawZones(floor, result.zones, frame, labels);
  labelFurniture(floor, height, frame, labels);
  return [
    drawGround(floor, frame),
    drawLowFurniture(floor, height, frame),
    element('clipPath', { id: 'rooms' }, drawRooms(floor, frame, undefined)),
    element('g', { 'clip-path': 'url(#rooms)' }, drawField(coverage, plane, show, frame) || element('g', {})),
    drawFurniture(floor, height, frame),
    drawLuminaires(floor, frame),
    drawWalls(floor, frame),
    zones,
    element('clipPath', { id: 'sheet' }, drawSheetArea(floor, frame)),
    element(
      'g',
      { 'clip-path': 'url(#sheet)' },
      `${drawMasks(floor, height, frame)}${drawRanges(floor, ranges, frame)}` || element('g', {}),
    ),
    sources,
    workplaces,
    detectors,
    labels.write(),
  ].join('\n');
}

/** Where the floor lies on the sheet, with a little around it: ranges end there. */
function drawSheetArea(floor: Floor, frame: Frame): string {
  const box = boxOfRooms(floor);
  const upperLeft = frame.toSpot([box.minX - WALL_BAND, box.maxY + WALL_BAND]);
  const lowerRight = frame.toSpot([box.maxX + WALL_BAND, box.minY - WALL_BAND]);
  const rim = 1.5;
  return element('rect', {
    x: upperLeft.x - rim,
    y: upperLeft.y - rim,
    width: lowerRight.x - upperLeft.x + 2 * rim,
    height: lowerRight.y - upperLeft.y + 2 * rim,
  });
}

/** Names of rooms, each at the first free place from its top left; where none is free the name is left out. */
function labelRooms(floor: Floor, frame: Frame, labels: Labels): void {
  for (const room of floor.rooms) {
    const area = [room.outline, ...room.holes].reduce(
      (sum, ring, k) => sum + (k === 0 ? 1 : -1) * Math.abs(computeSignedArea(ring)),
      0,
    );
    const box = boxOf(room.outline.map(frame.toSpot));
    const style = { size: ROOM_SIZE, bold: true, rim: true };
    const name = cutToWidth(cleanText(room.name) || room.id, Math.max(8, (box.x1 - box.x0) * 0.9), style);
    const detail = `${formatArea(area)} m²`;
    const detailStyle = { size: 2, fill: COLOUR.ink2, rim: true };
    for (const spot of listSpots(box)) {
      const rect = rectOf(name, spot, style);
      const both = {
        ...rect,
        x1: Math.max(rect.x1, spot.x + measureText(detail, detailStyle)),
        y1: rect.y1 + ROOM_SIZE,
      };
      if (!isInRoom(room, floor, both, frame) || !labels.isFree(both)) continue;
      labels.put(name, [spot], style, true);
      labels.put(detail, [{ x: spot.x, y: spot.y + ROOM_SIZE }], detailStyle, true);
      break;
    }
  }
}

/** Steps between the places tried for the name of a room, mm, and how many are tried at most. */
const TRY_STEP = 3;
const MOST_TRIES = 600;

function* listSpots(box: Rect): Generator<Spot> {
  let tries = 0;
  for (let y = box.y0 + ROOM_SIZE + 0.8; y < box.y1; y += TRY_STEP) {
    for (let x = box.x0 + 1.4; x < box.x1; x += TRY_STEP) {
      if (++tries > MOST_TRIES) return;
      yield { x, y };
    }
  }
}

function isInRoom(room: Room, floor: Floor, { x0, y0, x1, y1 }: Rect, frame: Frame): boolean {
  const corners = [x0, (x0 + x1) / 2, x1].flatMap((x) => [y0, y1].map((y) => frame.toFloor({ x, y })));
  return corners.every((corner) => findRoomAt(floor.rooms, corner) === room);
}
