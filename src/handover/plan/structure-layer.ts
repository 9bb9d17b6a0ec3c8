/** Walls and openings. Rooms are drawn as they count: the line of a wall is the edge of its room. */
import { type Floor, findRoomAt, type Opening, type Point } from '../../core/floor/index.ts';
import { cutEdge, listGaps, listWallEdges } from '../../core/sight/index.ts';
import type { Frame } from './frame.ts';
import { COLOUR, LINE } from './paper.ts';
import { element, formatNumber, pathOf } from './svg.ts';

/** Metres of wall drawn around the rooms, and by which an opening cuts through it. */
export const WALL_BAND = 0.24;

/** The ground: a band of wall around all rooms, cut by the openings, and the rooms as paper. */
export function drawGround(floor: Floor, frame: Frame): string {
  const outlines = floor.rooms.map((room) => roomPath(room, frame)).join('');
  const gaps = floor.openings
    .map((opening) =>
      pathOf(rectangleOf(opening, Math.max(opening.depth / 2, WALL_BAND + 0.02)).map(frame.toSpot), true),
    )
    .join('');
  return [
    element('path', {
      d: outlines,
      fill: 'none',
      stroke: COLOUR.wall,
      'stroke-width': 2 * WALL_BAND * frame.mmPerMetre,
      'stroke-linejoin': 'miter',
    }),
    gaps === '' ? '' : element('path', { d: gaps, fill: COLOUR.paper }),
    drawRooms(floor, frame, COLOUR.paper),
  ].join('');
}

/** Every room as one path each, so that rooms beside one another add up. */
export function drawRooms(floor: Floor, frame: Frame, fill: string | undefined): string {
  return floor.rooms
    .map((room) => element('path', { d: roomPath(room, frame), fill, 'fill-rule': 'evenodd', 'clip-rule': 'evenodd' }))
    .join('');
}

function roomPath(room: Floor['rooms'][number], frame: Frame): string {
  return [room.outline, ...room.holes].map((ring) => pathOf(ring.map(frame.toSpot), true)).join('');
}

/** Wall lines, left out where an opening cuts them, and what stands in the openings. */
export function drawWalls(floor: Floor, frame: Frame): string {
  const gaps = listGaps(floor);
  let lines = '';
  for (const edge of listWallEdges(floor)) {
    const spans = gaps.map((gap) => cutEdge(gap, edge)).filter((span) => span !== null);
    spans.sort((a, b) => a[0] - b[0]);
    let from = 0;
    for (const [start, end] of [...spans, [1, 1] as const]) {
      if (start > from)
        lines += pathOf([along(edge.a, edge.b, from), along(edge.a, edge.b, start)].map(frame.toSpot), false);
      from = Math.max(from, end);
    }
  }
  return [
    element('path', {
      d: lines,
      fill: 'none',
      stroke: COLOUR.ink,
      'stroke-width': Math.max(LINE.strong, 0.05 * frame.mmPerMetre),
      'stroke-linecap': 'square',
    }),
    ...floor.openings.map((opening) => drawOpening(opening, floor, frame)),
  ].join('');
}

function along(a: Point, b: Point, part: number): Point {
  return [a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part];
}

function drawOpening(opening: Opening, floor: Floor, frame: Frame): string {
  const [low, high] = bandOf(opening, floor);
  const thin = { fill: 'none', stroke: COLOUR.ink, 'stroke-width': LINE.thin };
  switch (opening.kind) {
    case 'window': {
      const panes = [low, (low + high) / 2, high].map((offset) => sideOf(opening, offset));
      const lines = [...panes, ...endsOf(opening, low, high)].map((line) => pathOf(line.map(frame.toSpot), false));
      return element('path', { d: lines.join(''), ...thin });
    }
    case 'passage':
      return element('path', {
        d: pathOf(sideOf(opening, 0).map(frame.toSpot), false),
        ...thin,
        stroke: COLOUR.ink3,
        'stroke-dasharray': '1.2 0.8',
      });
    case 'door':
      return drawDoor(opening, floor, frame);
  }
}

/** A door hangs at `from` and swings to its left, or to its right when only there is a room. Closed, its swing is dotted. */
function drawDoor(opening: Opening, floor: Floor, frame: Frame): string {
  const [left = opening.from, right = opening.from] = [1, -1].map((side) =>
    along(...sideOf(opening, side * (opening.depth / 2 + 0.05)), 0.5),
  );
  const side = findRoomAt(floor.rooms, left) === undefined && findRoomAt(floor.rooms, right) !== undefined ? -1 : 1;
  const width = Math.hypot(opening.to[0] - opening.from[0], opening.to[1] - opening.from[1]);
  const [openEnd] = sideOf(opening, side * width);
  const radius = formatNumber(width * frame.mmPerMetre);
  const to = frame.toSpot(openEnd);
  const swing = `${pathOf([frame.toSpot(opening.to)], false)}A${radius} ${radius} 0 0 ${side === 1 ? 0 : 1} ${formatNumber(to.x)} ${formatNumber(to.y)}`;
  const isOpen = opening.state === 'open';
  const leaf = pathOf([opening.from, isOpen ? openEnd : opening.to].map(frame.toSpot), false);
  return [
    element('path', {
      d: swing,
      fill: 'none',
      stroke: COLOUR.ink,
      'stroke-width': LINE.hair,
      'stroke-dasharray': isOpen ? undefined : '0.4 0.8',
    }),
    element('path', { d: leaf, fill: 'none', stroke: COLOUR.ink, 'stroke-width': LINE.strong }),
  ].join('');
}

/** The line of an opening moved by so many metres to its left. */
function sideOf({ from, to }: Opening, offset: number): [Point, Point] {
  const width = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const nx = (-(to[1] - from[1]) / width) * offset;
  const ny = ((to[0] - from[0]) / width) * offset;
  return [
    [from[0] + nx, from[1] + ny],
    [to[0] + nx, to[1] + ny],
  ];
}

/** The short lines across both ends of an opening, from one offset to the other. */
function endsOf(opening: Opening, low: number, high: number): [Point, Point][] {
  const [a, b] = [sideOf(opening, low), sideOf(opening, high)];
  return [
    [a[0], b[0]],
    [a[1], b[1]],
  ];
}

/** Where an opening lies in its wall, metres to its left: in the band outside the rooms, or about the line between two. */
function bandOf(opening: Opening, floor: Floor): [number, number] {
  const hasRoom = (side: number) =>
    findRoomAt(floor.rooms, along(...sideOf(opening, side * (opening.depth / 2 + 0.05)), 0.5)) !== undefined;
  if (!hasRoom(1) && hasRoom(-1)) return [0, WALL_BAND];
  if (hasRoom(1) && !hasRoom(-1)) return [-WALL_BAND, 0];
  return [-0.05, 0.05];
}

function rectangleOf(opening: Opening, offset: number): Point[] {
  const [a, b] = sideOf(opening, -offset);
  const [d, c] = sideOf(opening, offset);
  return [a, b, c, d];
}
