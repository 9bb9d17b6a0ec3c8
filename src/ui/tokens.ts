/** The look as numbers: one source for the panels (as CSS variables) and for the scene (as values). Colours are sRGB hex. */
import type { Theme } from '../editor/store.ts';

export interface Palette {
  /** Everything outside the rooms. */
  readonly surround: string;
  /** The floor of a room; the ground of every drawing. */
  readonly paper: string;
  /** What lies over the page: the palette, a question. */
  readonly sheet: string;
  readonly ink: string;
  readonly ink2: string;
  /** Outlines of controls and drawn lines that carry meaning; never text. */
  readonly ink3: string;
  readonly hair: string;
  /** Blind, and nothing else. */
  readonly accent: string;
  readonly onAccent: string;
  /** Ground under the blind hatch. */
  readonly tint: string;
  readonly selected: string;
  /** Seen by 1, 2, 3, 4, 5 or more; also the five steps of the share of headings. */
  readonly amounts: readonly [string, string, string, string, string];
  /** Share of ink in the tone of a thing of height h under ceiling c: base + span * (h / c) ** 2.2. */
  readonly tone: { readonly base: number; readonly span: number };
}

export const PALETTES: Readonly<Record<Theme, Palette>> = {
  light: {
    surround: '#E9ECEE',
    paper: '#FFFFFF',
    sheet: '#FFFFFF',
    ink: '#15202A',
    ink2: '#4A5863',
    ink3: '#77858F',
    hair: '#C9D0D5',
    accent: '#BE2A0A',
    onAccent: '#FFFFFF',
    tint: '#FCEDEA',
    selected: '#EAEBEC',
    amounts: ['#A9B8CF', '#C3C6CE', '#D7D6D2', '#EBE7D0', '#FEF9CD'],
    tone: { base: 0.03, span: 0.85 },
  },
  dark: {
    surround: '#0F1519',
    paper: '#1A2329',
    sheet: '#232D34',
    ink: '#E8EEF1',
    ink2: '#A7B4BC',
    ink3: '#73828C',
    hair: '#36424A',
    accent: '#FF8A66',
    onAccent: '#1A0D08',
    tint: '#353032',
    selected: '#283137',
    amounts: ['#132842', '#2F3743', '#434848', '#595A45', '#6E6D3F'],
    tone: { base: 0.03, span: 0.72 },
  },
};

export const FONT = {
  reading: "'Source Serif 4 Variable', Georgia, 'Liberation Serif', serif",
  working: "'Source Sans 3 Variable', system-ui, 'Segoe UI', 'Liberation Sans', sans-serif",
} as const;

/** Line widths in CSS px at 1440 px; `wallOuter` and `wallInner` in metres. */
export const LINE = {
  hair: 1,
  drawing: 1.25,
  furniture: 1.1,
  range: 1.5,
  sight: 1.5,
  mask: 2,
  focus: 2,
  bracket: 2,
  blindOutline: 1.25,
  wallOuter: 0.24,
  wallInner: 0.1,
} as const;

/** Line style is motion: lengths of dash and gap in CSS px, empty: solid. */
export const DASH = {
  minor: [],
  radial: [9, 5],
  tangential: [2, 4],
  sightHidden: [2, 5],
  before: [3, 3],
} as const satisfies Record<string, readonly number[]>;

/** Texture is cause: CSS px at the current zoom. */
export const HATCH = { spacing: 7, width: 1.25, dot: 2.2, octaveStart: 0.28, octaveSpan: 0.5 } as const;

export const TARGET = { desktop: 28, phone: 48, handleDrawn: 11, handleHit: 28 } as const;

/** Milliseconds; all 0 with reduced motion. */
export const MOTION = { quick: 120, move: 240, camera: 600, ease: 'cubic-bezier(.2, 0, 0, 1)' } as const;

type Rgb = readonly [number, number, number];

function toLinear(hex: string): Rgb {
  const channel = (at: number): number => {
    const value = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  return [channel(1), channel(3), channel(5)];
}

function toHex(linear: Rgb): string {
  const channels = linear.map((value) => {
    const clipped = Math.min(1, Math.max(0, value));
    const encoded = clipped <= 0.0031308 ? clipped * 12.92 : 1.055 * clipped ** (1 / 2.4) - 0.055;
    return Math.round(encoded * 255)
      .toString(16)
      .padStart(2, '0');
  });
  return `#${channels.join('')}`;
}

function toOklab([r, g, b]: Rgb): Rgb {
  const l = Math.cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const m = Math.cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const s = Math.cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return [
    0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
    1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
    0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
  ];
}

function fromOklab([lightness, a, b]: Rgb): Rgb {
  const l = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (lightness - 0.0894841775 * a - 1.291485548 * b) ** 3;
  return [
    4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
    -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
    -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s,
  ];
}

/** Mixes two colours in OKLab; `share` 0 gives the first, 1 the second. */
export function mixColours(first: string, second: string, share: number): string {
  const a = toOklab(toLinear(first));
  const b = toOklab(toLinear(second));
  return toHex(fromOklab([a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share, a[2] + (b[2] - a[2]) * share]));
}

/** Tone is height: the taller under its ceiling (both metres), the denser. */
export function toneOf(theme: Theme, height: number, ceiling: number): string {
  const { paper, ink, tone } = PALETTES[theme];
  const reach = Math.min(1, Math.max(0, height / ceiling));
  return mixColours(paper, ink, tone.base + tone.span * reach ** 2.2);
}

/** The palette as CSS variables for the root element's style. */
export function cssVariables(theme: Theme): Readonly<Record<string, string>> {
  const { amounts, tone: _, ...colours } = PALETTES[theme];
  const entries = Object.entries(colours).map(([name, value]) => [`--${name}`, value] as const);
  const steps = amounts.map((value, i) => [`--amount-${i + 1}`, value] as const);
  return Object.fromEntries([
    ...entries,
    ...steps,
    ['--reading', FONT.reading],
    ['--working', FONT.working],
    ['color-scheme', theme],
  ]);
}
