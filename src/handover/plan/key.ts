/** What stands around the plan: the key with its areas, the marks, scale bar and north. */
import type { Areas } from '../../core/coverage/index.ts';
import type { Floor } from '../../core/floor/index.ts';
import { drawDetector } from './detectors-layer.ts';
import { HEADING_STEPS, type Show, type Texture } from './field-layer.ts';
import { AMOUNTS, COLOUR, DASH, HATCH, LINE, toneOf } from './paper.ts';
import { element, formatNumber, measureText, pathOf, type Spot, textAt } from './svg.ts';
import { highestCeiling } from './things-layer.ts';
import { formatArea } from './words.ts';

const SIZE = 2.3;
const KEY_LINE = 5;
const SWATCH = { width: 6, height: 3 } as const;
const GAP = 5;

/** One entry of the key: a mark of a given width, drawn from its left on the line's middle, then words. */
export interface Entry {
  readonly width: number;
  readonly draw: (spot: Spot) => string;
  readonly label: string;
  readonly value?: string;
}

/** Entries set in rows no wider than the sheet. `height` is of all rows, mm. */
export interface KeyBlock {
  readonly svg: string;
  readonly height: number;
}

/** The key of the field: what it shows, with the area of each. */
export function writeFieldKey(
  plane: 'seated' | 'walking',
  height: number,
  show: Show,
  areas: Areas,
  spot: Spot,
  width: number,
): KeyBlock {
  const m2 = (value: number) => `${formatArea(value)} m²`;
  const plain = (fill: string) => (at: Spot) => swatch(at, fill);
  const amounts: Entry[] =
    show === 'blind'
      ? [{ width: SWATCH.width, draw: plain(COLOUR.paper), label: 'seen', value: m2(areas.seenM2) }]
      : show === 'count'
        ? AMOUNTS.map((fill, step) => ({
            width: SWATCH.width,
            draw: plain(fill),
            label: step === 4 ? 'by 5 or more' : `by ${step + 1}`,
            value: m2(areas.byCount[step] ?? 0),
          }))
        : [
            ...AMOUNTS.map((fill, step) => ({ width: SWATCH.width, draw: plain(fill), label: labelStep(step) })),
            { width: 0, draw: () => '', label: 'every heading', value: m2(areas.everyHeadingM2) },
          ];
  const causes: readonly (readonly [Texture, string, number])[] = [
    ['hidden', 'hidden', areas.hiddenM2],
    ['masked', 'masked', areas.maskedM2],
    ['range', 'out of range', areas.rangeM2],
    ['headings', 'for too few headings', areas.headingsM2],
  ];
  const blind = causes
    .filter(([, , area]) => area > 0)
    .map(([texture, label, area]) => ({
      width: SWATCH.width,
      draw: (at: Spot) => textureSwatch(at, texture),
      label,
      value: m2(area),
    }));
  const title = `${show === 'blind' ? 'Blind' : show === 'count' ? 'Seen by how many' : 'Headings seen'}, ${plane} at ${height.toFixed(2)} m`;
  const head: Entry = { width: 0, draw: () => '', label: '', value: title };
  return layEntries(show === 'blind' ? [head, ...blind, ...amounts] : [head, ...amounts, ...blind], spot, width);
}

function labelStep(step: number): string {
  const next = HEADING_STEPS[step + 1];
  return next === undefined ? `over ${(HEADING_STEPS[step] ?? 0) * 100} %` : `to ${next * 100} %`;
}

