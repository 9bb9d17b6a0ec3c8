/**
 * The plan as a DXF drawing: metres, true size, a layer for each kind, so that others can lay it over their own plan.
 * Written as AC1021 in UTF-8 with a library of good standing.
 */
import { DxfWriter, LWPolylineFlags, point3d, Units } from '@tarikjabiri/dxf';
import { BLIND } from '../../core/coverage/index.ts';
import type { Detector, Floor, Mask, Opening, Point } from '../../core/floor/index.ts';
import type { Extent } from '../../core/sight/index.ts';
import { cutEdge, listGaps, listWallEdges, luminaireOutline, rangeAt } from '../../core/sight/index.ts';
import type { HandoverJob } from '../job.ts';
import { traceLoops } from '../plan/contours.ts';
import { cleanText } from '../plan/svg.ts';

/** Layers by kind, each with its colour of the format (7 is black on white). */
const LAYERS = {
  ROOM: 8,
  WALL: 7,
  OPENING: 7,
  FURNITURE: 9,
  LUMINAIRE: 30,
  WORKPLACE: 140,
  ZONE: 150,
  SOURCE: 20,
  DETECTOR: 7,
  MASK: 7,
  'RANGE-SMALL-MOVEMENTS': 3,
  'RANGE-WALKING-AT-IT': 4,
  'RANGE-WALKING-PAST': 5,
  'BLIND-SEATED': 1,
  'BLIND-WALKING': 1,
  NAME: 7,
  NOTE: 8,
} as const;

type LayerName = keyof typeof LAYERS;

/** Metres: half of a detector's sign, height of names, how far a mask's sector is drawn. */
const SIGN = 0.12;
const LETTER = 0.2;
const MASK_REACH = 1.05;
/** Straight parts a quarter turn is drawn in where an arc is none of the format's. */
const ARC_STEPS = 24;

/** Draws the floor; the same floor gives the same text. */
export function drawPlanDxf({ floor, coverage, names }: HandoverJob): string {
  const dxf = new DxfWriter();
  dxf.setUnits(Units.Meters);
  for (const [name, colour] of Object.entries(LAYERS)) dxf.addLayer(name, colour, 'CONTINUOUS');
  const pen = createPen(dxf);
  for (const room of floor.rooms) {
    for (const ring of [room.outline, ...room.holes]) pen.ring('ROOM', ring);
    pen.text('NAME', centreOf(room.outline), room.name, LETTER);
  }
  drawWalls(floor, pen);
  for (const opening of floor.openings) drawOpening(opening, pen);
  for (const piece of floor.furniture) pen.ring('FURNITURE', piece.outline);
  for (const { at, size, turn } of floor.luminaires) pen.ring('LUMINAIRE', luminaireOutline(at, size, turn));
  for (const workplace of floor.workplaces) {
    pen.circle('WORKPLACE', workplace.at, workplace.radius);
    pen.text('WORKPLACE', workplace.at, names.numberOf(workplace.id), LETTER * 0.6);
  }
  for (const zone of floor.zones) {
    pen.ring('ZONE', zone.outline);
    pen.text('ZONE', zone.outline[0] as Point, `${zone.name} (${zone.need})`, LETTER * 0.6);
  }
  for (const source of floor.sources) {
    pen.circle('SOURCE', source.at, source.radius);
    pen.text('SOURCE', source.at, source.name, LETTER * 0.6);
  }
  for (const detector of floor.detectors) drawDetector(detector, floor, names.numberOf(detector.id), pen);
  for (const plane of ['seated', 'walking'] as const) {
    const { lattice } = coverage.grid;
    const { state } = coverage[plane];
    const isBlind = (i: number, j: number) =>
      i >= 0 && j >= 0 && i < lattice.nx && j < lattice.ny && state[j * lattice.nx + i] === BLIND;
    for (const loop of traceLoops(lattice.nx, lattice.ny, isBlind)) {
      const ring: Point[] = [];
      for (let k = 0; k < loop.length; k += 2) {
        ring.push([
          lattice.x0 + (loop[k] as number) * lattice.cell,
          lattice.y0 + (loop[k + 1] as number) * lattice.cell,
        ]);
      }
      pen.ring(plane === 'seated' ? 'BLIND-SEATED' : 'BLIND-WALKING', ring);
    }
  }
  const foot = footOf(floor);
  for (const [row, words] of NOTES.entries()) pen.text('NOTE', [foot[0], foot[1] - 0.6 - row * 0.3], words, LETTER);
  return dxf.stringify();
}

const NOTES: readonly string[] = [
  'Metres. Declared ranges at full sensitivity; blind areas assume the furniture shown.',
  'A coverage estimate, not an approval. Mains wiring is for licensed electricians under local rules.',
];

interface Pen {
  ring(layer: LayerName, ring: readonly Point[]): void;
  line(layer: LayerName, from: Point, to: Point): void;
  circle(layer: LayerName, at: Point, radius: number): void;
  text(layer: LayerName, at: Point, words: string, height: number): void;
}

