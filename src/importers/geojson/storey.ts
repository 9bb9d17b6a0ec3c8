/** One level of an indoor map as a drawn storey. */
import type { Point, Ring } from '../../core/floor/index.ts';
import { computeBox, isInRing } from '../../core/geometry/polygon.ts';
import { createAccount, placeOf } from '../assembly/account.ts';
import { openRings } from '../assembly/inner-walls.ts';
import type {
  DrawnLabel,
  DrawnOpening,
  DrawnPiece,
  DrawnRoom,
  DrawnStorey,
  DrawnVoid,
  DrawnWall,
  DrawnWorkplace,
} from '../storey.ts';
import type { Feature } from './features.ts';
import type { Frame } from './read.ts';
import { describeFeature, readRole } from './words.ts';

export function drawStorey(
  name: string,
  order: number | null,
  features: readonly Feature[],
  { toMetres }: Frame,
): DrawnStorey {
  const rooms: DrawnRoom[] = [];
  const walls: DrawnWall[] = [];
  const openings: DrawnOpening[] = [];
  const pieces: DrawnPiece[] = [];
  const workplaces: DrawnWorkplace[] = [];
  const voids: DrawnVoid[] = [];
  const labels: DrawnLabel[] = [];
  const account = createAccount();

  for (const feature of features) {
    const { key, properties } = feature;
    const role = readRole(properties);
    const called = nameOf(properties);
    const rings = feature.polygons.map((polygon) => polygon.map((ring) => ring.map(toMetres)));
    const lines = feature.lines.map((line) => line.map(toMetres));
    const at =
      rings[0]?.[0]?.[0] ?? lines[0]?.[0] ?? (feature.points[0] === undefined ? null : toMetres(feature.points[0]));
    const leave = (reason: string): void =>
      account.add('left out', describeFeature(properties), reason, placeOf({ key, name: called }, at));
    const keyOf = (part: number): string => (part === 0 ? key : `${key} part ${part + 1}`);
    if (role === undefined) {
      leave('What they are is not known. A type such as room, wall, door, window or desk is.');
      continue;
    }
    const top = readHeight(properties);
    switch (role.is) {
      case 'room':
        rings.forEach(([outline = [], ...holes], i) => {
          const use = role.use === '' ? {} : { use: role.use };
          rooms.push({
            key: keyOf(i),
            name: called || titleOf(role.use),
            ...use,
            outline,
            holes,
            ceiling: top,
            standing: 'read',
          });
        });
        if (rings.length === 0) leave('They have no outline.');
        break;
      case 'void':
        for (const [i, [outline = []]] of rings.entries()) voids.push({ key: keyOf(i), name: called, outline });
        break;
      case 'wall':
        rings.forEach(([outline = [], ...holes], i) => {
          openRings({ outline, holes }).forEach((ring, part) => {
            walls.push({
              kind: 'footprint',
              key: part === 0 ? keyOf(i) : `${keyOf(i)}.${part + 1}`,
              outline: ring,
              base: 0,
              top,
            });
          });
        });
        for (const [i, line] of lines.entries()) {
          for (const [k, to] of line.slice(1).entries())
            walls.push({ kind: 'line', key: `${keyOf(i)}.${k + 1}`, from: line[k] as Point, to });
        }
        break;
      case 'opening': {
        const spans = [
          ...rings.map(([outline = []]) => spanOf(outline)),
          ...lines.map((line) => ({ from: line[0] as Point, to: line.at(-1) as Point, depth: null })),
        ];
        spans.forEach((span, i) => {
          openings.push({
            key: keyOf(i),
            kind: role.kind,
            name: called,
            ...span,
            sill: null,
            head: top,
            standing: 'read',
          });
        });
        if (spans.length === 0) leave('A point does not say how wide they are.');
        break;
      }
      case 'piece':
        rings.forEach(([outline = []], i) => {
          pieces.push({
            key: keyOf(i),
            kind: role.kind,
            name: called,
            outline,
            base: top === null ? null : 0,
            top,
            glass: false,
            standing: 'guessed',
          });
        });
        if (rings.length === 0) leave('They have no outline.');
        break;
      case 'chair':
        for (const place of [...rings.map(([outline = []]) => middleOf(outline)), ...feature.points.map(toMetres)])
          workplaces.push({ key, name: '', at: place, facing: null, standing: 'guessed' });
        break;
      case 'label': {
        // A named area without walls of its own names the room it lies in.
        const [outline] = rings[0] ?? [];
        if (called !== '' && outline !== undefined) labels.push({ key, text: called, at: middleOf(outline) });
        else leave('They are marked as without geometry and have no name.');
        break;
      }
      case 'outline':
        leave('The outline of a whole building or level bounds no room; walls do.');
        break;
    }
  }
  return {
    name,
    elevation: order,
    north: 90,
    rooms,
    walls,
    openings,
    pieces,
    luminaires: [],
    workplaces,
    sources: [],
    labels,
    voids,
    remarks: account.list(),
  };
}