/** The key of the marks that stand on this floor. */
export function writeMarkKey(
  floor: Floor,
  withRanges: boolean,
  hasUnmet: boolean,
  spot: Spot,
  width: number,
): KeyBlock {
  const mains = new Set(floor.groups.map((group) => group.main));
  const mark = (isMain: boolean, status: 'new' | 'remove') => (at: Spot) =>
    drawDetector({ x: at.x + 1.9, y: at.y }, isMain, status);
  const line = (dash: string, isRound: boolean) => (at: Spot) =>
    element('path', {
      d: pathOf([at, { x: at.x + 8, y: at.y }], false),
      stroke: COLOUR.ink,
      'stroke-width': LINE.range,
      'stroke-dasharray': dash || undefined,
      'stroke-linecap': isRound ? 'round' : undefined,
    });
  const ring = (stroke: string, weight: number, extra: (at: Spot) => string) => (at: Spot) =>
    element('circle', { cx: at.x + 1.6, cy: at.y, r: 1.6, fill: 'none', stroke, 'stroke-width': weight }) + extra(at);
  const cross = (at: Spot) =>
    element('path', {
      d: `M${formatNumber(at.x + 0.9)} ${formatNumber(at.y - 0.7)}l1.4 1.4m-1.4 0l1.4 -1.4`,
      stroke: COLOUR.blind,
      'stroke-width': LINE.strong,
    });
  const plus = (at: Spot) =>
    element('path', {
      d: `M${formatNumber(at.x + 1)} ${formatNumber(at.y)}h1.2m-0.6 -0.6v1.2`,
      stroke: COLOUR.ink,
      'stroke-width': LINE.drawing,
    });
  const has = (isThere: boolean, entry: Entry): Entry[] => (isThere ? [entry] : []);
  const tops = [...new Set(floor.furniture.filter((piece) => !piece.glass).map((piece) => piece.top))].sort(
    (a, b) => a - b,
  );
  const shown =
    tops.length > 5 ? [0, 0.25, 0.5, 0.75, 1].map((part) => tops[Math.round(part * (tops.length - 1))] ?? 0) : tops;
  const ceiling = highestCeiling(floor);
  return layEntries(
    [
      ...has(mains.size > 0, { width: 3.8, draw: mark(true, 'new'), label: 'main detector' }),
      ...has(
        floor.detectors.some((each) => !mains.has(each.id) && each.status !== 'remove'),
        { width: 3.3, draw: mark(false, 'new'), label: mains.size > 0 ? 'extension' : 'detector' },
      ),
      ...has(
        floor.detectors.some((each) => each.status === 'remove'),
        { width: 3.8, draw: mark(false, 'remove'), label: 'to be removed' },
      ),
      ...has(floor.workplaces.length > 0, {
        width: 3.2,
        draw: ring(COLOUR.ink2, LINE.thin, () => ''),
        label: 'workplace met',
      }),
      ...has(hasUnmet, { width: 3.2, draw: ring(COLOUR.blind, LINE.strong, cross), label: 'not met, share seen' }),
      ...has(floor.sources.length > 0, { width: 3.2, draw: ring(COLOUR.ink, LINE.thin, plus), label: 'source' }),
      ...has(
        floor.detectors.some((each) => each.masks.length > 0),
        { width: 4.5, draw: drawSectorSwatch, label: 'mask' },
      ),
      ...has(withRanges, { width: 8, draw: line(DASH.minor, false), label: 'small movements, seated' }),
      ...has(withRanges, { width: 8, draw: line(DASH.radial, false), label: 'walking at it' }),
      ...has(withRanges, { width: 8, draw: line(DASH.tangential, true), label: 'walking past' }),
      ...has(
        floor.furniture.some((piece) => piece.glass),
        { width: SWATCH.width, draw: glassSwatch, label: 'glass: it hides too' },
      ),
      ...shown.map((top, k) => ({
        width: 4.5,
        draw: (at: Spot) =>
          element('rect', {
            x: at.x,
            y: at.y - 1.5,
            width: 4.5,
            height: 3,
            fill: toneOf(top, ceiling),
            stroke: COLOUR.ink3,
            'stroke-width': LINE.thin,
          }),
        label: `${k === 0 ? 'top at ' : ''}${top.toFixed(2)} m`,
      })),
    ],
    spot,
    width,
  );
}

/** Sets entries in rows from a spot on. */
export function layEntries(entries: readonly Entry[], { x, y }: Spot, width: number): KeyBlock {
  let svg = '';
  let left = x;
  let middle = y + KEY_LINE / 2;
  for (const entry of entries) {
    const label = { size: SIZE, fill: COLOUR.ink2 };
    const value = { size: SIZE, bold: true };
    const labelX = entry.width + (entry.width > 0 ? 1.3 : 0);
    const valueX = labelX + (entry.label === '' ? 0 : measureText(entry.label, label) + 1.2);
    const end = valueX + (entry.value === undefined ? -1.2 : measureText(entry.value, value));
    if (left > x && left + end > x + width) {
      left = x;
      middle += KEY_LINE;
    }
    const base = middle + SIZE * 0.36;
    svg += entry.draw({ x: left, y: middle });
    if (entry.label !== '') svg += textAt({ x: left + labelX, y: base }, entry.label, label);
    if (entry.value !== undefined) svg += textAt({ x: left + valueX, y: base }, entry.value, value);
    left += end + GAP;
  }
  return { svg, height: entries.length === 0 ? 0 : middle + KEY_LINE / 2 - y };
}

function swatch({ x, y }: Spot, fill: string): string {
  return element('rect', {
    x,
    y: y - SWATCH.height / 2,
    width: SWATCH.width,
    height: SWATCH.height,
    fill,
    stroke: COLOUR.ink3,
    'stroke-width': LINE.thin,
  });
}

