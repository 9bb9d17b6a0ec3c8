import { describeValue, type FaultList, formatPath } from './fault.ts';

/** Objects and lists within one another: more than any floor needs, less than any reader chokes on. */
export const DEPTH = 100;

/**
 * Adds a fault for whatever in a value no JSON file can hold: numbers that are not finite, functions, objects of a
 * class, cycles, too great a depth. A key whose value is undefined counts as left out.
 * @returns how many colons the value needs as JSON text: its keys, and the colons in its texts and keys
 */
export function surveyValue(value: unknown, faults: FaultList): number {
  /** Keys and list positions from the root; only the first `depth` of them hold. */
  const steps: (string | number)[] = [];
  let colons = 0;
  const refuse = (depth: number, what: string, remedy: string): void => {
    faults.add(formatPath(steps.slice(0, depth)), what, remedy);
  };

  const survey = (each: unknown, depth: number): void => {
    switch (typeof each) {
      case 'boolean':
        return;
      case 'string':
        if (each.includes(':')) colons += each.split(':').length - 1;
        return;
      case 'number':
        if (!Number.isFinite(each)) refuse(depth, `is ${describeValue(each)}`, 'Give a finite number.');
        return;
      case 'object':
        if (each === null) return;
        if (depth >= DEPTH) refuse(depth, 'goes too deep', `A floor file nests at most ${DEPTH} objects and lists.`);
        else if (Array.isArray(each)) surveyList(each, depth);
        else surveyObject(each, depth);
        return;
      default:
        refuse(depth, `is ${describeValue(each)}`, 'Give a text, a number, true, false, null, a list or an object.');
    }
  };
  const surveyList = (list: readonly unknown[], depth: number): void => {
    for (let i = 0; i < list.length; i++) {
      const each = list[i];
      // Most of a file is coordinates: they pass here, without a call.
      if (typeof each === 'number' && each > -Infinity && each < Infinity) continue;
      steps[depth] = i;
      survey(each, depth + 1);
      if (faults.isFull) return;
    }
  };
  const surveyObject = (object: object, depth: number): void => {
    const prototype: unknown = Object.getPrototypeOf(object);
    if (prototype !== Object.prototype && prototype !== null) {
      refuse(depth, 'is an object of a class', 'Give a plain object.');
      return;
    }
    // A plain object inherits nothing that could be listed, and for…in makes no list of keys first.
    for (const key in object) {
      const member: unknown = (object as Readonly<Record<string, unknown>>)[key];
      if (member === undefined) continue;
      colons++;
      if (key.includes(':')) colons += key.split(':').length - 1;
      steps[depth] = key;
      survey(member, depth + 1);
      if (faults.isFull) return;
    }
  };
  survey(value, 0);
  return colons;
}
