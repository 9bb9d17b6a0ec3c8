/**
 * Makes a drawing fit for the printed page: letters in a face that has them, and the rim of a word as a patch of paper
 * under it, because the printer lays a text's outline over its filling.
 */

import { rectOf } from '../plan/labels.ts';
import { COLOUR, FONT } from '../plan/paper.ts';
import { element, escapeXml, formatNumber } from '../plan/svg.ts';
import { FACES, type SplitRuns } from './fonts.ts';

const TEXTS = /(?:<text [^>]*>[^<]*<\/text>\s*)+/g;
const TEXT = /<text ([^>]*)>([^<]*)<\/text>/g;
const ATTRIBUTE = /([\w-]+)="([^"]*)"/g;

/** Words as `textAt` writes them; the rest of the drawing stays as it is. */
export function toPrintSvg(svg: string, split: SplitRuns): string {
  return svg
    .replace(TEXTS, (texts) => printTexts(texts, split))
    .replaceAll(`font-family="${escapeXml(FONT.working)}"`, `font-family="${FACES.working}"`);
}

/** Words one after another: their patches are one shape under all of them. */
function printTexts(texts: string, split: SplitRuns): string {
  let patches = '';
  let words = '';
  for (const [, written = '', content = ''] of texts.matchAll(TEXT)) {
    const attributes = readAttributes(written);
    const text = unescapeXml(content);
    if (attributes.has('paint-order')) patches += patchUnder(text, attributes);
    words += printText(text, attributes, split);
  }
  return (patches === '' ? '' : element('path', { d: patches, fill: COLOUR.paper, 'fill-opacity': 0.82 })) + words;
}

function readAttributes(written: string): ReadonlyMap<string, string> {
  return new Map([...written.matchAll(ATTRIBUTE)].map((match) => [match[1] ?? '', unescapeXml(match[2] ?? '')]));
}

function printText(text: string, attributes: ReadonlyMap<string, string>, split: SplitRuns): string {
  const isReading = attributes.get('font-family') === FONT.reading;
  const runs = split(text, isReading ? 'reading' : 'working');
  const isPlain = runs.length <= 1 && runs[0]?.face === 'working';
  const spans = runs.map((run) => element('tspan', { 'font-family': FACES[run.face] }, escapeXml(run.text)));
  return element(
    'text',
    {
      x: attributes.get('x'),
      y: attributes.get('y'),
      'font-size': attributes.get('font-size'),
      'font-family': isPlain ? FACES.working : undefined,
      'font-weight': attributes.get('font-weight'),
      'text-anchor': attributes.get('text-anchor'),
      fill: attributes.get('fill'),
      transform: attributes.get('transform'),
    },
    isPlain ? escapeXml(runs[0]?.text ?? '') : spans.join('') || '\u00a0',
  );
}

/** The box around a word, a little larger than it. */
function patchUnder(text: string, attributes: ReadonlyMap<string, string>): string {
  const size = Number(attributes.get('font-size'));
  const turn = attributes.has('transform') ? -90 : undefined;
  const rect = rectOf(
    text,
    { x: Number(attributes.get('x')), y: Number(attributes.get('y')) },
    {
      size,
      bold: attributes.has('font-weight'),
      anchor: (attributes.get('text-anchor') ?? 'start') as 'start' | 'middle' | 'end',
      ...(turn === undefined ? {} : { turn }),
    },
  );
  const rim = size * 0.1;
  return `M${formatNumber(rect.x0 - rim)} ${formatNumber(rect.y0 - rim / 2)}H${formatNumber(rect.x1 + rim)}V${formatNumber(rect.y1 + rim / 2)}H${formatNumber(rect.x0 - rim)}Z`;
}

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };

function unescapeXml(text: string): string {
  return text.replace(/&(amp|lt|gt|quot|#39);/g, (_, name: string) => ENTITIES[name] ?? '');
}
