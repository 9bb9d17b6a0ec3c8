/** The palette as numbers a shader reads: sRGB 0 to 1, never linearised, so that a hex value comes out as it went in. */
import type { Theme } from '../../editor/store.ts';
import { mixColours, PALETTES, type Palette } from '../tokens.ts';

export type Rgb = readonly [number, number, number];

/** Places in the palette uniform; a vertex names its colour by one of these. */
export const COLOUR = {
  paper: 0,
  ink: 1,
  ink2: 2,
  ink3: 3,
  hair: 4,
  accent: 5,
  onAccent: 6,
  surround: 7,
  tint: 8,
} as const;

const NAMES = Object.keys(COLOUR) as (keyof typeof COLOUR & keyof Palette)[];
export const COLOUR_COUNT = NAMES.length;

/** Steps of the ramp from paper to ink; between them a shader mixes linearly, which no eye can tell from OKLab. */
export const RAMP_STEPS = 17;

/** sRGB hex `#RRGGBB` as three numbers 0 to 1. */
export function toRgb(hex: string): Rgb {
  const value = Number.parseInt(hex.slice(1), 16);
  return [((value >> 16) & 255) / 255, ((value >> 8) & 255) / 255, (value & 255) / 255];
}

/** Every colour of the palette, flat, in the order of `COLOUR`. */
export function listColours(theme: Theme): number[] {
  return NAMES.flatMap((name) => [...toRgb(PALETTES[theme][name])]);
}

/** Paper to ink in equal OKLab steps, flat: what a share of ink looks like. */
export function listRamp(theme: Theme): number[] {
  const { paper, ink } = PALETTES[theme];
  return Array.from({ length: RAMP_STEPS }, (_, i) => i / (RAMP_STEPS - 1)).flatMap((share) => [
    ...toRgb(mixColours(paper, ink, share)),
  ]);
}

/** The five amount colours, flat, 1 first. */
export function listAmounts(theme: Theme): number[] {
  return PALETTES[theme].amounts.flatMap((hex) => [...toRgb(hex)]);
}
