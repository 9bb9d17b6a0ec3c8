/** Ids and names for what is added: short, readable, and free. */
import { type FloorFile, LIMITS } from '../../core/floor/index.ts';
import { LIST_NAMES, type ListName, listOf } from './lists.ts';

const PREFIX: Readonly<Record<ListName, string>> = {
  rooms: 'R',
  openings: 'O',
  furniture: 'F',
  luminaires: 'L',
  workplaces: 'W',
  zones: 'Z',
  sources: 'Q',
  types: 'T',
  detectors: 'D',
  groups: 'G',
};

/** Numbers longer than this are nobody's count. */
const NUMBERED = /^([A-Z])(\d{1,9})$/;

interface Taken {
  readonly ids: ReadonlySet<string>;
  /** By prefix letter the highest number in use. */
  readonly highest: ReadonlyMap<string, number>;
}
const takens = new WeakMap<FloorFile, Taken>();

function takenIn(file: FloorFile): Taken {
  let taken = takens.get(file);
  if (taken === undefined) {
    const ids = new Set<string>();
    const highest = new Map<string, number>();
    for (const list of LIST_NAMES) {
      for (const { id } of listOf(file, list)) {
        ids.add(id);
        const [, letter = '', digits = '0'] = NUMBERED.exec(id) ?? [];
        highest.set(letter, Math.max(highest.get(letter) ?? 0, Number(digits)));
      }
    }
    taken = { ids, highest };
    takens.set(file, taken);
  }
  return taken;
}

/** Hands out ids and names that neither the file nor an earlier answer holds. */
export interface IdMaker {
  /** The next id of a list: its letter and the number after the highest, `F12`. */
  next(list: ListName): string;
  /** The next detector, whose name and id are the same number wherever both are free: `D15`. */
  nextDetector(): { readonly id: string; readonly name: string };
  /** A name for one more of its kind: `Shelf` beside `Shelf 1` and `Shelf 4` is `Shelf 5`, and the first is `Shelf 1`. */
  nextName(list: Named, like: string): string;
  /** The name itself while it is free, else the next like it. */
  freeName(list: Named, name: string): string;
}

/** Lists whose members have names. */
export type Named = Exclude<ListName, 'openings'>;

export function createIdMaker(file: FloorFile): IdMaker {
  const { ids, highest } = takenIn(file);
  const given = new Set<string>();
  const counts = new Map<string, number>();
  const names = new Map<Named, Set<string>>();
  const isTaken = (id: string): boolean => ids.has(id) || given.has(id);
  const namesOf = (list: Named): Set<string> => {
    let known = names.get(list);
    if (known === undefined) {
      known = new Set(listOf(file, list).map(({ name }) => name));
      names.set(list, known);
    }
    return known;
  };
  const take = (letter: string, from: number): string => {
    let number = Math.max(from, (counts.get(letter) ?? highest.get(letter) ?? 0) + 1);
    while (isTaken(`${letter}${number}`)) number++;
    counts.set(letter, number);
    given.add(`${letter}${number}`);
    return `${letter}${number}`;
  };
  /** By list and stem the highest number given out, so that a long list is not searched for each of many names. */
  const mosts = new Map<string, number>();
  const nextName = (list: Named, like: string): string => {
    const known = namesOf(list);
    const { stem, gap, number } = readName(like);
    const key = `${list} ${stem}`;
    let most = Math.max(mosts.get(key) ?? findMost(known, stem), number);
    while (known.has(`${stem}${gap}${most + 1}`)) most++;
    mosts.set(key, most + 1);
    const name = `${stem}${gap}${most + 1}`;
    known.add(name);
    return name;
  };
  return {
    next: (list) => take(PREFIX[list], 1),
    nextDetector() {
      const known = namesOf('detectors');
      const number = Math.max(0, ...[...known].map((name) => Number(/^D(\d{1,9})$/.exec(name)?.[1] ?? 0)));
      const id = take('D', number + 1);
      known.add(id);
      return { id, name: id };
    },
    nextName,
    freeName(list, name) {
      const known = namesOf(list);
      if (known.has(name)) return nextName(list, name);
      known.add(name);
      return name;
    },
  };
}

/** A name as a stem, what stands between it and its number, and the number; 0 without one. */
function readName(name: string): { readonly stem: string; readonly gap: string; readonly number: number } {
  const [, written = '', space = '', digits] = /^(.*?)(?:( ?)(\d{1,9}))?$/s.exec(name) ?? [];
  const stem = clipText(written, LIMITS.text - 11);
  return { stem, gap: digits === undefined && stem !== '' ? ' ' : space, number: Number(digits ?? 0) };
}

/** The highest number behind a stem; a name that stands without one counts as the first. */
function findMost(known: ReadonlySet<string>, stem: string): number {
  let most = 0;
  for (const name of known) {
    if (!name.startsWith(stem)) continue;
    const rest = name.slice(stem.length);
    if (rest === '' && stem !== '') most = Math.max(most, 1);
    else if (/^ ?\d{1,9}$/.test(rest)) most = Math.max(most, Number(rest));
  }
  return most;
}

/** A text of at most so many characters, never cut within one. */
export function clipText(text: string, most: number): string {
  return text.length <= most ? text : text.slice(0, most).replace(/[\uD800-\uDBFF]$/, '');
}
