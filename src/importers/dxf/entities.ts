/** One entity's groups as what it draws: paths, words, uses of blocks. */
import { bulgeArc, ellipsePoints, pushArc, splinePoints, sweepOf } from './curves.ts';
import type { Entity, Insert, Path, Words } from './drawing.ts';
import type { Fields } from './fields.ts';
import { hatchPaths } from './hatch.ts';
import { compose, IDENTITY, mapOfExtrusion, mapPoints, type PlaneMap } from './plane.ts';
import { readParagraph, readPlainText } from './words.ts';

const DEGREE = Math.PI / 180;
const NO_ARCS: readonly number[] = [];

/** What an entity needs to be made: its layer in plain text, its handle, and how texts are decoded. */
export interface Making {
  readonly layer: string;
  readonly handle: string;
  readonly decode: (bytes: Uint8Array) => string;
}

/** The kinds of entity that are understood; others are counted and told. */
const MAKERS: Readonly<Record<string, (f: Fields, making: Making) => readonly Entity[]>> = {
  LINE: (f, m) => [path(m, f, [f.get(10, 0), f.get(20, 0), f.get(11, 0), f.get(21, 0)], false)],
  LWPOLYLINE: (f, m) => lightPolyline(f, m),
  ARC: (f, m) => {
    const from = f.get(50, 0) * DEGREE;
    return round(f, m, from, sweepOf(from, f.get(51, 360) * DEGREE));
  },
  CIRCLE: (f, m) => round(f, m, 0, 2 * Math.PI),
  ELLIPSE: ellipse,
  SPLINE: spline,
  HATCH: (f, m) => {
    const map = extrusionOf(f, 30);
    return hatchPaths(f).map((points) => path(m, f, map === IDENTITY ? points : mapPoints(map, points), true));
  },
  SOLID: (f, m) => [path(m, f, mapPoints(extrusionOf(f, 30), corners(f, [10, 11, 13, 12])), true)],
  TRACE: (f, m) => [path(m, f, mapPoints(extrusionOf(f, 30), corners(f, [10, 11, 13, 12])), true)],
  '3DFACE': (f, m) => [path(m, f, corners(f, [10, 11, 12, 13]), true)],
  MLINE: multiLine,
  TEXT: (f, m) => [line(f, m)],
  ATTRIB: (f, m) => [line(f, m)],
  MTEXT: paragraph,
  INSERT: (f, m) => [insert(f, m)],
};

export function isUnderstood(entity: string): boolean {
  return Object.hasOwn(MAKERS, entity);
}

export function makeEntity(f: Fields, making: Making): readonly Entity[] {
  return MAKERS[f.entity]?.(f, making) ?? [];
}

function path(m: Making, f: Fields, points: readonly number[], closed: boolean, arcs = NO_ARCS, width = 0): Path {
  const rise = f.get(39, 0);
  return { kind: 'path', layer: m.layer, handle: m.handle, entity: f.entity, points, closed, arcs, width, rise };
}

/** The map from the entity's own plane; `height` is the group that says how far off the origin that plane lies. */
function extrusionOf(f: Fields, height: number): PlaneMap {
  const nx = f.get(210, 0);
  const ny = f.get(220, 0);
  if (nx === 0 && ny === 0 && f.get(230, 1) >= 0) return IDENTITY;
  return mapOfExtrusion(nx, ny, f.get(230, 1), f.get(height, 0));
}

function corners(f: Fields, codes: readonly number[]): number[] {
  const points: number[] = [];
  for (const code of codes) {
    const x = f.get(code, Number.NaN);
    const y = f.get(code + 10, Number.NaN);
    if (!Number.isFinite(x) || !Number.isFinite(y)) continue;
    if (points.at(-2) !== x || points.at(-1) !== y) points.push(x, y);
  }
  if (points.length > 2 && points[0] === points.at(-2) && points[1] === points.at(-1)) points.length -= 2;
  return points;
}

function lightPolyline(f: Fields, m: Making): readonly Entity[] {
  const vertices: Vertex[] = [];
  const constant = f.get(43, 0);
  let vertex: Vertex | undefined;
  for (let i = 0; i < f.count; i++) {
    const value = f.values[i] as number;
    switch (f.codes[i]) {
      case 10:
        vertex = { x: value, y: 0, bulge: 0, width: constant };
        vertices.push(vertex);
        break;
      case 20:
        if (vertex !== undefined) vertex.y = value;
        break;
      case 40:
        if (vertex !== undefined) vertex.width = value;
        break;
      case 42:
        if (vertex !== undefined) vertex.bulge = value;
        break;
      default:
    }
  }
  return [polyline(f, m, vertices, (f.get(70, 0) & 1) === 1, extrusionOf(f, 38))];
}

