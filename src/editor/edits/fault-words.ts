/** Things and faults in words for a person: by name, never by their place in the file. */
import { countWords } from '../../core/coverage/findings/wording.ts';
import type { Fault, FloorFile } from '../../core/floor/index.ts';
import type { Refused } from './edit.ts';
import { clipText } from './ids.ts';
import { LIST_NAMES, type Listed, type ListName, listOf } from './lists.ts';

/** The word for one member of a list, and for several. */
const WORDS: Readonly<Record<ListName, readonly [one: string, many: string]>> = {
  rooms: ['room', 'rooms'],
  openings: ['opening', 'openings'],
  furniture: ['piece', 'pieces'],
  luminaires: ['luminaire', 'luminaires'],
  workplaces: ['workplace', 'workplaces'],
  zones: ['zone', 'zones'],
  sources: ['source', 'sources'],
  types: ['detector type', 'detector types'],
  detectors: ['detector', 'detectors'],
  groups: ['group', 'groups'],
};

/** Characters of a name that a sentence repeats. */
const NAME_LENGTH = 60;

/** `3 pieces`, `1 workplace` */
export function countThings(list: ListName, count: number): string {
  return countWords(count, ...WORDS[list]);
}

/** A text from the file on one line: clipped, and without what is no visible character. */
export function showText(text: string): string {
  const shown = text.length > NAME_LENGTH ? `${clipText(text, NAME_LENGTH)}…` : text;
  return shown.replace(/[\p{C}\p{Zl}\p{Zp}]/gu, ' ').trim();
}

/** What a thing is called in a sentence: its name; an opening by its kind and id, `door O3`; nameless things likewise. */
export function nameThing({ list, item }: Listed): string {
  if (list === 'openings') return `${item.kind} ${showText(item.id)}`;
  return showText(item.name) || `${WORDS[list][0]} ${showText(item.id)}`;
}

/** `D14`, `3 pieces`, `7 things` */
export function nameThings(things: readonly Listed[]): string {
  const [first] = things;
  if (first === undefined) return 'nothing';
  if (things.length === 1) return nameThing(first);
  return things.every(({ list }) => list === first.list)
    ? countThings(first.list, things.length)
    : `${things.length} things`;
}

/** `1.20 m` */
export function showMetres(value: number): string {
  return `${value.toFixed(2)} m`;
}

/** A sentence's first letter, large. */
export function startSentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

/** A fault of a whole floor, told about its things by name. */
export function describeFault(file: FloorFile, { path, what, remedy }: Fault): Refused {
  const clause = path === '' ? what : `${nameSubject(file, path)} ${what}`;
  return { ok: false, what: startSentence(namePlaces(file, clause)), remedy: namePlaces(file, remedy) };
}

/** `rooms[2].outline` as `the outline of Office`; a detector's place is the detector itself. */
function nameSubject(file: FloorFile, path: string): string {
  const [, list = '', index = '', rest = ''] = /^(\w+)\[(\d+)\](?:\.(.+))?$/.exec(path) ?? [];
  const thing = findAt(file, list, Number(index));
  if (thing === undefined) return nameParts(path);
  if (rest === '' || rest === 'at' || rest === 'to') return nameThing(thing);
  return `${nameParts(rest)} of ${nameThing(thing)}`;
}

/** `ranges[2].plane` as `the plane of row 3` */
function nameParts(path: string): string {
  return path.split('.').reverse().map(namePart).join(' of ');
}

const PARTS: Readonly<Record<string, string>> = {
  holes: 'hole',
  masks: 'mask',
  ranges: 'row',
  extensions: 'extension',
  serves: 'served place',
  ventilation: 'ventilated place',
  groups: 'group',
  records: 'record',
};

function namePart(part: string): string {
  const [, list, index] = /^(\w+)\[(\d+)\]$/.exec(part) ?? [];
  return list === undefined ? `the ${part}` : `${PARTS[list] ?? list} ${Number(index) + 1}`;
}

/** Puts names where a sentence points into the file; what stands between quotation marks is left as it is. */
function namePlaces(file: FloorFile, text: string): string {
  return text.replace(/"(?:[^"\\]|\\.)*"|(\w+)\[(\d+)\]/g, (all, list?: string, index?: string) => {
    if (list === undefined) return all;
    const thing = findAt(file, list, Number(index));
    return thing === undefined ? namePart(all) : nameThing(thing);
  });
}

function findAt(file: FloorFile, name: string, index: number): Listed | undefined {
  const list = LIST_NAMES.find((each) => each === name);
  if (list === undefined) return undefined;
  const item = listOf(file, list)[index];
  return item === undefined ? undefined : ({ list, item } as Listed);
}
