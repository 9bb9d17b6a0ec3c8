/** A floor in one HTML file that opens from disk without a network: the page comes built, the floor is put into it. */
import type { Floor } from '../../core/floor/index.ts';
import { cleanText, escapeXml } from '../plan/svg.ts';

const PLACE = '<script type="application/json" id="floor">null</script>';
const TITLE = '<title>Lacuna</title>';

/**
 * Puts a floor into the built page.
 * @throws Error when the page is another than the one this was written for
 */
export function writeSharePage(page: string, floor: Floor): string {
  const [before, after, ...more] = page.split(PLACE);
  if (before === undefined || after === undefined || more.length > 0) {
    throw new Error('The page to be shared has no place for a floor: build it anew.');
  }
  // In a script element nothing but its own end is read: with no "<" there can be none.
  const json = JSON.stringify(floor)
    .replaceAll('<', '\\u003c')
    .replaceAll('\u2028', '\\u2028')
    .replaceAll('\u2029', '\\u2029');
  const titled = before.replace(TITLE, () => `<title>${escapeXml(cleanText(floor.name))} · Lacuna</title>`);
  return `${titled}${PLACE.replace('null', () => json)}${after}`;
}
