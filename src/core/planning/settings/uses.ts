/**
 * Uses of rooms with what is known of each: how bright, how often nobody is there, how long it is used, and how its
 * light is switched. Every value carries its source and its standing; nothing here is normative.
 */
import type { Sourced } from '../sourced.ts';

export type SwitchOn = 'automatic' | 'manual';

export interface Use {
  readonly name: string;
  /** Other words for it, lower case. */
  readonly words: readonly string[];
  /** Lux at the task. */
  readonly level: Sourced<number>;
  /** Share of the hours of use in which nobody is there: F_A of EN 15193. */
  readonly absence: Sourced<number>;
  /** Hours of use a year, by day and by night. */
  readonly hours: Sourced<readonly [day: number, night: number]>;
  readonly switchOn: Sourced<SwitchOn>;
  /** Minutes. */
  readonly delay: Sourced<number>;
  /** Minutes; null: nothing is known that air should follow. */
  readonly ventilationDelay: Sourced<number> | null;
  /** Light that stays on while nobody is there, per cent. */
  readonly background: Sourced<number>;
  /** Energy is credited however large the group. */
  readonly isMeeting?: true;
  /** One group may be limited in area by a local code. */
  readonly isOpenPlan?: true;
}

const DATASET = 'DIN V 18599-10 as an open dataset of building simulation transcribes it';
const EN_12464 = 'EN 12464-1:2011';
const EN_15193 = 'EN 15193:2007 annex';

type Row = readonly [level: number, absence: number, day: number, night: number];

/** Level, absence and hours of one row of the dataset. */
function dataset(row: string, [level, absence, day, night]: Row): Pick<Use, 'level' | 'absence' | 'hours'> {
  const source = `${DATASET}: ${row}`;
  return {
    level: { value: level, source, standing: 'found' },
    absence: { value: absence, source, standing: 'found' },
    hours: { value: [day, night], source, standing: 'found' },
  };
}

const en12464 = (value: number, clause: string): Sourced<number> => ({
  value,
  source: `${EN_12464} ${clause}`,
  standing: 'memory',
});
const iso8995 = (value: number): Sourced<number> => ({ value, source: 'ISO 8995-1:2002', standing: 'found' });
const en15193 = (value: number): Sourced<number> => ({ value, source: EN_15193, standing: 'memory' });

const DELAY_SOURCE =
  '10 to 20 min where people sit, 5 min where they move much; no longer than 20 min in IECC C405.2.1.1';
const delay = (value: number): Sourced<number> => ({ value, source: DELAY_SOURCE, standing: 'practice' });
const noBackground: Sourced<number> = { value: 0, source: 'off while nobody is there', standing: 'practice' };
const dimmedWays: Sourced<number> = { value: 10, source: 'ways are dimmed, not dark', standing: 'practice' };
const openPlanRest: Sourced<number> = {
  value: 20,
  source: 'IECC C405.2.1.3: an empty zone goes down by 80 % or more',
  standing: 'found',
};
const air = (value: number): Sourced<number> => ({
  value,
  source: 'longer than a short absence',
  standing: 'choice',
});

/** Owned and daylit rooms: people switch on for themselves. */
const sedentary = (minutes: number, ventilation: number | null): Pick<Use, SwitchKeys> => ({
  switchOn: {
    value: 'manual',
    source:
      'switched on by hand and off by absence suits owned and daylit rooms; IECC C405.2.1.1 asks for it, or half power',
    standing: 'practice',
  },
  delay: delay(minutes),
  ventilationDelay: ventilation === null ? null : air(ventilation),
  background: noBackground,
});

/** Ways and rooms that are entered for a moment: light comes by itself. */
const passing = (minutes: number, ventilation: number | null = null): Pick<Use, SwitchKeys> => ({
  switchOn: {
    value: 'automatic',
    source: 'light by itself suits ways, toilets and rooms without daylight; IECC C405.2.1.1 allows it there',
    standing: 'practice',
  },
  delay: delay(minutes),
  ventilationDelay: ventilation === null ? null : air(ventilation),
  background: noBackground,
});
type SwitchKeys = 'switchOn' | 'delay' | 'ventilationDelay' | 'background';