function textureSwatch({ x, y }: Spot, texture: Texture): string {
  const top = y - SWATCH.height / 2;
  const box = { x, y: top, width: SWATCH.width, height: SWATCH.height };
  const line = { fill: 'none', stroke: COLOUR.blind, 'stroke-width': HATCH.width };
  const bottom = top + SWATCH.height;
  let marks = '';
  switch (texture) {
    case 'hidden':
    case 'headings':
      for (let k = 0; k < 4; k++)
        marks += pathOf(
          [
            { x: x + 0.3 + k * 1.6, y: bottom },
            { x: x + 0.9 + k * 1.6, y: top },
          ],
          false,
        );
      break;
    case 'masked':
      for (let k = 0; k < 4; k++)
        marks += `M${formatNumber(x + k * 1.6)} ${formatNumber(top)}Q${formatNumber(x + 1.2 + k * 1.6)} ${formatNumber(y)} ${formatNumber(x + k * 1.6)} ${formatNumber(bottom)}`;
      break;
    case 'range':
      for (let k = 0; k < 7; k++)
        marks += `M${formatNumber(x + 0.6 + k * 0.8)} ${formatNumber(k % 2 === 0 ? y - 0.6 : y + 0.6)}h0`;
  }
  return [
    element('rect', { ...box, fill: COLOUR.tint }),
    element('path', {
      d: marks,
      ...line,
      'stroke-width': texture === 'range' ? HATCH.dot : HATCH.width,
      'stroke-linecap': texture === 'range' ? 'round' : undefined,
      'stroke-dasharray': texture === 'headings' ? '1 0.5' : undefined,
    }),
    element('rect', { ...box, fill: 'none', stroke: COLOUR.blind, 'stroke-width': LINE.drawing }),
  ].join('');
}

export function drawSectorSwatch({ x, y }: Spot): string {
  return element('path', {
    d: `M${formatNumber(x)} ${formatNumber(y + 1.4)}L${formatNumber(x + 4.3)} ${formatNumber(y + 0.6)}A4.4 4.4 0 0 0 ${formatNumber(x + 2.6)} ${formatNumber(y - 1.8)}Z`,
    fill: COLOUR.ink,
    'fill-opacity': 0.07,
    stroke: COLOUR.ink,
    'stroke-width': LINE.drawing,
  });
}

function glassSwatch(at: Spot): string {
  const strokes = [2.4, 3.4]
    .map((shift) =>
      pathOf(
        [
          { x: at.x + shift - 0.6, y: at.y + 0.9 },
          { x: at.x + shift + 0.6, y: at.y - 0.9 },
        ],
        false,
      ),
    )
    .join('');
  return swatch(at, 'none') + element('path', { d: strokes, stroke: COLOUR.ink, 'stroke-width': LINE.thin });
}

/** A bar of whole metres at least 30 mm long, its first metre cut into tenths of its length. */
export function drawScaleBar({ x, y }: Spot, scale: number): string {
  const metre = 1000 / scale;
  const metres = [1, 2, 5, 10, 20].find((each) => each * metre >= 30) ?? 50;
  const ticks = [0, metres / 5, metres]
    .map((at) => `M${formatNumber(x + at * metre)} ${formatNumber(y - 1.6)}v1.6`)
    .join('');
  return [
    element('path', {
      d: `M${formatNumber(x)} ${formatNumber(y)}h${formatNumber(metres * metre)}${ticks}`,
      fill: 'none',
      stroke: COLOUR.ink,
      'stroke-width': LINE.drawing,
    }),
    textAt({ x: x + metres * metre + 1.5, y }, `${metres} m`, { size: SIZE }),
    textAt({ x: x + metres * metre + 12, y }, `1:${scale}`, { size: SIZE, fill: COLOUR.ink2 }),
  ].join('');
}

/** A ring with a needle to north. @param north degrees counter-clockwise from +x */
export function drawNorth({ x, y }: Spot, north: number): string {
  const angle = (north * Math.PI) / 180;
  const on = (radius: number, turn: number): Spot => ({
    x: x + radius * Math.cos(angle + turn),
    y: y - radius * Math.sin(angle + turn),
  });
  const letter = on(5.4, 0);
  return [
    element('circle', { cx: x, cy: y, r: 3.4, fill: 'none', stroke: COLOUR.ink3, 'stroke-width': LINE.thin }),
    element('path', {
      d: pathOf([on(3.4, 0), on(1.1, (2 * Math.PI) / 3), on(0.3, Math.PI), on(1.1, (-2 * Math.PI) / 3)], true),
      fill: COLOUR.ink,
    }),
    textAt({ x: letter.x, y: letter.y + SIZE * 0.36 }, 'N', { size: SIZE, bold: true, anchor: 'middle' }),
  ].join('');
}
