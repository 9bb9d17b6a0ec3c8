/** The drawing's shapes in metres, sorted by what they are: loose lines of a class, whole uses of blocks, words. */
import type { Point, Ring } from '../../core/floor/index.ts';
import { keyOf } from './drawing.ts';
import { arcsOf, type Expanded, keyOfShape, type Shape, type Use, widthOf } from './expand.ts';
import { boxOfUse, type Guess } from './guess.ts';
import type { DxfClass } from './names.ts';
import { applyX, applyY } from './plane.ts';
import type { Remarks } from './remarks.ts';
import type { robustBox } from './units.ts';

/** One path. Points flat, metres, the origin taken off. */
export interface Item {
  readonly key: string;
  readonly entity: string;
  readonly layer: string;
  readonly class: DxfClass;
  readonly points: readonly number[];
  readonly closed: boolean;
  readonly arcs: readonly number[];
  readonly width: number;
}

/** A use of a block as one thing. */
export interface Thing {
  readonly key: string;
  readonly name: string;
  readonly class: DxfClass;
  readonly standing: 'read' | 'guessed';
  /** Its box along its own axes, counter-clockwise. */
  readonly box: Ring;
  readonly center: Point;
  /** Lengths of the box along its own axes, and the direction of the first in degrees. */
  readonly size: readonly [number, number];
  readonly turn: number;
  readonly items: readonly Item[];
}

export interface Label {
  readonly key: string;
  readonly text: string;
  readonly at: Point;
  readonly size: number;
  /** Lies on a layer for room names. */
  readonly meant: boolean;
}

export interface Sorted {
  readonly items: ReadonlyMap<DxfClass, readonly Item[]>;
  /** Lines of layers whose names say nothing: swings of doors may be among them. */
  readonly unnamed: readonly Item[];
  readonly things: readonly Thing[];
  readonly labels: readonly Label[];
  readonly origin: Point;
}

/** Farther from the rest of the drawing than this, nothing belongs to the floor. Metres. */
const FAR = 5000;
/** Drawings nearer to their zero than this keep it. Metres. */
const NEAR = 1000;

export function sortShapes(
  expanded: Expanded,
  layers: ReadonlyMap<string, Guess>,
  blocks: ReadonlyMap<string, Guess>,
  metres: number,
  box: ReturnType<typeof robustBox>,
  remarks: Remarks,
): Sorted {
  const origin = chooseOrigin(box, metres);
  const scaled = (points: readonly number[]): number[] => {
    const list = new Array<number>(points.length);
    for (let i = 0; i < points.length; i += 2) {
      // The origin goes off before the scale goes on: both are exact to the last digit of the drawing.
      list[i] = ((points[i] as number) - origin.x) * metres;
      list[i + 1] = ((points[i + 1] as number) - origin.y) * metres;
    }
    return list;
  };
  const isNear = (points: readonly number[]): boolean => {
    for (let i = 0; i < points.length; i++) if (!(Math.abs(points[i] as number) < FAR)) return false;
    return true;
  };

  const items = new Map<DxfClass, Item[]>();
  const unnamed: Item[] = [];
  const labels: Label[] = [];
  const things: Thing[] = [];
  const wholes = findWholes(expanded.uses, layers, blocks);
  const hidden = new Map<string, number>();

  const toItem = (shape: Shape, kind: DxfClass): Item | null => {
    const { drawn } = shape;
    if (drawn.kind !== 'path') return null;
    const points = scaled(shape.points);
    if (!isNear(points)) {
      remarks.add(
        'left out',
        'entities far off',
        `they lie more than ${FAR / 1000} km from the rest of the drawing, or nowhere at all`,
        {
          key: keyOfShape(shape),
          name: drawn.entity,
          at: null,
        },
      );
      return null;
    }
    const arcs = scaled(arcsOf(shape));
    const { entity, closed } = drawn;
    return {
      key: keyOfShape(shape),
      entity,
      layer: shape.layer,
      class: kind,
      points,
      closed,
      arcs,
      width: widthOf(shape) * metres,
    };
  };

  for (const shape of expanded.shapes) {
    const layer = layers.get(keyOf(shape.layer));
    const whole = shape.use === null ? null : (wholes.get(shape.use) ?? null);
    if (whole !== null && shape.drawn.kind === 'path') continue;
    if (layer?.because === 'hidden' || (shape.use !== null && isUnderHidden(shape.use, layers))) {
      hidden.set(shape.layer, (hidden.get(shape.layer) ?? 0) + 1);
      continue;
    }
    if (whole !== null && whole !== 'ignored' && shape.drawn.kind === 'words') continue;
    if (whole === 'ignored' || layer === undefined) continue;
    if (shape.drawn.kind === 'words') {
      if (layer.class === 'ignore' && layer.because !== 'nothing') continue;
      const [x, y] = scaled(shape.points);
      if (x === undefined || y === undefined || !isNear([x, y])) continue;
      const meant = layer.class === 'room name' && layer.because !== 'shape';
      labels.push({
        key: keyOfShape(shape),
        text: shape.drawn.text,
        at: [x, y],
        size: shape.drawn.size * metres,
        meant,
      });
      continue;
    }
    if (layer.class === 'ignore' && layer.because !== 'nothing') continue;
    const item = toItem(shape, layer.class);
    if (item === null) continue;
    if (layer.class === 'ignore') unnamed.push(item);
    else {
      const list = items.get(layer.class);
      if (list === undefined) items.set(layer.class, [item]);
      else list.push(item);
    }
  }
  for (const [use, whole] of wholes) {
    if (whole !== use || isUnderHidden(use, layers)) continue;
    const guess = blocks.get(keyOf(use.block.name));
    if (guess === undefined || guess.class === 'ignore') continue;
    const thing = toThing(use, guess, expanded.shapes, scaled, toItem);
    if (thing !== null && isNear(thing.box.flat())) things.push(thing);
  }
  for (const [layer, count] of hidden)
    remarks.add(
      'left out',
      'entities on hidden layers',
      `layer ${JSON.stringify(layer)} is off or frozen; say what it holds to have it read`,
      undefined,
      count,
    );
  return { items, unnamed, things, labels, origin: [origin.x * metres, origin.y * metres] };
}

