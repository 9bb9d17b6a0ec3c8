/**
 * Sentences with numbers that the palette understands: "D14 13.2 from south", "D14 3.2 4.5", "turn D14 30", "top of
 * shelves 1.4", "ceiling of Office 2.8", "seated plane 0.9". Each is answered as the edit it would be, in full words.
 */
import { type Floor, type FloorFile, findRoomAt } from '../../core/floor/index.ts';
import { type Edit, refuse } from '../../editor/edits/edit.ts';
import { setAnalysis } from '../../editor/edits/floor-settings.ts';
import { moveThings, placeThing } from '../../editor/edits/moving.ts';
import { setProperty } from '../../editor/edits/properties.ts';
import { describeLock } from '../../editor/locks.ts';
import { measureToWalls, type Side } from '../../editor/measure.ts';
import { parseQuantity, type QuantityKind } from '../../editor/quantity.ts';
import { listThings, placeOf, type Thing, type ThingKind } from '../../editor/things.ts';
import type { Units } from '../../editor/tools/tool.ts';
import { formatDegrees, formatMetres, formatNumber, formatPlaceWithUnit } from './format.ts';
import { kindInPlural, nameOf } from './words.ts';

/** What a verb may know. */
export interface VerbContext {
  readonly file: FloorFile;
  readonly floor: Floor;
  readonly units: Units;
  readonly lockedKinds: ReadonlySet<ThingKind>;
}

export interface Verb {
  /** The sentence: what would be done. */
  readonly text: string;
  readonly plan: () => Edit;
}

const SIDES: readonly Side[] = ['north', 'east', 'south', 'west'];

/** The verbs a text stands for; none where it is no such sentence. */
export function readVerbs(text: string, context: VerbContext): readonly Verb[] {
  const words = text.trim().replace(/\s+/gu, ' ');
  if (!/\d/u.test(words)) return [];
  return [fromWall, toPlace, turned, heightOf, topsOf, planeAt].flatMap((read) => read(words, context) ?? []);
}

type Reader = (words: string, context: VerbContext) => Verb | null;

const fromWall: Reader = (words, context) => {
  const match = /^(.+?) ([\d.,−-].*?) from (?:the )?(north|east|south|west)(?: wall)?$/iu.exec(words);
  const thing = match === null ? null : findNamed(match[1] ?? '', context);
  const distance = read(match?.[2] ?? '', 'length', context);
  const side = SIDES.find((each) => each === match?.[3]?.toLowerCase());
  if (thing === null || distance === null || side === undefined) return null;
  const { floor } = context;
  const at = placeOf(floor, thing);
  const room = findRoomAt(floor.rooms, at);
  return {
    text: `Move ${nameOf(floor, thing)} to ${formatMetres(distance)} from the ${side} wall`,
    plan: () => {
      const wall = measureToWalls(floor, at, side)[0];
      if (room === undefined || wall === undefined)
        return refuse(`${nameOf(floor, thing)} has no ${side} wall beside it`, 'Say where it goes, such as 3.2 4.5.');
      const by = wall.wall + wall.sign * distance - at[wall.axis];
      return unlessLocked(thing, context, (file) =>
        moveThings(file, [thing.value.id], wall.axis === 0 ? [by, 0] : [0, by]),
      );
    },
  };
};

const toPlace: Reader = (words, context) => {
  const match = /^(?:move )?(.+?) (?:to |at )?([\d.,−-]\S*) ([\d.,−-]\S*)$/iu.exec(words);
  const thing = match === null ? null : findNamed(match[1] ?? '', context);
  const [x, y] = [match?.[2], match?.[3]].map((each) => read(each ?? '', 'length', context));
  if (thing === null || x == null || y == null) return null;
  return {
    text: `Move ${nameOf(context.floor, thing)} to ${formatPlaceWithUnit([x, y])}`,
    plan: () => unlessLocked(thing, context, (file) => placeThing(file, thing.value.id, [x, y])),
  };
};