export interface Vertex {
  x: number;
  y: number;
  bulge: number;
  width: number;
}

/** A polyline of either kind; `f` holds its own groups. */
export function polyline(f: Fields, m: Making, vertices: readonly Vertex[], closed: boolean, map: PlaneMap): Path {
  const points: number[] = [];
  const arcs: number[] = [];
  const last = vertices.length - 1;
  for (const [i, { x, y, bulge }] of vertices.entries()) {
    points.push(x, y);
    const next = i < last ? vertices[i + 1] : closed ? vertices[0] : undefined;
    const arc = next === undefined || bulge === 0 ? null : bulgeArc(x, y, next.x, next.y, bulge);
    if (arc === null || next === undefined) continue;
    arcs.push(arc.cx, arc.cy, x, y, next.x, next.y);
    pushArc(points, arc.cx, arc.cy, arc.radius, arc.from, arc.sweep, false);
    // The arc's last point is the next vertex.
    points.length -= 2;
  }
  const width = vertices.length > 0 ? Math.min(...vertices.slice(0, -1).map((vertex) => vertex.width), Infinity) : 0;
  const wide = Number.isFinite(width) && width > 0 ? width : 0;
  if (map === IDENTITY) return path(m, f, points, closed, arcs, wide);
  return path(m, f, mapPoints(map, points), closed, mapPoints(map, arcs), wide);
}

function round(f: Fields, m: Making, from: number, sweep: number): readonly Entity[] {
  const radius = Math.abs(f.get(40, 0));
  const cx = f.get(10, 0);
  const cy = f.get(20, 0);
  const points: number[] = [];
  pushArc(points, cx, cy, radius, from, sweep, true);
  const map = extrusionOf(f, 30);
  const isWhole = sweep > 2 * Math.PI - 1e-9;
  if (isWhole) points.length -= 2;
  const ends = points.slice(-2);
  const arcs = isWhole ? NO_ARCS : [cx, cy, points[0] as number, points[1] as number, ...ends];
  if (map === IDENTITY) return [path(m, f, points, isWhole, arcs)];
  return [path(m, f, mapPoints(map, points), isWhole, mapPoints(map, arcs))];
}

function ellipse(f: Fields, m: Making): readonly Entity[] {
  const ax = f.get(11, 0);
  const ay = f.get(21, 0);
  const az = f.get(31, 0);
  const ratio = f.get(40, 1);
  const from = f.get(41, 0);
  const sweep = sweepOf(from, f.get(42, 2 * Math.PI));
  // The short axis is the extrusion direction × the long axis.
  const nx = f.get(210, 0);
  const ny = f.get(220, 0);
  const nz = f.get(230, 1);
  const size = Math.hypot(nx, ny, nz) || 1;
  const bx = ((ny * az - nz * ay) / size) * ratio;
  const by = ((nz * ax - nx * az) / size) * ratio;
  const points = ellipsePoints(f.get(10, 0), f.get(20, 0), ax, ay, bx, by, from, sweep);
  const isWhole = sweep > 2 * Math.PI - 1e-6;
  if (isWhole) points.length -= 2;
  return [path(m, f, points, isWhole)];
}

function spline(f: Fields, m: Making): readonly Entity[] {
  const pairs = (x: number): number[] => {
    const ys = f.all(x + 10);
    return f.all(x).flatMap((value, i) => [value, ys[i] ?? 0]);
  };
  const points = splinePoints(f.get(71, 3), f.all(40), pairs(10), f.all(41)) ?? pairs(11);
  const closed = (f.get(70, 0) & 1) === 1;
  const ends = points.length;
  const meets = ends > 4 && points[0] === points[ends - 2] && points[1] === points[ends - 1];
  if (meets) points.length -= 2;
  return [path(m, f, points, closed || meets)];
}

