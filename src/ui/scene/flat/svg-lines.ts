/** The scene's lines and signs as SVG: what a shader draws from the numbers of a batch is drawn here from the same numbers. */
import type { Object3D } from 'three';
import type { Theme } from '../../../editor/store.ts';
import { PALETTES, type Palette } from '../../tokens.ts';
import type { InstanceBatch } from '../geometry/instance-batch.ts';
import { LineBatch } from '../geometry/line-batch.ts';
import { MarkBatch } from '../geometry/mark-batch.ts';
import { sizeOfSign } from '../materials/mark-material.ts';
import { COLOUR } from '../paint.ts';
import { createSvg } from './create-svg.ts';
import { drawSign } from './svg-signs.ts';

const NAMES = Object.keys(COLOUR) as (keyof typeof COLOUR & keyof Palette)[];

/** Hex colours by their places in the palette. */
function listHexColours(theme: Theme): readonly string[] {
  return NAMES.map((name) => PALETTES[theme][name] as string);
}

/** How a place of the scene lies on the page: CSS px of its origin, and px a metre. */
export interface Placing {
  readonly x: number;
  readonly y: number;
  readonly scale: number;
}

export class SvgLines {
  readonly element = createSvg('g');
  private readonly drawn = new Map<
    InstanceBatch,
    { readonly group: SVGElement; version: number; theme: Theme; placing: Placing | null }
  >();

  /** Draws what of the scene is visible, in its order. Lines lie in metres and only move; signs have their size in px. */
  draw(root: Object3D, theme: Theme, placing: Placing): void {
    const batches: InstanceBatch[] = [];
    root.traverseVisible(({ userData }) => {
      const { batch } = userData;
      if (batch instanceof LineBatch || batch instanceof MarkBatch) batches.push(batch);
    });
    batches.sort((a, b) => a.mesh.renderOrder - b.mesh.renderOrder);
    const colours = listHexColours(theme);
    for (const batch of batches) {
      let entry = this.drawn.get(batch);
      if (entry === undefined) {
        entry = { group: createSvg('g'), version: -1, theme, placing: null };
        this.drawn.set(batch, entry);
      }
      const isSame = entry.version === batch.version && entry.theme === theme;
      if (batch instanceof MarkBatch) {
        if (!isSame || entry.placing !== placing) entry.group.replaceChildren(...drawMarks(batch, colours, placing));
      } else {
        if (!isSame) entry.group.replaceChildren(...drawLines(batch, colours));
        entry.group.setAttribute('transform', `translate(${placing.x} ${placing.y}) scale(${placing.scale})`);
      }
      Object.assign(entry, { version: batch.version, theme, placing });
    }
    const groups = batches.flatMap((batch) => this.drawn.get(batch)?.group ?? []);
    const isOrdered =
      groups.length === this.element.childNodes.length &&
      groups.every((each, i) => this.element.childNodes[i] === each);
    if (!isOrdered) this.element.replaceChildren(...groups);
  }
}

/** One path for all segments of a look; those that go on from one another are one line, so that dashes run on. */
function drawLines({ numbers, stride, length }: InstanceBatch, colours: readonly string[]): SVGElement[] {
  const paths = new Map<string, { d: string[]; x: number; y: number }>();
  for (let at = 0; at < length * stride; at += stride) {
    const width = numbers[at + 6] ?? 0;
    if (width === 0) continue;
    const look = [width, numbers[at + 7], numbers[at + 8], numbers[at + 9], numbers[at + 11]].join(' ');
    let path = paths.get(look);
    if (path === undefined) {
      path = { d: [], x: Number.NaN, y: Number.NaN };
      paths.set(look, path);
    }
    const [ax = 0, ay = 0, bx = 0, by = 0] = [numbers[at], numbers[at + 1], numbers[at + 3], numbers[at + 4]];
    if (ax !== path.x || ay !== path.y) path.d.push(`M${tidy(ax)} ${tidy(-ay)}`);
    path.d.push(`L${tidy(bx)} ${tidy(-by)}`);
    path.x = bx;
    path.y = by;
  }
  return [...paths].map(([look, { d }]) => {
    const [width = 1, colour = 0, dash = 0, gap = 0, alpha = 1] = look.split(' ').map(Number);
    return createSvg('path', {
      d: d.join(''),
      fill: 'none',
      stroke: colours[colour] ?? '',
      'stroke-width': width,
      'stroke-opacity': alpha,
      'vector-effect': 'non-scaling-stroke',
      ...(dash > 0 ? { 'stroke-dasharray': `${dash} ${gap}` } : {}),
    });
  });
}

function drawMarks(
  { numbers, stride, length }: InstanceBatch,
  colours: readonly string[],
  { x, y, scale }: Placing,
): SVGElement[] {
  const signs: SVGElement[] = [];
  for (let at = 0; at < length * stride; at += stride) {
    const [cx = 0, cy = 0, , glyph = 0, px = 0, metres = 0, turn = 0, colour = 0, alpha = 1, width = 1] =
      numbers.subarray(at, at + stride);
    const size = sizeOfSign(glyph, scale);
    const look = {
      glyph,
      radius: Math.max(px, (metres * scale) / size),
      width,
      turn,
      own: colours[colour] ?? '',
      colours,
    };
    const sign = createSvg('g', {
      transform: `translate(${tidy(x + cx * scale)} ${tidy(y - cy * scale)}) scale(${size})`,
      opacity: alpha,
    });
    sign.append(...drawSign(look));
    signs.push(sign);
  }
  return signs;
}

/** Tenths of a millimetre, and of a thousandth of a px. */
function tidy(value: number): number {
  return Math.round(value * 1e4) / 1e4;
}