const OFFICE: Row = [500, 0.3, 2543, 207];
const TRAFFIC = dataset('traffic area', [100, 0.8, 2543, 207]);
const COMMON = dataset('other common rooms', [300, 0.5, 2543, 207]);
const STORE = dataset('store, plant, archive', [100, 0.98, 2543, 207]);

export const USES: readonly Use[] = [
  {
    name: 'single office',
    words: ['cellular office', 'one-person office'],
    ...dataset('single office', OFFICE),
    ...sedentary(15, null),
  },
  {
    name: 'office',
    words: ['group office', 'team office', 'shared office'],
    ...dataset('group office', OFFICE),
    ...sedentary(15, null),
  },
  {
    name: 'open-plan office',
    words: ['open plan', 'open office'],
    ...dataset('open-plan office', [500, 0, 2543, 207]),
    ...sedentary(15, null),
    background: openPlanRest,
    isOpenPlan: true,
  },
  {
    name: 'meeting',
    words: ['conference', 'seminar', 'training', 'talk', 'board room'],
    ...dataset('meeting, seminar', [500, 0.5, 2543, 207]),
    ...sedentary(10, 15),
    isMeeting: true,
  },
  {
    name: 'reception',
    words: ['main hall', 'reception desk'],
    ...dataset('main hall, reception', [200, 0, 2543, 207]),
    ...passing(15),
  },
  { name: 'shop', words: ['retail', 'sales area', 'sales'], ...dataset('retail', [300, 0, 3009, 591]), ...passing(15) },
  {
    name: 'classroom',
    words: ['class room', 'teaching', 'school room'],
    ...dataset('classroom', [300, 0.25, 1400, 0]),
    ...sedentary(15, 15),
  },
  {
    name: 'lecture hall',
    words: ['auditorium'],
    ...dataset('lecture hall', [500, 0.25, 1408, 92]),
    ...sedentary(20, 20),
  },
  {
    name: 'bed room',
    words: ['ward', 'patient room'],
    ...dataset('hospital bed room', [300, 0, 4407, 4353]),
    ...sedentary(20, null),
  },
  { name: 'hotel room', words: ['guest room'], ...dataset('hotel room', [200, 0.25, 743, 3272]), ...sedentary(20, 20) },
  { name: 'canteen', words: ['dining'], ...dataset('canteen', [200, 0, 1750, 0]), ...passing(15, 15) },
  { name: 'restaurant', words: [], ...dataset('restaurant', [200, 0, 2411, 1789]), ...passing(15, 15) },
  {
    name: 'kitchen',
    words: ['commercial kitchen'],
    ...dataset('commercial kitchen', [500, 0, 2411, 1489]),
    ...passing(10, 15),
  },
  {
    name: 'pantry',
    words: ['tea point', 'kitchenette', 'coffee point', 'break room', 'staff room'],
    ...COMMON,
    level: en12464(200, '5.2.1, canteens and pantries'),
    ...passing(10, 15),
  },
  {
    name: 'toilet',
    words: ['wc', 'washroom', 'wash room', 'restroom', 'sanitary', 'shower', 'cloakroom'],
    ...dataset('WC, sanitary', [200, 0.9, 2543, 207]),
    ...passing(10, 15),
  },
  { name: 'rest room', words: ['lounge'], ...COMMON, level: iso8995(100), ...passing(15, 15) },
  {
    name: 'corridor',
    words: ['circulation', 'hallway', 'passage', 'traffic area'],
    ...TRAFFIC,
    level: iso8995(100),
    ...passing(5),
    background: dimmedWays,
  },
  {
    name: 'stair',
    words: ['stairs', 'staircase', 'stairwell'],
    ...TRAFFIC,
    level: iso8995(150),
    ...passing(5),
    background: dimmedWays,
  },
  {
    name: 'lift lobby',
    words: ['lobby', 'lift'],
    ...TRAFFIC,
    level: en12464(100, '5.1.3, in front of lifts'),
    ...passing(5),
    background: dimmedWays,
  },
  {
    name: 'entrance hall',
    words: ['entrance', 'foyer'],
    ...dataset('main hall, reception', [200, 0, 2543, 207]),
    level: iso8995(100),
    ...passing(10),
  },
  {
    name: 'store',
    words: ['storage', 'stock room', 'store room'],
    ...STORE,
    level: en12464(100, '5.4.1, store and stock rooms'),
    ...passing(5),
  },
  { name: 'archive', words: ['records'], ...STORE, level: en12464(200, '5.26.7, archives'), ...passing(5) },
  {
    name: 'plant',
    words: ['plant room', 'switch room', 'technical room'],
    ...STORE,
    level: en12464(200, '5.3.1, plant and switchgear rooms'),
    ...passing(10),
  },
  {
    name: 'auxiliary',
    words: ['auxiliary area'],
    ...dataset('auxiliary areas', [100, 0.9, 2543, 207]),
    ...passing(5),
  },
  {
    name: 'copying',
    words: ['copy', 'print', 'printing', 'filing', 'post room'],
    ...COMMON,
    level: en12464(300, '5.26.1, filing and copying'),
    absence: en15193(0.5),
    ...passing(10),
  },
  {
    name: 'packing',
    words: ['dispatch', 'goods in', 'loading'],
    ...dataset('storehouse, logistics', [150, 0.6, 4407, 4353]),
    level: en12464(300, '5.4.2, dispatch and packing'),
    ...sedentary(10, null),
  },
  {
    name: 'library reading',
    words: ['reading room', 'reading'],
    ...dataset('library reading', [500, 0, 3009, 591]),
    ...sedentary(20, null),
  },
  {
    name: 'library stacks',
    words: ['open stacks', 'library shelves', 'stacks'],
    ...dataset('library, open stacks', [200, 0, 3009, 591]),
    ...passing(10),
  },
  {
    name: 'medical attention',
    words: ['first aid', 'sick bay', 'examination room', 'examination'],
    ...dataset('examination room', [500, 0, 2543, 207]),
    ...sedentary(15, null),
  },
  { name: 'laboratory', words: ['lab'], ...dataset('laboratory', [500, 0.3, 2543, 207]), ...sedentary(20, null) },
  { name: 'workshop', words: [], ...dataset('workshop, light work', [500, 0.1, 2018, 52]), ...sedentary(15, null) },
  { name: 'exhibition', words: ['congress'], ...dataset('exhibition, congress', [300, 0.5, 1258, 92]), ...passing(15) },
  { name: 'museum', words: ['gallery'], ...dataset('museum', [200, 0, 1846, 154]), ...passing(10) },
  {
    name: 'sports hall',
    words: ['gym', 'gym hall', 'exercise'],
    ...dataset('gym hall', [300, 0.3, 2509, 1241]),
    ...passing(15, 15),
  },
  { name: 'data centre', words: ['server room'], ...dataset('data centre', [500, 0.5, 4407, 4353]), ...passing(10) },
  {
    name: 'car park',
    words: ['parking', 'garage'],
    ...dataset('car park, public', [75, 0.8, 3298, 2177]),
    ...passing(5),
    background: dimmedWays,
  },
  {
    name: 'storehouse',
    words: ['warehouse', 'logistics'],
    ...dataset('storehouse, logistics', [150, 0.6, 4407, 4353]),
    ...passing(10),
  },
];

/** The use a room's words mean, and whether they had to be read for it. */
export interface ReadUse {
  readonly use: Use;
  /** False: the words are the use's own; true: it was found among them. */
  readonly isGuess: boolean;
}

/** Finds the use that a text names: as it stands, in the plural, or as the longest word within. */
export function findUse(text: string): ReadUse | undefined {
  const plain = text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
  if (plain === '') return undefined;
  const names = (use: Use) => [use.name, ...use.words].map((word) => word.replaceAll('-', ' '));
  const same = USES.find((use) => names(use).some((word) => word === plain || `${word}s` === plain));
  if (same !== undefined) return { use: same, isGuess: false };
  let best: Use | undefined;
  let length = 0;
  for (const use of USES) {
    for (const word of names(use)) {
      if (word.length > length && ` ${plain} `.includes(` ${word} `)) {
        best = use;
        length = word.length;
      }
    }
  }
  return best === undefined ? undefined : { use: best, isGuess: true };
}