function nameOf(properties: Readonly<Record<string, unknown>>): string {
  const parts = [properties.name, properties.roomnumber ?? properties.ref]
    .filter((each): each is string | number => typeof each === 'string' || typeof each === 'number')
    .map(String)
    .filter((each) => each.trim() !== '');
  return [...new Set(parts)].join(' ').slice(0, 200);
}

function titleOf(use: string): string {
  return use === '' ? '' : `${use.charAt(0).toUpperCase()}${use.slice(1)}`;
}

/** Metres; a height of nothing says nothing. */
function readHeight(properties: Readonly<Record<string, unknown>>): number | null {
  const value = properties.height;
  const height = typeof value === 'number' ? value : typeof value === 'string' ? Number.parseFloat(value) : Number.NaN;
  return height > 0.1 && height < 50 ? height : null;
}

/** The two jambs and the thickness of an opening drawn as a thin polygon: its narrowest box, along one of its edges. */
function spanOf(outline: Ring): { readonly from: Point; readonly to: Point; readonly depth: number } {
  let best = { area: Infinity, from: outline[0] ?? ([0, 0] as Point), to: outline[1] ?? ([0, 0] as Point), depth: 0 };
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length] ?? a;
    const edge = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (edge < 1e-6) return;
    const [ux, uy] = [(b[0] - a[0]) / edge, (b[1] - a[1]) / edge];
    const us = outline.map(([x, y]) => x * ux + y * uy);
    const vs = outline.map(([x, y]) => y * ux - x * uy);
    const [u0, u1, v0, v1] = [Math.min(...us), Math.max(...us), Math.min(...vs), Math.max(...vs)];
    const area = (u1 - u0) * (v1 - v0);
    if (area >= best.area) return;
    const at = (u: number, v: number): Point => [u * ux - v * uy, u * uy + v * ux];
    const isAlong = u1 - u0 >= v1 - v0;
    const [u, v] = [(u0 + u1) / 2, (v0 + v1) / 2];
    best = isAlong
      ? { area, from: at(u0, v), to: at(u1, v), depth: v1 - v0 }
      : { area, from: at(u, v0), to: at(u, v1), depth: u1 - u0 };
  });
  const { from, to, depth } = best;
  return { from, to, depth };
}

/** A point inside an outline to stand for it. */
function middleOf(outline: Ring): Point {
  const { minX, minY, maxX, maxY } = computeBox(outline);
  const middle: Point = [(minX + maxX) / 2, (minY + maxY) / 2];
  if (isInRing(outline, ...middle)) return middle;
  for (let i = 1; i < 20; i++) {
    const y = minY + ((maxY - minY) * i) / 20;
    for (let k = 1; k < 20; k++) {
      const x = minX + ((maxX - minX) * k) / 20;
      if (isInRing(outline, x, y)) return [x, y];
    }
  }
  return outline[0] ?? middle;
}