/** A multiline: for every element the vertex moved along its mitre by the element's first number. */
function multiLine(f: Fields, m: Making): readonly Entity[] {
  const elements: number[][] = [];
  let x = 0;
  let y = 0;
  let mx = 0;
  let my = 0;
  let element = -1;
  let wanted = false;
  for (let i = 0; i < f.count; i++) {
    const value = f.values[i] as number;
    switch (f.codes[i]) {
      case 11:
        x = value;
        element = -1;
        break;
      case 21:
        y = value;
        break;
      case 13:
        mx = value;
        break;
      case 23:
        my = value;
        break;
      case 74:
        element++;
        wanted = value > 0;
        break;
      case 41:
        if (!wanted) break;
        wanted = false;
        elements[element] ??= [];
        elements[element]?.push(x + mx * value, y + my * value);
        break;
      default:
    }
  }
  const closed = (f.get(71, 0) & 2) === 2;
  return elements.filter((points) => points.length >= 4).map((points) => path(m, f, points, closed));
}

/** Letters are taken to be so wide, in parts of their height. */
const LETTER = 0.6;

function line(f: Fields, m: Making): Words {
  const text = readPlainText(m.decode(f.text(1) ?? new Uint8Array(0)));
  const size = f.get(40, 0);
  const across = f.get(72, 0);
  const up = f.get(73, 0) || f.get(74, 0);
  const aligned = across !== 0 || up !== 0;
  const x = aligned ? f.get(11, f.get(10, 0)) : f.get(10, 0);
  const y = aligned ? f.get(21, f.get(20, 0)) : f.get(20, 0);
  const length = text.length * size * LETTER * f.get(41, 1);
  const dx = across === 1 || across === 4 ? 0 : across === 2 ? -length / 2 : length / 2;
  const dy = across === 4 || up === 2 ? 0 : up === 3 ? -size / 2 : size / 2;
  const turn = f.get(50, 0) * DEGREE;
  const map = extrusionOf(f, 30);
  const at = [x + dx * Math.cos(turn) - dy * Math.sin(turn), y + dx * Math.sin(turn) + dy * Math.cos(turn)];
  return { kind: 'words', layer: m.layer, handle: m.handle, text, points: mapPoints(map, at), size };
}

function paragraph(f: Fields, m: Making): readonly Entity[] {
  // Long texts come in pieces of 250 bytes (3) and a rest (1); a letter may be cut in two, so bytes are joined first.
  const pieces = f.texts.filter(({ code }) => code === 3 || code === 1).map(({ bytes }) => bytes);
  const all = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let filled = 0;
  for (const piece of pieces) {
    all.set(piece, filled);
    filled += piece.length;
  }
  const text = readParagraph(m.decode(all));
  const lines = text.split('\n');
  const size = f.get(40, 0);
  const widest = Math.max(...lines.map((one) => one.length)) * size * LETTER;
  const limit = f.get(41, 0);
  const width = limit > 0 ? Math.min(widest, limit) : widest;
  const height = lines.length * size * 1.6;
  const anchor = f.get(71, 1) - 1;
  const dx = ([0.5, 0, -0.5][anchor % 3] ?? 0) * width;
  const dy = ([-0.5, 0, 0.5][Math.floor(anchor / 3)] ?? 0) * height;
  const tx = f.get(11, Number.NaN);
  const turn = Number.isFinite(tx) ? Math.atan2(f.get(21, 0), tx) : f.get(50, 0) * DEGREE;
  const points = [
    f.get(10, 0) + dx * Math.cos(turn) - dy * Math.sin(turn),
    f.get(20, 0) + dx * Math.sin(turn) + dy * Math.cos(turn),
  ];
  return [{ kind: 'words', layer: m.layer, handle: m.handle, text, points, size }];
}

function insert(f: Fields, m: Making): Insert {
  const turn = f.get(50, 0) * DEGREE;
  const c = Math.cos(turn);
  const s = Math.sin(turn);
  const sx = f.get(41, 1);
  const sy = f.get(42, 1);
  const own = { a: c * sx, b: s * sx, c: -s * sy, d: c * sy, e: f.get(10, 0), f: f.get(20, 0) };
  const map = compose(extrusionOf(f, 30), own);
  const steps = { rowStep: f.get(45, 0) / (sy || 1), columnStep: f.get(44, 0) / (sx || 1) };
  const many = (code: number): number => Math.max(1, Math.floor(f.get(code, 1)) || 1);
  const block = m.decode(f.text(2) ?? new Uint8Array(0));
  return {
    kind: 'insert',
    layer: m.layer,
    handle: m.handle,
    block,
    map,
    rows: many(71),
    columns: many(70),
    ...steps,
    words: [],
  };
}
