/** Colours, type and line weights of a drawing on paper: the light theme, in millimetres. */

export const COLOUR = {
  paper: '#FFFFFF',
  ink: '#15202A',
  ink2: '#4A5863',
  ink3: '#77858F',
  hair: '#C9D0D5',
  /** Blind, and nothing else. */
  blind: '#BE2A0A',
  /** Ground under the blind hatch. */
  tint: '#FCEDEA',
  /** Walls: the tone of what reaches the ceiling. */
  wall: '#2C3740',
} as const;

/** Five steps of cividis, mixed with the paper: least first. */
export const AMOUNTS = ['#A9B8CF', '#C3C6CE', '#D7D6D2', '#EBE7D0', '#FEF9CD'] as const;

export const FONT = {
  working: "'Source Sans 3','Source Sans 3 Variable','Segoe UI','Liberation Sans','DejaVu Sans',sans-serif",
  reading: "'Source Serif 4','Source Serif 4 Variable',Georgia,'Liberation Serif','DejaVu Serif',serif",
} as const;

/** Line weights, mm. */
export const LINE = { hair: 0.13, thin: 0.18, drawing: 0.25, range: 0.3, strong: 0.4 } as const;

/** Motion is line style: small movements solid, walking at it long dash, walking past dots. Millimetres. */
export const DASH = { minor: '', radial: '2.4 1.3', tangential: '0.01 0.9' } as const;

/** Hatch of blind places, mm. */
export const HATCH = { spacing: 1.6, width: 0.25, dot: 0.5 } as const;

/**
 * Tone of a piece: the taller, the denser. Paper mixed with ink in OKLab by 0.03 + 0.85 (top / ceiling)^2.2.
 * @param top metres
 * @param ceiling metres, above 0
 */
export function toneOf(top: number, ceiling: number): string {
  const part = 0.03 + 0.85 * Math.min(1, Math.max(0, top / ceiling)) ** 2.2;
  const paper = toOklab(COLOUR.paper);
  const ink = toOklab(COLOUR.ink);
  return toHex(paper.map((value, k) => value + ((ink[k] ?? 0) - value) * part));
}

/** sRGB as `#RRGGBB` to OKLab (Ottosson 2020). */
function toOklab(hex: string): readonly number[] {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const value = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  });
  const l = Math.cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const m = Math.cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const s = Math.cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return [
    0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
    1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
    0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
  ];
}

function toHex([lightness = 0, a = 0, b = 0]: readonly number[]): string {
  const l = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (lightness - 0.0894841775 * a - 1.291485548 * b) ** 3;
  const linear = [
    4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
    -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
    -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s,
  ];
  const channels = linear.map((value) => {
    const encoded = value <= 0.0031308 ? 12.92 * value : 1.055 * value ** (1 / 2.4) - 0.055;
    return Math.round(Math.min(1, Math.max(0, encoded)) * 255);
  });
  return `#${channels.map((value) => value.toString(16).padStart(2, '0')).join('')}`.toUpperCase();
}
