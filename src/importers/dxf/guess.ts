/** What every layer and block holds: by its name, else by what is drawn on it. */
import type { DxfAnswers } from './answers.ts';
import { type Block, type Drawing, keyOf } from './drawing.ts';
import { arcsOf, type Expanded, type Shape, type Use } from './expand.ts';
import { classOfName, type DxfClass } from './names.ts';
import { scaleOf } from './plane.ts';

/** Counts of what lies on one layer. Lengths in metres. */
export interface LayerFigures {
  readonly name: string;
  readonly hidden: boolean;
  paths: number;
  closed: number;
  /** Closed outlines as large as a room. */
  large: number;
  swings: number;
  words: number;
  hatches: number;
  /** Metres of line. */
  length: number;
  minX: number;
  minY: number;
  maxX: number;
  maxY: number;
}

export interface Guess {
  readonly class: DxfClass;
  /** How it was found. */
  readonly because: 'answer' | 'name' | 'shape' | 'layer' | 'hidden' | 'nothing';
}

/** A room is at least this large, m². */
const ROOM_AREA = 3;
/** Pieces of furniture and doors are no longer than this, metres: what is longer groups several. */
const PIECE_LENGTH = 6;

export function measureLayers(drawing: Drawing, shapes: readonly Shape[], metres: number): Map<string, LayerFigures> {
  const layers = new Map<string, LayerFigures>();
  for (const shape of shapes) {
    const key = keyOf(shape.layer);
    let figures = layers.get(key);
    if (figures === undefined) {
      const stated = drawing.layers.get(key);
      figures = {
        name: stated?.name ?? shape.layer,
        hidden: stated?.hidden ?? false,
        paths: 0,
        closed: 0,
        large: 0,
        swings: 0,
        words: 0,
        hatches: 0,
        length: 0,
        minX: Number.POSITIVE_INFINITY,
        minY: Number.POSITIVE_INFINITY,
        maxX: Number.NEGATIVE_INFINITY,
        maxY: Number.NEGATIVE_INFINITY,
      };
      layers.set(key, figures);
    }
    addShape(figures, shape, metres);
  }
  return layers;
}

function addShape(figures: LayerFigures, { drawn, points, use }: Shape, metres: number): void {
  if (drawn.kind === 'words') {
    figures.words++;
    return;
  }
  if (drawn.entity === 'HATCH') {
    figures.hatches++;
    return;
  }
  figures.paths++;
  let twice = 0;
  const [ox, oy] = [points[0] ?? 0, points[1] ?? 0];
  for (let i = 0; i < points.length; i += 2) {
    const x = points[i] as number;
    const y = points[i + 1] as number;
    if (x < figures.minX) figures.minX = x;
    if (x > figures.maxX) figures.maxX = x;
    if (y < figures.minY) figures.minY = y;
    if (y > figures.maxY) figures.maxY = y;
    if (i === 0) continue;
    const px = points[i - 2] as number;
    const py = points[i - 1] as number;
    figures.length += Math.hypot(x - px, y - py) * metres;
    twice += (px - ox) * (y - oy) - (x - ox) * (py - oy);
  }
  if (drawn.closed) figures.closed++;
  if (drawn.closed && (Math.abs(twice) / 2) * metres * metres >= ROOM_AREA) figures.large++;
  if (isSwing(arcsOf({ drawn, points, use, layer: '' }), metres)) figures.swings++;
}

/** Whether one of some arcs can be the swing of a door: about a quarter, of the radius of a leaf. */
function isSwing(arcs: readonly number[], metres: number): boolean {
  for (let i = 0; i + 5 < arcs.length; i += 6)
    if (swingRadius(arcs, i) * metres > 0.5 && swingRadius(arcs, i) * metres < 1.5) return true;
  return false;
}

/** The radius of the arc at position `i` of a list when it spans about a quarter, else 0. */
export function swingRadius(arcs: readonly number[], i: number): number {
  const cx = arcs[i] as number;
  const cy = arcs[i + 1] as number;
  const ax = (arcs[i + 2] as number) - cx;
  const ay = (arcs[i + 3] as number) - cy;
  const bx = (arcs[i + 4] as number) - cx;
  const by = (arcs[i + 5] as number) - cy;
  const radius = Math.hypot(ax, ay);
  if (!(radius > 0) || Math.abs(Math.hypot(bx, by) / radius - 1) > 0.03) return 0;
  // Swings are drawn at 90°, sometimes at 45° or 30°.
  const cosine = (ax * bx + ay * by) / (radius * radius);
  return cosine < 0.9 && cosine > -0.3 ? radius : 0;
}

export function guessLayers(
  layers: ReadonlyMap<string, LayerFigures>,
  answers: Partial<DxfAnswers>,
): Map<string, Guess> {
  const answered = byKey(answers.layers);
  const guesses = new Map<string, Guess>();
  for (const [key, figures] of layers) {
    const answer = answered.get(key);
    const named = classOfName(figures.name);
    if (answer !== undefined) guesses.set(key, { class: answer, because: 'answer' });
    else if (figures.hidden) guesses.set(key, { class: 'ignore', because: 'hidden' });
    else if (named !== null && named !== 'contents') guesses.set(key, { class: named, because: 'name' });
  }
  const has = (...kinds: readonly DxfClass[]): boolean =>
    [...guesses.values()].some((guess) => guess.because !== 'hidden' && kinds.includes(guess.class));
  const rest = [...layers].filter(([key]) => !guesses.has(key));
  const guessShape = (key: string, kind: DxfClass): void => {
    guesses.set(key, { class: kind, because: 'shape' });
  };
  for (const [key, figures] of rest) {
    if (figures.words > 0 && figures.words >= 4 * figures.paths) guessShape(key, 'room name');
    else if (figures.swings > 0 && figures.swings * 4 >= figures.paths) guessShape(key, 'door');
  }
  const open = () => rest.filter(([key, figures]) => !guesses.has(key) && figures.paths > 0);
  if (!has('room', 'wall')) {
    for (const [key, figures] of open())
      if (figures.large > 0 && figures.closed * 2 >= figures.paths) guessShape(key, 'room');
  }
  if (!has('room', 'wall')) {
    const longest = open().sort((a, b) => b[1].length - a[1].length)[0];
    if (longest !== undefined)
      guessShape(longest[0], longest[1].paths === longest[1].closed && longest[1].paths < 3 ? 'room' : 'wall');
  }
  for (const [key] of layers) if (!guesses.has(key)) guesses.set(key, { class: 'ignore', because: 'nothing' });
  return guesses;
}

