/** What a feature is, from the words of its properties: plain words, those of OpenStreetMap's indoor tags and of IMDF. */
import type { DrawnPiece } from '../storey.ts';

export type Role =
  | { readonly is: 'room'; readonly use: string }
  | { readonly is: 'void' | 'wall' | 'chair' | 'label' | 'outline' }
  | { readonly is: 'opening'; readonly kind: 'door' | 'window' | 'passage' }
  | { readonly is: 'piece'; readonly kind: DrawnPiece['kind'] };

/** Keys whose text says what a feature is, the most telling first. */
const KEYS = ['type', 'indoor', 'feature_type', 'category', 'class', 'kind', 'layer', 'instance', 'furniture', 'room'];
/** Keys that say it by being there: `door=yes`. */
const FLAGS = ['door', 'entrance', 'window', 'wall'];

const WORDS: readonly (readonly [words: readonly string[], role: Role])[] = [
  [['wall'], { is: 'wall' }],
  [['door', 'entrance', 'gate'], { is: 'opening', kind: 'door' }],
  [['window'], { is: 'opening', kind: 'window' }],
  [['opening', 'passage'], { is: 'opening', kind: 'passage' }],
  [['elevator', 'lift', 'shaft', 'void', 'inaccessible', 'nonpublic', 'escalator'], { is: 'void' }],
  [['outline', 'building', 'level', 'footprint', 'venue'], { is: 'outline' }],
  [['desk', 'table', 'workstation'], { is: 'piece', kind: 'desk' }],
  [['chair', 'seat', 'workplace'], { is: 'chair' }],
  [['shelf', 'shelves', 'shelving', 'bookcase', 'rack'], { is: 'piece', kind: 'shelving' }],
  [['cabinet', 'cupboard', 'locker', 'wardrobe', 'sideboard'], { is: 'piece', kind: 'cabinet' }],
  [['screen'], { is: 'piece', kind: 'screen' }],
  [['partition'], { is: 'piece', kind: 'partition' }],
  [['column', 'pillar', 'pier'], { is: 'piece', kind: 'column' }],
  [['furniture', 'fixture', 'sofa', 'counter', 'kiosk', 'obstacle'], { is: 'piece', kind: 'other' }],
  [['stair', 'stairs', 'stairwell', 'steps'], { is: 'room', use: 'stairs' }],
  [['bathroom', 'restroom', 'toilet', 'toilets', 'wc', 'washroom'], { is: 'room', use: 'toilet' }],
  [['corridor', 'hallway', 'walkway', 'lobby', 'foyer'], { is: 'room', use: 'corridor' }],
  [
    ['office', 'room', 'unit', 'space', 'kitchen', 'area', 'hall', 'storage', 'conference', 'meeting'],
    { is: 'room', use: '' },
  ],
  [['geometry', 'label', 'annotation'], { is: 'label' }],
];

/** What a feature is, or undefined when none of its words is known. */
export function readRole(properties: Readonly<Record<string, unknown>>): Role | undefined {
  for (const key of KEYS) {
    const text = properties[key];
    if (typeof text !== 'string') continue;
    const words = text.toLowerCase().split(/[^\p{L}]+/u);
    const found = WORDS.find(([known]) =>
      words.some((word) => known.includes(word) || known.includes(word.replace(/s$/u, ''))),
    );
    if (found !== undefined) return found[1];
  }
  const flag = FLAGS.find(
    (key) => properties[key] !== undefined && properties[key] !== null && properties[key] !== 'no',
  );
  return flag === undefined ? undefined : readRole({ type: flag });
}

/** The words by which a feature says what it is, for the account. */
export function describeFeature(properties: Readonly<Record<string, unknown>>): string {
  const text = KEYS.map((key) => properties[key]).find((value) => typeof value === 'string' && value !== '');
  return typeof text === 'string' ? `features of type ${text.slice(0, 60)}` : 'features without a type';
}
