/**
 * What a hand can snap to on a floor: edges and marks (corners, middles, places), each list of the floor packed into
 * trees of boxes. A list that an edit left alone keeps its trees, so an edit costs what it changed.
 */
import type { Floor, Point, Ring } from '../../core/floor/index.ts';
import { type BoxIndex, createBoxIndex } from '../../core/geometry/box-index.ts';
import { type Box, computeBox } from '../../core/geometry/polygon.ts';
import { along, rectangleAbout } from '../edits/plane.ts';
import type { ThingKind } from '../things.ts';

/** The thing an edge or mark is of. */
export interface SnapOwner {
  readonly id: string;
  readonly name: string;
  readonly kind: ThingKind;
}

/** A corner of an outline, an end of an opening, the middle of an outline's box, or the place of a thing that has one. */
export type MarkKind = 'corner' | 'centre' | 'place';

export type EdgeVisit = (a: Point, b: Point, owner: SnapOwner) => void;
export type MarkVisit = (at: Point, kind: MarkKind, owner: SnapOwner) => void;

export interface SnapIndex {
  /** Every edge whose box meets the asked one. */
  visitEdges(box: Box, visit: EdgeVisit): void;
  visitMarks(box: Box, visit: MarkVisit): void;
}

interface Layer {
  readonly edges: readonly { readonly a: Point; readonly b: Point; readonly owner: SnapOwner }[];
  readonly marks: readonly { readonly at: Point; readonly kind: MarkKind; readonly owner: SnapOwner }[];
  readonly edgeIndex: BoxIndex;
  readonly markIndex: BoxIndex;
}

interface Shape {
  readonly owner: SnapOwner;
  readonly rings: readonly Ring[];
  /** Open lines: the two ends of an opening. */
  readonly line?: readonly [Point, Point];
  readonly place?: Point;
}

const layers = new WeakMap<readonly object[], Layer>();
const indices = new WeakMap<Floor, SnapIndex>();

/** The index of a resolved floor; asked again it is the same. Built in n log n of the edges of the lists that changed. */
export function getSnapIndex(floor: Floor): SnapIndex {
  let index = indices.get(floor);
  if (index === undefined) {
    index = combine(listLayers(floor));
    indices.set(floor, index);
  }
  return index;
}

function combine(parts: readonly Layer[]): SnapIndex {
  return {
    visitEdges(box, visit) {
      for (const { edges, edgeIndex } of parts) {
        edgeIndex.query(box, (item) => {
          const edge = edges[item];
          if (edge !== undefined) visit(edge.a, edge.b, edge.owner);
          return false;
        });
      }
    },
    visitMarks(box, visit) {
      for (const { marks, markIndex } of parts) {
        markIndex.query(box, (item) => {
          const mark = marks[item];
          if (mark !== undefined) visit(mark.at, mark.kind, mark.owner);
          return false;
        });
      }
    },
  };
}

function listLayers(floor: Floor): readonly Layer[] {
  const named = (kind: ThingKind, { id, name }: { readonly id: string; readonly name: string }): SnapOwner => ({
    id,
    name: name === '' ? id : name,
    kind,
  });
  const at = (kind: ThingKind) => (each: { readonly id: string; readonly name: string; readonly at: Point }) => ({
    owner: named(kind, each),
    rings: [],
    place: each.at,
  });
  return [
    layerOf(floor.rooms, (room) => ({ owner: named('room', room), rings: [room.outline, ...room.holes] })),
    layerOf(floor.openings, (opening) => ({
      owner: { id: opening.id, name: `the ${opening.kind}`, kind: 'opening' },
      rings: [],
      line: [opening.from, opening.to],
    })),
    layerOf(floor.furniture, (piece) => ({ owner: named('furniture', piece), rings: [piece.outline] })),
    layerOf(floor.zones, (zone) => ({ owner: named('zone', zone), rings: [zone.outline] })),
    layerOf(floor.luminaires, (each) => ({
      owner: named('luminaire', each),
      rings: [rectangleAbout(each.at, along(each.turn), each.size[0], each.size[1])],
    })),
    layerOf(floor.workplaces, at('workplace')),
    layerOf(floor.sources, at('source')),
    layerOf(floor.detectors, at('detector')),
  ];
}

function layerOf<Item extends object>(list: readonly Item[], shapeOf: (item: Item) => Shape): Layer {
  let layer = layers.get(list);
  if (layer === undefined) {
    layer = buildLayer(list.map(shapeOf));
    layers.set(list, layer);
  }
  return layer;
}

function buildLayer(shapes: readonly Shape[]): Layer {
  const edges: Layer['edges'][number][] = [];
  const marks: Layer['marks'][number][] = [];
  for (const { owner, rings, line, place } of shapes) {
    for (const ring of rings) {
      ring.forEach((a, i) => {
        edges.push({ a, b: ring[(i + 1) % ring.length] ?? a, owner });
        marks.push({ at: a, kind: 'corner', owner });
      });
    }
    // The middle of a room is not where anything of it stands; its centre lines have a rule of their own.
    const outline = owner.kind === 'room' ? undefined : rings[0];
    if (outline !== undefined) {
      const { minX, minY, maxX, maxY } = computeBox(outline);
      marks.push({ at: [(minX + maxX) / 2, (minY + maxY) / 2], kind: 'centre', owner });
    }
    if (line !== undefined) {
      edges.push({ a: line[0], b: line[1], owner });
      for (const end of line) marks.push({ at: end, kind: 'corner', owner });
    }
    if (place !== undefined) marks.push({ at: place, kind: 'place', owner });
  }
  return {
    edges,
    marks,
    edgeIndex: createBoxIndex(edges.map(({ a, b }) => computeBox([a, b]))),
    markIndex: createBoxIndex(marks.map(({ at }) => computeBox([at]))),
  };
}
