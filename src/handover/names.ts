/** What things are called on paper: short numbers for marks, names for sentences. */
import type { Floor } from '../core/floor/index.ts';
import { cleanText } from './plan/svg.ts';

/** Letters a number on a drawing may have. */
const MOST_LETTERS = 12;

export interface Names {
  /** The number of a detector or workplace as it stands on the plan, in the schedule and on its label. */
  numberOf(id: string): string;
  /** The name of anything as a reader knows it: `Screen 4 (S4)`; the id alone where the name says no more. */
  nameOf(id: string): string;
  /** Names in a row: `A, B, C`; the empty text for none. */
  listOf(ids: readonly string[]): string;
}

/** Names come from a file: they are text, cleaned of what cannot be printed. */
export function createNames(floor: Floor): Names {
  const names = new Map<string, string>();
  for (const list of [
    floor.rooms,
    floor.furniture,
    floor.luminaires,
    floor.workplaces,
    floor.zones,
    floor.sources,
    floor.types,
    floor.detectors,
    floor.groups,
  ]) {
    for (const { id, name } of list) names.set(id, cleanText(name));
  }
  const numbers = new Map<string, string>();
  for (const list of [floor.detectors, floor.workplaces]) {
    const uses = new Map<string, number>();
    for (const { name } of list) uses.set(name, (uses.get(name) ?? 0) + 1);
    const isNumber = ({ name }: { readonly name: string }) =>
      cleanText(name) !== '' && [...name].length <= MOST_LETTERS && uses.get(name) === 1;
    // Seats are told by their names only when all can be: a list that mixes names and numbers cannot be followed.
    const needsAll = list === floor.workplaces && !list.every(isNumber);
    for (const each of list) numbers.set(each.id, cleanText(isNumber(each) && !needsAll ? each.name : each.id));
  }
  const nameOf = (id: string): string => {
    const name = names.get(id);
    return name === undefined || name === '' || name === id ? cleanText(id) : `${name} (${cleanText(id)})`;
  };
  return {
    numberOf: (id) => numbers.get(id) ?? nameOf(id),
    nameOf,
    listOf: (ids) => ids.map(nameOf).join(', '),
  };
}
