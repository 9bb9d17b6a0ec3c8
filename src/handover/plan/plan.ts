/**
 * The plan on paper: a floor to true scale in millimetres, with what is seen and blind at one plane. One SVG text that
 * looks nothing up; the same input gives the same bytes.
 */
import type { CheckResult, Coverage } from '../../core/coverage/index.ts';
import type { Ranges } from './detectors-layer.ts';
import type { Show } from './field-layer.ts';
import { boxOfRooms, drawFloor } from './floor-drawing.ts';
import { createFrame } from './frame.ts';
import { drawNorth, drawScaleBar, writeFieldKey, writeMarkKey } from './key.ts';
import { COLOUR, FONT } from './paper.ts';
import { WALL_BAND } from './structure-layer.ts';
import { cleanText, cutToWidth, element, escapeXml, formatNumber, textAt, wrapToWidth } from './svg.ts';
import { ASSUMPTIONS, writeHeadline } from './words.ts';

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

/** 1:50 for what then fits a metre of paper by far, 1:200 for what would not at 1:100. */
function chooseScale(longestM: number): number {
  if (longestM <= 18) return 50;
  return longestM <= 80 ? 100 : 200;
}
