/** One property read from many things at once, and set on all of them. */
import { type FloorFile, resolveFloor } from '../../core/floor/index.ts';
import { tidy, turnInto360 } from '../recipes.ts';
import { indexOfId } from '../things.ts';
import { findMember, isSingle, refuseValue } from './allowed-values.ts';
import { createChange, setListed } from './change.ts';
import { type Edit, type Refused, refuse, refuseGone } from './edit.ts';
import { nameThing, nameThings, showText, startSentence } from './fault-words.ts';
import { findAllListed, findItem, type Items, type Listed, type ListName } from './lists.ts';

/** Every key that some thing has; those that hold lists, points or other things cannot be set here. */
type KeyOf<Item> = Item extends unknown ? keyof Item : never;
export type PropertyName = Exclude<KeyOf<Items[ListName]>, 'id' | 'main' | 'notes'> & string;

export type PropertyValue = string | number | boolean;

/** What things have in common. Things whose kind has no such property are passed over. */
export type Shared =
  | { readonly kind: 'none' }
  | { readonly kind: 'same'; readonly value: PropertyValue | undefined }
  | { readonly kind: 'mixed'; readonly values: readonly (PropertyValue | undefined)[] };

const SET: Readonly<Partial<Record<PropertyName, string>>> = {
  ceilingFrom: 'how the ceiling is known',
  from: 'how the height is known',
  need: 'what is needed',
  status: 'the status',
};

/** The words for a property in a sentence: `the top`. */
function wordProperty(key: PropertyName): string {
  return SET[key] ?? `the ${key.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)}`;
}

function hasProperty({ list }: Listed, key: PropertyName): boolean {
  const member = findMember(list, key);
  return member !== undefined && isSingle(member);
}

/** The values of a property over things, defaults filled in; undefined stands for one that is left out and has no default. */
export function readProperty(file: FloorFile, ids: readonly string[], key: PropertyName): Shared {
  const things = findAllListed(file, ids).filter((thing) => hasProperty(thing, key));
  const floor = resolveFloor(file);
  const values = new Set(
    things.map(({ list, item }) => {
      const resolved = floor[list][indexOfId(floor[list], item.id)] as Readonly<Record<string, unknown>> | undefined;
      return resolved?.[key] as PropertyValue | undefined;
    }),
  );
  const [first] = values;
  if (things.length === 0) return { kind: 'none' };
  return values.size === 1 ? { kind: 'same', value: first } : { kind: 'mixed', values: [...values] };
}

/**
 * Sets a property on every thing whose kind has it. Numbers are rounded to thousandths, directions brought to 0 to 360°.
 * @param written null leaves the property out, where it may be: its default counts again
 */
export function setProperty(
  file: FloorFile,
  ids: readonly string[],
  key: PropertyName,
  written: PropertyValue | null,
): Edit {
  const value = tidyValue(key, written);
  const chosen = findAllListed(file, ids);
  const things = chosen.filter((thing) => hasProperty(thing, key) && takes(thing, key));
  const [first] = chosen;
  if (first === undefined) return refuseGone('thing');
  if (things.length === 0)
    return refuse(`${startSentence(nameThings(chosen))} cannot have ${wordProperty(key)}`, 'Select others.');
  const change = createChange(file);
  for (const thing of things) {
    const next = withProperty(thing, key, value);
    const refused = refuseProperty(file, next, key, value);
    if (refused !== null) return refused;
    setListed(change, next);
  }
  return change.plan(
    nameSetting(things, key, value),
    things.map(({ item }) => item.id),
  );
}

/** Gives one thing another name. */
export function renameThing(file: FloorFile, id: string, name: string): Edit {
  return setProperty(file, [id], 'name', name.trim());
}

/** Locks detectors in their place, or unlocks them. */
export function setLocked(file: FloorFile, ids: readonly string[], locked: boolean): Edit {
  return setProperty(file, ids, 'locked', locked);
}

/** Only a door is open or closed, though every opening is declared alike. */
function takes(thing: Listed, key: PropertyName): boolean {
  return thing.list !== 'openings' || key !== 'state' || thing.item.kind === 'door';
}

const DIRECTIONS: readonly PropertyName[] = ['turn', 'facing', 'heading'];

function tidyValue(key: PropertyName, value: PropertyValue | null): PropertyValue | null {
  if (typeof value !== 'number') return value;
  return DIRECTIONS.includes(key) ? turnInto360(value) : tidy(value);
}

function withProperty(thing: Listed, key: PropertyName, value: PropertyValue | null): Listed {
  const { [key as keyof typeof thing.item]: _, ...rest } = thing.item;
  const item: Record<string, unknown> = { ...rest };
  if (value !== null) item[key] = value;
  // A door that becomes a window has no state any more.
  if (thing.list === 'openings' && key === 'kind' && value !== 'door') delete item.state;
  return { list: thing.list, item } as unknown as Listed;
}

function refuseProperty(file: FloorFile, next: Listed, key: PropertyName, value: PropertyValue | null): Refused | null {
  const subject = `${wordProperty(key)} of ${nameThing(next)}`;
  const member = findMember(next.list, key);
  if (member === undefined) return null;
  if (value === null)
    return member.required ? refuse(`${startSentence(subject)} cannot be left out`, 'Give one.') : null;
  const written = (next.item as unknown as Readonly<Record<string, unknown>>)[key];
  const refused = refuseValue(written, member.shape, subject);
  if (refused !== null) return refused;
  if (key === 'type' && findItem(file, 'types', String(value)) === undefined) return refuseGone('detector type');
  if (key === 'group' && findItem(file, 'groups', String(value)) === undefined) return refuseGone('group');
  if ((key === 'base' || key === 'top') && 'top' in next.item && next.item.top <= (next.item.base ?? 0))
    return refuse(
      `${startSentence(nameThing(next))} would reach from ${next.item.base ?? 0} m to ${next.item.top} m`,
      'The top must be above the base.',
    );
  return null;
}

function nameSetting(things: readonly Listed[], key: PropertyName, value: PropertyValue | null): string {
  const whose = nameThings(things);
  if (key === 'name') return `Renamed ${whose} to ${showText(String(value))}`;
  if (key === 'locked') return `${value === true ? 'Locked' : 'Unlocked'} ${whose}`;
  if (value === null) return `Took ${wordProperty(key)} of ${whose} back to its default`;
  return `Set ${wordProperty(key)} of ${whose}${typeof value === 'boolean' ? '' : ` to ${showText(String(value))}`}`;
}
