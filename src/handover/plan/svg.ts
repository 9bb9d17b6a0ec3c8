/** SVG as text. Names are text and never markup: everything from a file passes `escapeXml`. */
import { COLOUR, FONT } from './paper.ts';

/** Attributes of an element; numbers are rounded to 0.01 mm, undefined ones left out. */
type Attributes = Readonly<Record<string, string | number | undefined>>;

/** A number to 0.01 without an exponent, a trailing zero or a minus before 0. */
export function formatNumber(value: number): string {
  const rounded = Math.round(value * 100) / 100;
  return Object.is(rounded, -0) ? '0' : String(rounded);
}

/** Characters XML 1.0 does not allow, and what turns the direction of writing around it. */
const FORBIDDEN =
  /[^\t\n\r\u{20}-\u{d7ff}\u{e000}-\u{fffd}\u{10000}-\u{10ffff}]|[\t\n\r\u007f-\u009f\u2028\u2029\ufeff\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\u{e0000}-\u{e007f}]/gu;
const RIGHT_TO_LEFT = /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\u{10800}-\u{10fff}\u{1e800}-\u{1efff}]/u;

/** Text of a file made fit to stand in a line of text: without controls; what is written right to left stands isolated. */
export function cleanText(text: string): string {
  const clean = text.replace(FORBIDDEN, ' ').trim();
  return RIGHT_TO_LEFT.test(clean) ? `\u2068${clean}\u2069` : clean;
}

/** Text as XML content or attribute value. */
export function escapeXml(text: string): string {
  return text.replace(/[&<>"']/g, (character) => ENTITIES[character] ?? character);
}

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** An element with what stands in it, already as SVG. */
export function element(name: string, attributes: Attributes, content = ''): string {
  const written = Object.entries(attributes)
    .map(([key, value]) =>
      value === undefined ? '' : ` ${key}="${typeof value === 'number' ? formatNumber(value) : escapeXml(value)}"`,
    )
    .join('');
  return content === '' ? `<${name}${written}/>` : `<${name}${written}>${content}</${name}>`;
}

/** A place on the sheet, mm from its top left. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

/** Path data of a line through points; `closed` for an outline. */
export function pathOf(points: readonly Spot[], closed: boolean): string {
  const steps = points.map(({ x, y }, k) => `${k === 0 ? 'M' : 'L'}${formatNumber(x)} ${formatNumber(y)}`);
  return steps.join('') + (closed ? 'Z' : '');
}

export interface TextStyle {
  /** mm */
  readonly size: number;
  readonly font?: 'working' | 'reading';
  readonly bold?: boolean;
  readonly fill?: string;
  readonly anchor?: 'start' | 'middle' | 'end';
  /** Degrees clockwise about the place. */
  readonly turn?: number;
  /** A rim in paper, so that the text can be read over lines. */
  readonly rim?: boolean;
}

/** A line of text; `text` is cleaned and escaped here. `at` is on its base line. */
export function textAt(at: Spot, text: string, style: TextStyle): string {
  const { size, font = 'working', bold, fill = COLOUR.ink, anchor = 'start', turn, rim } = style;
  return element(
    'text',
    {
      x: at.x,
      y: at.y,
      'font-size': size,
      'font-family': font === 'working' ? undefined : FONT[font],
      'font-weight': bold === true ? 600 : undefined,
      'text-anchor': anchor === 'start' ? undefined : anchor,
      fill: fill === COLOUR.ink ? undefined : fill,
      transform:
        turn === undefined ? undefined : `rotate(${formatNumber(turn)} ${formatNumber(at.x)} ${formatNumber(at.y)})`,
      ...(rim === true
        ? { stroke: COLOUR.paper, 'stroke-width': size * 0.32, 'stroke-linejoin': 'round', 'paint-order': 'stroke' }
        : {}),
    },
    escapeXml(cleanText(text)) || '\u00a0',
  );
}

/** Advance widths of the printable ASCII of Source Sans 3, hundredths of the type size. */
const ADVANCES =
  '20 29 43 50 50 82 61 25 30 30 42 50 25 31 25 35 50 50 50 50 50 50 50 50 50 50 25 25 50 50 50 43 85 54 59 57 62 53 49 62 65 26 48 58 49 73 65 66 57 66 57 53 54 65 52 79 51 48 54 30 35 30 50 50 54 50 55 46 56 50 29 50 54 25 25 50 26 83 55 54 56 56 35 42 34 54 47 72 45 47 43 30 24 30 50'
    .split(' ')
    .map((hundredths) => Number(hundredths) / 100);
/** The reading face and the bold cut run wider by this. */
const WIDER = { reading: 1.14, bold: 1.04 } as const;

/** Width of a line of text, mm, near enough to lay it out: other letters than ASCII count as 0.58, East Asian ones as 1. */
export function measureText(text: string, style: Pick<TextStyle, 'size' | 'font' | 'bold'>): number {
  let width = 0;
  for (const letter of cleanText(text)) {
    const code = letter.codePointAt(0) ?? 0;
    width +=
      ADVANCES[letter === '\u00a0' ? 0 : code - 32] ?? (code >= 0x1100 && !RIGHT_TO_LEFT.test(letter) ? 1 : 0.58);
  }
  return width * style.size * (style.font === 'reading' ? WIDER.reading : 1) * (style.bold === true ? WIDER.bold : 1);
}

/** Breaks a text at spaces into lines no wider than `width` mm. */
export function wrapToWidth(text: string, width: number, style: Pick<TextStyle, 'size' | 'font' | 'bold'>): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && measureText(longer, style) > width) {
      lines.push(line);
      line = word;
    } else {
      line = longer;
    }
  }
  return [...lines, line];
}

/** Cuts a text at so many mm; what was cut is marked by `…`. */
export function cutToWidth(text: string, width: number, style: Pick<TextStyle, 'size' | 'font' | 'bold'>): string {
  if (measureText(text, style) <= width) return text;
  let kept = '';
  for (const letter of text) {
    if (measureText(`${kept}${letter}…`, style) > width) break;
    kept += letter;
  }
  return `${kept}…`;
}
