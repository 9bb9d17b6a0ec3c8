/** Things copied as text that any clipboard can carry, and pasted from it, whatever it holds. */
import { checkReferences } from '../../core/floor/check-references.ts';
import { checkShape } from '../../core/floor/check-shape.ts';
import { createFaultList } from '../../core/floor/fault.ts';
import { type FloorFile, type Point, resolveFloor } from '../../core/floor/index.ts';
import { readJson } from '../../core/floor/json-text.ts';
import { floorSchema } from '../../core/floor/schema.ts';
import { readShape } from '../../core/floor/shape.ts';
import { createChange } from './change.ts';
import { type Edit, type Refused, refuse } from './edit.ts';
import { nameThings } from './fault-words.ts';
import { closeFragment, collectFragment, type Fragment, placeFragment } from './fragments.ts';
import { createIdMaker } from './ids.ts';
import { findAllListed, LIST_NAMES, type Listed, listOf } from './lists.ts';
import { deleteThings, listFollowers } from './removal.ts';
import { shift } from './rigid-moves.ts';

/** Names the text, so that nothing else is taken for it. */
const FORMAT = 'lacuna-things/1';
/** Copies in one go; more is a slip of the finger. */
const MOST_COPIES = 1_000;

export type Copied = { readonly ok: true; readonly text: string; readonly name: string } | Refused;

/** The things as text: their groups when all their detectors are among them, and the types of detectors. */
export function copyThings(file: FloorFile, ids: readonly string[]): Copied {
  const things = findAllListed(file, ids);
  if (things.length === 0) return refuse('Nothing is selected', 'Select what to copy.');
  const fragment = closeFragment(collectFragment(file, ids));
  const filled = LIST_NAMES.filter((list) => fragment[list].length > 0);
  const text = JSON.stringify({ format: FORMAT, ...Object.fromEntries(filled.map((list) => [list, fragment[list]])) });
  return { ok: true, text, name: `Copied ${nameThings(things)}` };
}

export type Cut = { readonly ok: true; readonly text: string; readonly edit: Edit } | Refused;

/** The things as text, with what cannot stay without them, and the edit that deletes them. */
export function cutThings(file: FloorFile, ids: readonly string[]): Cut {
  const edit = deleteThings(file, ids);
  if (!edit.ok) return edit;
  const followers = listFollowers(file, findAllListed(file, ids)).map(({ item }) => item.id);
  const copied = copyThings(file, [...ids, ...followers]);
  return copied.ok
    ? { ok: true, text: copied.text, edit: { ...edit, name: edit.name.replace(/^Deleted/, 'Cut') } }
    : copied;
}

/**
 * Pastes what `copyThings` wrote, under new ids: on the same floor or another. What a thing named that was not copied
 * with it, it names no more. A detector type the floor has already is not added again.
 * @param by metres in x and y from where the things stood; [0, 0] is in place
 */
export function pasteThings(file: FloorFile, text: string, by: Point = [0, 0]): Edit {
  const read = readFragment(text);
  if ('ok' in read) return read;
  if (LIST_NAMES.every((list) => read[list].length === 0))
    return refuse('There is nothing to paste', 'Copy things on a floor first.');
  const change = createChange(file);
  const ids = placeFragment(read, { change, maker: createIdMaker(file), move: shift(by), isOwn: false });
  return change.plan(`Pasted ${nameFragment(read)}`, ids.length > 0 ? ids : read.types.map(({ id }) => id));
}

/** Sets copies of things down, each a step further than the last. What they name outside themselves they go on naming. */
export function repeatThings(file: FloorFile, ids: readonly string[], step: Point, copies = 1): Edit {
  const things = findAllListed(file, ids).filter(({ list }) => list !== 'types');
  if (things.length === 0) return refuse('Nothing is selected', 'Select what to repeat.');
  if (!Number.isInteger(copies) || copies < 1 || copies * things.length > MOST_COPIES)
    return refuse(
      `${copies} copies of ${nameThings(things)} cannot be set`,
      `Write a number from 1 on, for at most ${MOST_COPIES} things.`,
    );
  const fragment = collectFragment(file, ids);
  const change = createChange(file);
  const maker = createIdMaker(file);
  const placed: string[] = [];
  for (let copy = 1; copy <= copies; copy++) {
    const move = shift([step[0] * copy, step[1] * copy]);
    placed.push(...placeFragment(fragment, { change, maker, move, isOwn: true }));
  }
  return change.plan(`Repeated ${nameThings(things)}${copies === 1 ? '' : ` ${copies} times`}`, placed);
}

function nameFragment(fragment: Fragment): string {
  const standing = LIST_NAMES.filter((list) => list !== 'types' && list !== 'groups');
  const lists = standing.some((list) => fragment[list].length > 0) ? standing : LIST_NAMES;
  return nameThings(lists.flatMap((list) => fragment[list].map((item) => ({ list, item }) as Listed)));
}

/** What a clipboard's text holds: read as a floor file is, so that nothing gets in that a file could not bring. */
function readFragment(text: string): Fragment | Refused {
  const faults = createFaultList();
  const read = readJson(text, faults);
  const value = read.ok ? read.value : undefined;
  if (!isObject(value) || value.format !== FORMAT)
    return refuse('The clipboard holds nothing from a floor', 'Copy things on a floor first.');
  const { format: _, ...lists } = value;
  const strange = Object.keys(lists).find((key) => !LIST_NAMES.some((list) => list === key));
  if (strange !== undefined) return refuseDamaged(strange, 'is no list of things');
  const floor = { format: 'lacuna/1', name: '', rooms: [], types: [], detectors: [], ...lists };
  checkShape(floor, readShape(floorSchema), faults);
  if (faults.count === 0) checkReferences(resolveFloor(floor as unknown as FloorFile), faults);
  const [fault] = faults.list();
  if (fault !== undefined) return refuseDamaged(fault.path, fault.what);
  const file = floor as unknown as FloorFile;
  return Object.fromEntries(LIST_NAMES.map((list) => [list, listOf(file, list)])) as unknown as Fragment;
}

function refuseDamaged(path: string, what: string): Refused {
  return refuse(`The copied things are damaged: ${path} ${what}`, 'Copy them again.');
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
