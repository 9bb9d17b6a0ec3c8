/** Whether a value fits where the floor file declares it, by the declaration itself. */

import { checkShape } from '../../core/floor/check-shape.ts';
import { createFaultList } from '../../core/floor/fault.ts';
import { floorSchema } from '../../core/floor/schema.ts';
import { type Member, type ObjectShape, readShape, type Shape } from '../../core/floor/shape.ts';
import { type Refused, refuse } from './edit.ts';
import { startSentence } from './fault-words.ts';

/** The declaration of one key in a list's members, or in an object of the floor; undefined when it has none such. */
export function findMember(holder: string, key: string): Member | undefined {
  return objectOf(readShape(floorSchema), holder)?.byKey.get(key);
}

function objectOf(floor: Shape, holder: string): ObjectShape | undefined {
  const held = floor.kind === 'object' ? floor.byKey.get(holder)?.shape : undefined;
  const item = held?.kind === 'list' ? held.item : held;
  return item?.kind === 'object' ? item : undefined;
}

/** Whether a key holds a single value: a number, a text, a word or a yes or no. */
export function isSingle({ shape }: Member): boolean {
  return shape.kind === 'number' || shape.kind === 'text' || shape.kind === 'word' || shape.kind === 'flag';
}

/**
 * Why a value cannot stand where it is declared, or null.
 * @param subject what it is, in a sentence: `the top of Shelf 3`
 */
export function refuseValue(value: unknown, shape: Shape, subject: string): Refused | null {
  const faults = createFaultList();
  checkShape(value, shape, faults);
  const [fault] = faults.list();
  return fault === undefined ? null : refuse(`${startSentence(subject)} ${fault.what}`, fault.remedy);
}