const turned: Reader = (words, context) => {
  const match = /^(?:turn (.+?)(?: to)?|(.+?) turn(?: to)?) ([\d.,−-]\S*)$/iu.exec(words);
  const thing = match === null ? null : findNamed(match[1] ?? match[2] ?? '', context);
  const degrees = read(match?.[3] ?? '', 'angle', context);
  if (thing === null || degrees === null) return null;
  const property = thing.kind === 'workplace' ? 'facing' : 'turn';
  return {
    text: `Turn ${nameOf(context.floor, thing)} to ${formatDegrees(degrees)}`,
    plan: () => unlessLocked(thing, context, (file) => setProperty(file, [thing.value.id], property, degrees)),
  };
};

const HEIGHTS = { top: 'top', ceiling: 'ceiling', height: 'height', reach: 'reach', base: 'base' } as const;

const heightOf: Reader = (words, context) => {
  const match = /^(top|ceiling|height|reach|base) (?:of )?(.+?) (?:to )?([\d.,−-].*)$/iu.exec(words);
  const property = HEIGHTS[(match?.[1] ?? '').toLowerCase() as keyof typeof HEIGHTS];
  const thing = match === null ? null : findNamed(match[2] ?? '', context);
  const value = read(match?.[3] ?? '', property === 'reach' ? 'number' : 'length', context);
  if (thing === null || value === null || property === undefined) return null;
  const said = property === 'reach' ? formatNumber(value) : formatMetres(value);
  return {
    text: `Set the ${property} of ${nameOf(context.floor, thing)} to ${said}`,
    plan: () => unlessLocked(thing, context, (file) => setProperty(file, [thing.value.id], property, value)),
  };
};

const topsOf: Reader = (words, context) => {
  const match = /^(?:set )?(?:the )?(?:tops? of )?(?:all )?(\p{L}+) (?:to )?([\d.,−-].*)$/iu.exec(words);
  const top = read(match?.[2] ?? '', 'length', context);
  const { furniture } = context.floor;
  const pieces = furniture.filter(({ kind }) => kindInPlural(kind) === (match?.[1] ?? '').toLowerCase());
  const [first] = pieces;
  if (first === undefined || top === null) return null;
  return {
    text: `Set the top of ${pieces.length === 1 ? first.name : `all ${pieces.length} ${kindInPlural(first.kind)}`} to ${formatMetres(top)}`,
    plan: () => {
      const lock = describeLock(context, first.id);
      if (lock !== null) return refuse(lock.what, lock.remedy);
      return setProperty(
        context.file,
        pieces.map(({ id }) => id),
        'top',
        top,
      );
    },
  };
};

const planeAt: Reader = (words, context) => {
  const match = /^(seated|walking) (?:plane )?(?:at |to )?([\d.,].*)$/iu.exec(words);
  const height = read(match?.[2] ?? '', 'length', context);
  if (match === null || height === null) return null;
  const plane = match[1]?.toLowerCase() === 'seated' ? 'seatedPlane' : 'walkingPlane';
  return {
    text: `Look for ${plane === 'seatedPlane' ? 'seated' : 'walking'} people at ${formatMetres(height)}`,
    plan: () => setAnalysis(context.file, { [plane]: height }),
  };
};

/** The thing of this name, whatever its capitals; the first of several. */
function findNamed(name: string, { floor }: VerbContext): Thing | null {
  const wanted = name.toLowerCase();
  return listThings(floor).find((thing) => nameOf(floor, thing).toLowerCase() === wanted) ?? null;
}

function read(text: string, kind: QuantityKind, { units }: VerbContext): number | null {
  if (text === '') return null;
  const value = parseQuantity(text, { kind }, units);
  return value.ok ? value.value : null;
}

function unlessLocked(thing: Thing, context: VerbContext, plan: (file: FloorFile) => Edit): Edit {
  const lock = describeLock(context, thing.value.id);
  return lock === null ? plan(context.file) : refuse(lock.what, lock.remedy);
}