/** The use that each use belongs to as one thing: itself, one around it, `ignored`, or null. */
function findWholes(
  uses: readonly Use[],
  layers: ReadonlyMap<string, Guess>,
  blocks: ReadonlyMap<string, Guess>,
): Map<Use, Use | 'ignored' | null> {
  const wholes = new Map<Use, Use | 'ignored' | null>();
  for (const use of uses) {
    const around = use.parent === null ? null : (wholes.get(use.parent) ?? null);
    const kind = blocks.get(keyOf(use.block.name))?.class ?? 'contents';
    const layer = layers.get(keyOf(use.layer));
    // A block on a layer that somebody left out goes with it, as long as nobody named the block.
    const isLeftOut =
      layer?.class === 'ignore' &&
      layer.because === 'answer' &&
      blocks.get(keyOf(use.block.name))?.because !== 'answer';
    const own = kind === 'ignore' || isLeftOut ? 'ignored' : isWhole(kind) ? use : null;
    wholes.set(use, around ?? own);
  }
  return wholes;
}

function isWhole(kind: DxfClass): boolean {
  return !['contents', 'wall', 'room', 'obstacle', 'room name', 'ignore'].includes(kind);
}

function isUnderHidden(use: Use, layers: ReadonlyMap<string, Guess>): boolean {
  for (let at: Use | null = use; at !== null; at = at.parent)
    if (layers.get(keyOf(at.layer))?.because === 'hidden') return true;
  return false;
}

function toThing(
  use: Use,
  guess: Guess,
  shapes: readonly Shape[],
  scaled: (points: readonly number[]) => number[],
  toItem: (shape: Shape, kind: DxfClass) => Item | null,
): Thing | null {
  const { minX, minY, maxX, maxY } = boxOfUse(shapes, use);
  if (!(maxX >= minX) || !(maxY >= minY)) return null;
  const corner = (x: number, y: number): number[] => [applyX(use.map, x, y), applyY(use.map, x, y)];
  const flat = scaled([...corner(minX, minY), ...corner(maxX, minY), ...corner(maxX, maxY), ...corner(minX, maxY)]);
  const at = (i: number): Point => [flat[2 * i] as number, flat[2 * i + 1] as number];
  const corners: Point[] = [at(0), at(1), at(2), at(3)];
  const isMirrored = use.map.a * use.map.d - use.map.b * use.map.c < 0;
  const box: Ring = isMirrored ? [at(1), at(0), at(3), at(2)] : corners;
  const [a, b, , d] = corners as [Point, Point, Point, Point];
  const items: Item[] = [];
  for (let i = use.from; i < use.to; i++) {
    const item = toItem(shapes[i] as Shape, guess.class);
    if (item !== null) items.push(item);
  }
  return {
    key: use.key,
    name: use.block.title.replace(/^.*\$\d+\$/, ''),
    class: guess.class,
    standing: guess.because === 'answer' ? 'read' : 'guessed',
    box,
    center: [(at(0)[0] + at(2)[0]) / 2, (at(0)[1] + at(2)[1]) / 2],
    size: [Math.hypot(b[0] - a[0], b[1] - a[1]), Math.hypot(d[0] - a[0], d[1] - a[1])],
    turn: ((Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI + 360) % 360,
    items,
  };
}

/** What is taken off every coordinate, drawing units: nothing for drawings near their zero, else a round corner near them. */
function chooseOrigin(
  { minX, minY, maxX, maxY }: ReturnType<typeof robustBox>,
  metres: number,
): { x: number; y: number } {
  const reach = Math.max(...[minX, minY, maxX, maxY].map(Math.abs)) * metres;
  if (!(reach > NEAR)) return { x: 0, y: 0 };
  const step = 10 / metres;
  return { x: Math.floor(minX / step) * step, y: Math.floor(minY / step) * step };
}
