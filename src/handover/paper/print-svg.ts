/**
 * Makes a drawing fit for the printed page: letters in a face that has them, and the rim of a word as a patch of paper
 * under it, because the printer lays a text's outline over its filling.
 */
import { COLOUR, FONT } from '../plan/paper.ts';
import { element, escapeXml, formatNumber, measureText } from '../plan/svg.ts';
import { FACES, type SplitRuns } from './fonts.ts';

const TEXT = /<text ([^>]*)>([^<]*)<\/text>/g;
const ATTRIBUTE = /([\w-]+)="([^"]*)"/g;

/** Words as `textAt` writes them; the rest of the drawing stays as it is. */
export function toPrintSvg(svg: string, split: SplitRuns): string {
  return svg
    .replace(TEXT, (_, written: string, content: string) =>
      printText(readAttributes(written), unescapeXml(content), split),
    )
    .replaceAll(`font-family="${escapeXml(FONT.working)}"`, `font-family="${FACES.working}"`);
}

function readAttributes(written: string): ReadonlyMap<string, string> {
  return new Map([...written.matchAll(ATTRIBUTE)].map((match) => [match[1] ?? '', unescapeXml(match[2] ?? '')]));
}

function printText(attributes: ReadonlyMap<string, string>, text: string, split: SplitRuns): string {
  const isReading = attributes.get('font-family') === FONT.reading;
  const size = Number(attributes.get('font-size'));
  const [x, y] = [Number(attributes.get('x')), Number(attributes.get('y'))];
  const bold = attributes.has('font-weight');
  const anchor = attributes.get('text-anchor');
  const transform = attributes.get('transform');
  const runs = split(text, isReading ? 'reading' : 'working');
  const patch = attributes.has('paint-order') ? drawPatch(x, y, text, { size, bold }, anchor, transform) : '';
  const spans = runs.map((run) =>
    element('tspan', { 'font-family': FACES[run.face] }, escapeXml(run.text) || '\u00a0'),
  );
  const isPlain = runs.length === 1 && runs[0]?.face === 'working';
  return (
    patch +
    element(
      'text',
      {
        x,
        y,
        'font-size': size,
        'font-family': isPlain ? FACES.working : undefined,
        'font-weight': bold ? 600 : undefined,
        'text-anchor': anchor,
        fill: attributes.get('fill'),
        transform,
      },
      isPlain ? escapeXml(runs[0]?.text ?? '') : spans.join('') || '\u00a0',
    )
  );
}

function drawPatch(
  x: number,
  y: number,
  text: string,
  style: { readonly size: number; readonly bold: boolean },
  anchor: string | undefined,
  transform: string | undefined,
): string {
  const width = measureText(text, style);
  const start = anchor === 'middle' ? -width / 2 : anchor === 'end' ? -width : 0;
  const rim = style.size * 0.12;
  return element('rect', {
    x: x + start - rim,
    y: y - style.size * 0.74 - rim / 2,
    width: width + 2 * rim,
    height: style.size * 0.94 + rim,
    rx: formatNumber(rim),
    fill: COLOUR.paper,
    'fill-opacity': 0.82,
    transform,
  });
}

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };

function unescapeXml(text: string): string {
  return text.replace(/&(amp|lt|gt|quot|#39);/g, (_, name: string) => ENTITIES[name] ?? '');
}