function createPen(dxf: DxfWriter): Pen {
  return {
    ring(layerName, ring) {
      const vertices = ring.map(([x, y]) => ({ point: { x, y } }));
      dxf.addLWPolyline(vertices, { flags: LWPolylineFlags.Closed, layerName });
    },
    line(layerName, [ax, ay], [bx, by]) {
      dxf.addLine(point3d(ax, ay), point3d(bx, by), { layerName });
    },
    circle(layerName, [x, y], radius) {
      dxf.addCircle(point3d(x, y), radius, { layerName });
    },
    text(layerName, [x, y], words, height) {
      // A line break would end the value, and a caret or a percent pair is a command of the format.
      const plain = cleanText(words)
        .replaceAll(/[\r\n^]/gu, ' ')
        .replaceAll('%%', '% %');
      if (plain.trim() !== '') dxf.addText(point3d(x, y), height, plain, { layerName });
    },
  };
}

/** Room edges, left out where an opening cuts them. */
function drawWalls(floor: Floor, pen: Pen): void {
  const gaps = listGaps(floor);
  for (const edge of listWallEdges(floor)) {
    const at = (part: number): Point => [
      edge.a[0] + (edge.b[0] - edge.a[0]) * part,
      edge.a[1] + (edge.b[1] - edge.a[1]) * part,
    ];
    const spans = gaps.map((gap) => cutEdge(gap, edge)).filter((span) => span !== null);
    spans.sort((a, b) => a[0] - b[0]);
    let from = 0;
    for (const [start, end] of [...spans, [1, 1] as const]) {
      if (start > from) pen.line('WALL', at(from), at(start));
      from = Math.max(from, end);
    }
  }
}

/** A door as its leaf and swing, a window as two lines, a passage as its threshold. */
function drawOpening({ kind, from, to, depth }: Opening, pen: Pen): void {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const width = Math.hypot(dx, dy);
  const [nx, ny] = [-dy / width, dx / width];
  if (kind === 'window') {
    const half = Math.min(depth / 2, 0.05);
    for (const side of [-half, half])
      pen.line('OPENING', [from[0] + nx * side, from[1] + ny * side], [to[0] + nx * side, to[1] + ny * side]);
    return;
  }
  pen.line('OPENING', from, to);
  if (kind === 'door') pen.line('OPENING', from, [from[0] + nx * width, from[1] + ny * width]);
}

function drawDetector(detector: Detector, floor: Floor, number: string, pen: Pen): void {
  const { at, turn, masks } = detector;
  pen.circle('DETECTOR', at, SIGN);
  pen.line('DETECTOR', [at[0] - SIGN, at[1]], [at[0] + SIGN, at[1]]);
  pen.line('DETECTOR', [at[0], at[1] - SIGN], [at[0], at[1] + SIGN]);
  // The turn mark: where azimuth 0 of the lens points.
  const mark = (turn * Math.PI) / 180;
  pen.line('DETECTOR', at, [at[0] + 2.5 * SIGN * Math.cos(mark), at[1] + 2.5 * SIGN * Math.sin(mark)]);
  const status = detector.status === 'new' ? '' : ` (${detector.status})`;
  pen.text('DETECTOR', [at[0] + 1.5 * SIGN, at[1] + 1.5 * SIGN], `${number}${status}`, LETTER);
  for (const mask of masks) pen.ring('MASK', sectorOf(at, turn, mask));
  const { seatedPlane, walkingPlane } = floor.analysis;
  const ranges = [
    ['RANGE-SMALL-MOVEMENTS', 'minor', seatedPlane],
    ['RANGE-WALKING-AT-IT', 'radial', walkingPlane],
    ['RANGE-WALKING-PAST', 'tangential', walkingPlane],
  ] as const;
  for (const [layer, motion, plane] of ranges) drawRange(layer, at, turn, rangeAt(floor, detector, motion, plane), pen);
}

function drawRange(layer: LayerName, at: Point, turn: number, extent: Extent | null, pen: Pen): void {
  if (extent === null) return;
  if (extent.kind === 'round') pen.circle(layer, at, extent.radius);
  else pen.ring(layer, luminaireOutline(at, [extent.length, extent.width], turn));
}

/** The sector a mask covers, in plan about the lens; a whole ring as a circle's steps. */
function sectorOf(at: Point, turn: number, { from, to }: Mask): Point[] {
  const span = (((to - from) % 360) + 360) % 360 || 360;
  const steps = Math.max(2, Math.ceil((span / 90) * ARC_STEPS));
  const arc = Array.from({ length: steps + 1 }, (_, k): Point => {
    const angle = ((turn + from + (span * k) / steps) * Math.PI) / 180;
    return [at[0] + MASK_REACH * Math.cos(angle), at[1] + MASK_REACH * Math.sin(angle)];
  });
  return span === 360 ? arc.slice(0, -1) : [at, ...arc];
}

function centreOf(outline: readonly Point[]): Point {
  const xs = outline.map((point) => point[0]);
  const ys = outline.map((point) => point[1]);
  return [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
}

function footOf(floor: Floor): Point {
  const corners = floor.rooms.flatMap((room) => room.outline);
  const least = (axis: 0 | 1) => corners.reduce((low, corner) => Math.min(low, corner[axis]), Number.POSITIVE_INFINITY);
  return corners.length === 0 ? [0, 0] : [least(0), least(1)];
}
