/** The heat map px by px, for a browser without WebGL: the same textures by cause as the shader draws, on a 2D canvas. */
import { BLIND, type Coverage, type Field, SEEN } from '../../../core/coverage/index.ts';
import type { EditorState } from '../../../editor/store.ts';
import { HATCH, PALETTES } from '../../tokens.ts';
import type { LocalFrame } from '../local-frame.ts';
import { toRgb } from '../paint.ts';
import type { Placing } from './svg-lines.ts';

/** Shades between the ground under the hatch and the red of it. */
const SHADES = 16;
/** Cosine of 30°: rows of dots are so far apart, in their distance. */
const ROW = 0.8660254;
const TURN = 2 * Math.PI;
/** Indices of `CAUSES`. */
const MASKED = 2;
const RANGE = 3;
const HEADINGS = 4;

/** The page, and how much finer than CSS px it is drawn. */
export interface FieldPage {
  readonly width: number;
  readonly height: number;
  readonly dpr: number;
}

/**
 * Draws the field shown over the whole canvas.
 * @param placing CSS px of the scene's origin on the page, and px a metre
 */
export function drawFieldOn(
  canvas: HTMLCanvasElement,
  state: Pick<EditorState, 'coverage' | 'plane' | 'show' | 'theme'>,
  frame: LocalFrame,
  placing: Placing,
  page: FieldPage,
): void {
  const width = Math.max(1, Math.round(page.width * page.dpr));
  const height = Math.max(1, Math.round(page.height * page.dpr));
  if (canvas.width !== width || canvas.height !== height) {
    canvas.width = width;
    canvas.height = height;
  }
  const context = canvas.getContext('2d');
  const { coverage } = state;
  if (context === null) return;
  if (coverage === null) {
    context.clearRect(0, 0, width, height);
    return;
  }
  const image = context.createImageData(width, height);
  const scale = placing.scale * page.dpr;
  const { lattice } = coverage.grid;
  // The lattice on the canvas: px of its corner, px a cell; rows go up.
  const x0 = (placing.x + (lattice.x0 - frame.x) * placing.scale) * page.dpr;
  const y0 = (placing.y - (lattice.y0 - frame.y) * placing.scale) * page.dpr;
  const cell = lattice.cell * scale;
  const columns = Int32Array.from({ length: width }, (_, px) => Math.floor((px + 0.5 - x0) / cell));
  paint(new Uint32Array(image.data.buffer), state, coverage, {
    width,
    height,
    nx: lattice.nx,
    ny: lattice.ny,
    columns,
    rowAt: (py) => Math.floor((y0 - py - 0.5) / cell),
    // Local px of a lens, as the textures count them.
    lensAt: (index) => {
      const lens = coverage.scene.lenses[index];
      return lens === undefined
        ? null
        : [
            (placing.x + (lens.x - frame.x) * placing.scale) * page.dpr,
            (placing.y - (lens.y - frame.y) * placing.scale) * page.dpr,
          ];
    },
    origin: [placing.x * page.dpr, placing.y * page.dpr],
    spacing: HATCH.spacing * page.dpr,
    stroke: HATCH.width * page.dpr,
    dot: (HATCH.dot / 2) * page.dpr,
  });
  context.putImageData(image, 0, 0);
}

interface Ground {
  readonly width: number;
  readonly height: number;
  readonly nx: number;
  readonly ny: number;
  readonly columns: Int32Array;
  readonly rowAt: (py: number) => number;
  readonly lensAt: (index: number) => readonly [number, number] | null;
  readonly origin: readonly [number, number];
  readonly spacing: number;
  readonly stroke: number;
  readonly dot: number;
}

