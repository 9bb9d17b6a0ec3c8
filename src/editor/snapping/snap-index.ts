/**
 * What a hand can snap to on a floor: edges and marks (corners, middles, places), each list of the floor packed into a
 * tree of boxes. A list that an edit left alone keeps its tree, so an edit costs what it changed.
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
  /** Every edge that meets the box, and some that lie beside it. */
  visitEdges(box: Box, visit: EdgeVisit): void;
  /** Every mark in the box, and some that lie beside it. */
  visitMarks(box: Box, visit: MarkVisit): void;
}

interface Shape {
  readonly owner: SnapOwner;
  readonly rings: readonly Ring[];
  /** An open line: an opening from side to side. */
  readonly line?: readonly [Point, Point];
  readonly place?: Point;
}

/** One leaf of the tree: a small thing whole, or one edge of a large outline with the corner it starts from. */
interface Leaf {
  readonly owner: SnapOwner;
  readonly corners: readonly Point[];
  readonly isClosed: boolean;
  readonly marks: readonly { readonly at: Point; readonly kind: MarkKind }[];
  readonly box: Box;
}

interface Layer {
  readonly leaves: readonly Leaf[];
  readonly index: BoxIndex;
}

/** Outlines of more corners than this are cut into their edges, so that a query near one end skips the other. */
const SMALL = 8;

const layers = new WeakMap<readonly object[], Layer>();
const leavesByItem = new WeakMap<object, readonly Leaf[]>();
const indices = new WeakMap<Floor, SnapIndex>();

/** The index of a resolved floor; asked again it is the same. */
export function getSnapIndex(floor: Floor): SnapIndex {
  let index = indices.get(floor);
  if (index === undefined) {
    index = combine(listLayers(floor));
    indices.set(floor, index);
  }
  return index;
}

function combine(parts: readonly Layer[]): SnapIndex {
  const visitLeaves = (box: Box, visit: (leaf: Leaf) => void): void => {
    for (const { leaves, index } of parts) {
      index.query(box, (item) => {
        const leaf = leaves[item];
        if (leaf !== undefined) visit(leaf);
        return false;
      });
    }
  };
  return {
    visitEdges(box, visit) {
      visitLeaves(box, ({ corners, isClosed, owner }) => {
        for (let i = isClosed ? 0 : 1; i < corners.length; i += 1) {
          const a = corners[i === 0 ? corners.length - 1 : i - 1];
          const b = corners[i];
          if (a !== undefined && b !== undefined) visit(a, b, owner);
        }
      });
    },
    visitMarks(box, visit) {
      visitLeaves(box, ({ marks, owner }) => {
        for (const { at, kind } of marks) visit(at, kind, owner);
      });
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
    const leaves = list.flatMap((item) => leavesOf(item, shapeOf));
    layer = { leaves, index: createBoxIndex(leaves.map(({ box }) => box)) };
    layers.set(list, layer);
  }
  return layer;
}

function leavesOf<Item extends object>(item: Item, shapeOf: (item: Item) => Shape): readonly Leaf[] {
  let leaves = leavesByItem.get(item);
  if (leaves === undefined) {
    leaves = listLeaves(shapeOf(item));
    leavesByItem.set(item, leaves);
  }
  return leaves;
}

function listLeaves({ owner, rings, line, place }: Shape): readonly Leaf[] {
  const leaves: Leaf[] = [];
  const add = (corners: readonly Point[], isClosed: boolean, marks: Leaf['marks']): void => {
    const box = computeBox(corners.length > 0 ? corners : marks.map(({ at }) => at));
    leaves.push({ owner, corners, isClosed, marks, box });
  };
  const corner = (at: Point) => ({ at, kind: 'corner' as const });
  for (const ring of rings) {
    // The middle of a room is not where anything of it stands; its centre lines have a rule of their own.
    const middle = owner.kind === 'room' ? [] : [{ at: middleOf(ring), kind: 'centre' as const }];
    if (ring.length <= SMALL) {
      add(ring, true, [...ring.map(corner), ...middle]);
      continue;
    }
    ring.forEach((a, i) => {
      add([a, ring[(i + 1) % ring.length] ?? a], false, [corner(a)]);
    });
    if (middle.length > 0) add([], false, middle);
  }
  if (line !== undefined) add(line, false, line.map(corner));
  if (place !== undefined) add([], false, [{ at: place, kind: 'place' }]);
  return leaves;
}

function middleOf(ring: Ring): Point {
  const { minX, minY, maxX, maxY } = computeBox(ring);
  return [(minX + maxX) / 2, (minY + maxY) / 2];
}
