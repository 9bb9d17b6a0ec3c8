/** The floor itself on a sheet: every layer in its order, with words where there is room for them. */
import type { CheckResult, Coverage } from '../../core/coverage/index.ts';
import { type Floor, findRoomAt, type Room } from '../../core/floor/index.ts';
import { type Box, computeBox, computeSignedArea } from '../../core/geometry/polygon.ts';
import { drawDetectors, drawMasks, drawRanges, type Ranges } from './detectors-layer.ts';
import { drawField, type Show } from './field-layer.ts';
import type { Frame } from './frame.ts';
import { createLabels, type Labels, type Rect, rectOf } from './labels.ts';
import { COLOUR } from './paper.ts';
import { drawGround, drawRooms, drawWalls, WALL_BAND } from './structure-layer.ts';
import { cleanText, cutToWidth, element, measureText, type Spot } from './svg.ts';
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
import { formatArea } from './words.ts';

const ROOM_SIZE = 2.6;

export interface FloorDrawing {
  readonly plane: 'seated' | 'walking';
  /** `headings` is about the walking plane; null: no field, what is drawn stands on white paper. */
  readonly show: Show | null;
  readonly ranges: Ranges;
  /** Without the tops of furniture and the words of zones: a map to look at, not to measure by. */
  readonly isBare?: boolean;
}

/** The box around all rooms; of a floor without rooms one of a metre. */
export function boxOfRooms(floor: Floor): Box {
  if (floor.rooms.length === 0) return { minX: 0, minY: 0, maxX: 1, maxY: 1 };
  return computeBox(floor.rooms.flatMap((room) => room.outline));
}

/** `coverage` and `result` must be of the same floor. What reaches beyond the floor's own box is cut off. */
export function drawFloor(coverage: Coverage, result: CheckResult, options: FloorDrawing, frame: Frame): string {
  const { floor } = coverage;
  const { plane, show, ranges, isBare = false } = options;
  const height = coverage[plane].height;
  const labels = createLabels();
  // The order in which they ask for room for their words; the drawing has its own.
  const detectors = drawDetectors(floor, frame, labels);
  const workplaces = drawWorkplaces(coverage, result.workplaces, frame, labels);
  const sources = drawSources(floor, frame, labels);
  labelRooms(floor, frame, labels);
  const zones = isBare ? '' : drawZones(floor, result.zones, frame, labels);
  if (!isBare) labelFurniture(floor, height, frame, labels);
  return [
    drawGround(floor, frame),
    drawLowFurniture(floor, height, frame),
    element('clipPath', { id: 'rooms' }, drawRooms(floor, frame, undefined)),
    show === null
      ? ''
      : element('g', { 'clip-path': 'url(#rooms)' }, drawField(coverage, plane, show, frame) || element('g', {})),
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
export function labelRooms(floor: Floor, frame: Frame, labels: Labels): void {
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