function paint(
  pixels: Uint32Array,
  { plane, show, theme }: Pick<EditorState, 'plane' | 'show' | 'theme'>,
  coverage: Coverage,
  ground: Ground,
): void {
  const field = coverage[plane];
  const { width, height, nx, ny, columns } = ground;
  const palette = PALETTES[theme];
  const shades = listShades(palette.tint, palette.accent);
  const amounts = palette.amounts.map((hex) => pack(toRgb(hex)));
  const red = shades[SHADES] ?? 0;
  const lenses = new Map<number, readonly [number, number] | null>();
  const isSeen = (i: number, j: number): boolean =>
    i >= 0 && j >= 0 && i < nx && j < ny && field.state[j * nx + i] === SEEN;
  for (let py = 0; py < height; py++) {
    const j = ground.rowAt(py);
    if (j < 0 || j >= ny) continue;
    const below = ground.rowAt(py + 1);
    const above = ground.rowAt(py - 1);
    for (let px = 0; px < width; px++) {
      const i = columns[px] ?? -1;
      if (i < 0 || i >= nx) continue;
      const k = j * nx + i;
      const kind = field.state[k];
      if (kind === SEEN) {
        if (show !== 'blind') pixels[py * width + px] = amounts[stepOf(field, show, k)] ?? 0;
        continue;
      }
      if (kind !== BLIND) continue;
      const left = columns[px - 1] ?? i;
      const right = columns[px + 1] ?? i;
      // The edge towards what is seen; towards walls and furniture there is none.
      const isEdge =
        (left !== i && isSeen(left, j)) ||
        (right !== i && isSeen(right, j)) ||
        (below !== j && isSeen(i, below)) ||
        (above !== j && isSeen(i, above));
      if (isEdge) {
        pixels[py * width + px] = red;
        continue;
      }
      const nearest = field.nearest[k] ?? -1;
      let lens = lenses.get(nearest);
      if (lens === undefined) {
        lens = ground.lensAt(nearest);
        lenses.set(nearest, lens);
      }
      const ink = hatchAt(field.cause[k] ?? RANGE, lens, px + 0.5, py + 0.5, ground);
      pixels[py * width + px] = shades[Math.round(ink * SHADES)] ?? 0;
    }
  }
}

function stepOf(field: Field, show: 'count' | 'headings', k: number): number {
  if (show === 'count') return Math.min(5, Math.max(1, field.count[k] ?? 1)) - 1;
  return Math.min(4, Math.max(0, Math.ceil((field.heading?.[k] ?? 0) * 5 - 1e-6) - 1));
}

/** Share of red at a px, as the shader has it. */
function hatchAt(
  cause: number,
  lens: readonly [number, number] | null,
  x: number,
  y: number,
  { spacing, stroke, dot, origin }: Ground,
): number {
  if (cause === RANGE || lens === null) {
    const u = (x - origin[0]) / spacing;
    const v = (origin[1] - y) / (spacing * ROW);
    const row = Math.floor(v);
    const dx = (u + 0.5 * (((row % 2) + 2) % 2) - Math.floor(u + 0.5 * (((row % 2) + 2) % 2)) - 0.5) * spacing;
    const dy = (v - row - 0.5) * spacing * ROW;
    return bound(dot - Math.hypot(dx, dy) + 0.5);
  }
  const dx = x - lens[0];
  const dy = lens[1] - y;
  const r = Math.max(1e-3, Math.hypot(dx, dy));
  if (cause === MASKED) return cover(Math.abs(fraction(r / spacing + 0.5) - 0.5) * spacing, stroke);
  const turns = Math.atan2(dy, dx) / TURN + 0.5;
  const octave = Math.max(0, Math.log2((TURN * r) / spacing));
  const count = 2 ** Math.floor(octave);
  const ink = cover(lineAt(turns, count, r), stroke);
  if (cause === HEADINGS) {
    const lane = Math.floor(turns * count + 0.5);
    const run = fraction(r / (2 * spacing) + 0.5 * (((lane % 2) + 2) % 2));
    return ink * bound((0.24 - Math.abs(run - 0.5)) * 2 * spacing + 0.5);
  }
  const taper = bound((fraction(octave) - HATCH.octaveStart) / HATCH.octaveSpan);
  return Math.max(ink, cover(lineAt(turns, 2 * count, r), stroke * taper));
}

function lineAt(turns: number, count: number, r: number): number {
  return (Math.abs(fraction(turns * count + 0.5) - 0.5) / count) * TURN * r;
}

function cover(distance: number, width: number): number {
  return bound(0.5 * width - distance + 0.5) * bound(width);
}

function fraction(value: number): number {
  return value - Math.floor(value);
}

function bound(value: number): number {
  return Math.min(1, Math.max(0, value));
}

function listShades(from: string, to: string): readonly number[] {
  const [a, b] = [toRgb(from), toRgb(to)];
  return Array.from({ length: SHADES + 1 }, (_, i) => {
    const share = i / SHADES;
    return pack([0, 1, 2].map((k) => (a[k] ?? 0) + ((b[k] ?? 0) - (a[k] ?? 0)) * share));
  });
}

/** Opaque, as a canvas holds it: red in the lowest byte. */
function pack([r = 0, g = 0, b = 0]: readonly number[]): number {
  const byte = (value: number): number => Math.round(value * 255);
  return ((255 << 24) | (byte(b) << 16) | (byte(g) << 8) | byte(r)) >>> 0;
}