/** A block's own size, drawing units, along its own axes. */
export interface BlockFigures {
  readonly block: Block;
  uses: number;
  minX: number;
  minY: number;
  maxX: number;
  maxY: number;
  swing: boolean;
  /** Longest side of its largest use, metres. */
  long: number;
  short: number;
  /** Layers its uses lie on. */
  readonly layers: Map<string, number>;
}

/** Measures every block by its first use. */
export function measureBlocks({ shapes, uses }: Expanded, metres: number): Map<string, BlockFigures> {
  const blocks = new Map<string, BlockFigures>();
  for (const use of uses) {
    const key = keyOf(use.block.name);
    let figures = blocks.get(key);
    if (figures === undefined) {
      figures = {
        block: use.block,
        uses: 0,
        ...boxOfUse(shapes, use),
        swing: false,
        long: 0,
        short: 0,
        layers: new Map(),
      };
      for (let i = use.from; i < use.to && !figures.swing; i++)
        figures.swing = isSwing(arcsOf(shapes[i] as Shape), metres);
      blocks.set(key, figures);
    }
    figures.uses++;
    figures.layers.set(keyOf(use.layer), (figures.layers.get(keyOf(use.layer)) ?? 0) + 1);
    const scale = scaleOf(use.map) * metres;
    const sides = [(figures.maxX - figures.minX) * scale, (figures.maxY - figures.minY) * scale];
    figures.long = Math.max(figures.long, ...sides.filter(Number.isFinite), 0);
    figures.short = Math.max(figures.short, Math.min(...sides));
  }
  return blocks;
}

/** The box of a use's paths along the block's own axes. */
export function boxOfUse(shapes: readonly Shape[], use: Use) {
  const { a, b, c, d, e, f } = use.map;
  const size = a * d - b * c;
  let [minX, minY, maxX, maxY] = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  for (let s = use.from; s < use.to; s++) {
    const { drawn, points } = shapes[s] as Shape;
    if (drawn.kind === 'words') continue;
    for (let i = 0; i < points.length; i += 2) {
      const x = (points[i] as number) - e;
      const y = (points[i + 1] as number) - f;
      const u = (d * x - c * y) / size;
      const v = (a * y - b * x) / size;
      if (u < minX) minX = u;
      if (u > maxX) maxX = u;
      if (v < minY) minY = v;
      if (v > maxY) maxY = v;
    }
  }
  return { minX, minY, maxX, maxY };
}

/** Classes that a use of a block as a whole can be. */
const WHOLE: ReadonlySet<DxfClass> = new Set<DxfClass>([
  'door',
  'window',
  'opening',
  'desk',
  'chair',
  'cabinet',
  'shelving',
  'screen',
  'partition',
  'column',
  'hanging',
  'furniture',
  'luminaire',
  'heater',
  'air outlet',
]);

export function guessBlocks(
  blocks: ReadonlyMap<string, BlockFigures>,
  layers: ReadonlyMap<string, Guess>,
  answers: Partial<DxfAnswers>,
): Map<string, Guess> {
  const answered = byKey(answers.blocks);
  const guesses = new Map<string, Guess>();
  for (const [key, figures] of blocks)
    guesses.set(key, guessBlock(figures, answered.get(keyOf(figures.block.title)) ?? answered.get(key), layers));
  return guesses;
}

function guessBlock(figures: BlockFigures, answer: DxfClass | undefined, layers: ReadonlyMap<string, Guess>): Guess {
  if (answer !== undefined) return { class: answer, because: 'answer' };
  const named = figures.block.title.startsWith('*') ? null : classOfName(figures.block.title);
  const onLayers = [...figures.layers].sort((a, b) => b[1] - a[1]).map(([layer]) => layers.get(layer));
  const onLayer = onLayers[0];
  // A group of things that have names of their own.
  const isGroup = figures.block.entities.some((entity) => {
    const inner = entity.kind === 'insert' ? classOfName(entity.block) : null;
    return inner !== null && WHOLE.has(inner);
  });
  if (isGroup && (named === null || named === 'furniture')) return { class: 'contents', because: 'shape' };
  if (figures.long > PIECE_LENGTH) return { class: 'contents', because: named === null ? 'nothing' : 'shape' };
  if (named !== null && WHOLE.has(named)) return { class: named, because: 'name' };
  if (figures.swing && figures.long < 3 && named === null) return { class: 'door', because: 'shape' };
  if (onLayer !== undefined && onLayer.because !== 'nothing' && WHOLE.has(onLayer.class))
    return { class: onLayer.class, because: 'layer' };
  if (named === 'ignore') return { class: 'ignore', because: 'name' };
  return { class: 'contents', because: 'nothing' };
}

function byKey(record: Readonly<Record<string, DxfClass>> | undefined): Map<string, DxfClass> {
  return new Map(Object.entries(record ?? {}).map(([name, kind]) => [keyOf(name), kind]));
}
