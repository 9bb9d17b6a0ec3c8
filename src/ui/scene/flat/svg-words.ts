/** Names and numbers on the floor as SVG text. What comes from a file is text and nothing else. */
import { FONT } from '../../tokens.ts';
import type { CameraRig } from '../camera/camera-rig.ts';
import type { Label } from '../labels/floor-labels.ts';
import { createSvg } from './create-svg.ts';
import type { Placing } from './svg-lines.ts';

const LINE_HEIGHT = 1.22;
const CASING = 3;
const LONGEST = 60;
/** More words than these are not told apart. */
const MOST = 600;

/** The words that are near enough to be written and on the page. */
export function drawWords(
  labels: Iterable<Label>,
  { x, y, scale }: Placing,
  screen: CameraRig['screen'],
): SVGElement[] {
  const words: SVGElement[] = [];
  for (const { text, place } of labels) {
    if (place.from > scale || words.length >= MOST) continue;
    const px = x + place.x * scale + place.dx;
    const py = y - place.y * scale - place.dy;
    if (px < -80 || py < -40 || px > screen.width + 80 || py > screen.height + 40) continue;
    const height = text.lines.reduce((sum, line) => sum + line.size * LINE_HEIGHT, 0);
    const group = createSvg('g', {
      transform: `translate(${Math.round(px)} ${Math.round(py)}) rotate(${(-place.turn * 180) / Math.PI})`,
      'text-anchor': place.anchorX === 0 ? 'start' : place.anchorX === 1 ? 'end' : 'middle',
    });
    let top = -height * (1 - place.anchorY);
    for (const line of text.lines) {
      const word = createSvg('text', {
        y: Math.round(top + line.size * 0.92),
        'font-size': line.size,
        'font-weight': line.weight,
        'font-family': FONT.working,
        fill: line.colour,
        ...(text.casing === null
          ? {}
          : { stroke: text.casing, 'stroke-width': CASING, 'stroke-linejoin': 'round', 'paint-order': 'stroke' }),
      });
      word.textContent = line.text.length > LONGEST ? `${line.text.slice(0, LONGEST - 1)}…` : line.text;
      group.append(word);
      top += line.size * LINE_HEIGHT;
    }
    words.push(group);
  }
  return words;
}
