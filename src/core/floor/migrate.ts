import { describeValue, type FaultList, quote } from './fault.ts';

/** The format this Lacuna reads and writes. */
const FORMAT = 'lacuna/1';

/**
 * Brings a value of any format that has ever been written to the present one, or adds the fault that keeps it from it.
 * There has been one format so far. The next one adds its step here: `case 'lacuna/1': value = toSecond(value)`.
 * @returns the value in the present format, or undefined
 */
export function migrateFloor(value: unknown, faults: FaultList): unknown {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    faults.add('', `The file is ${describeValue(value)}`, 'A floor file is one JSON object.');
    return undefined;
  }
  const format = 'format' in value ? value.format : undefined;
  if (format === FORMAT) return value;
  if (typeof format === 'string' && /^lacuna\/[0-9]{1,9}$/.test(format) && Number(format.slice(7)) > 1) {
    faults.add('', `This file is from a newer Lacuna (${format})`, `This one reads ${FORMAT}.`);
  } else {
    const what =
      format === undefined ? 'is missing' : `is ${typeof format === 'string' ? quote(format) : describeValue(format)}`;
    faults.add('format', what, `This Lacuna reads ${quote(FORMAT)}.`);
  }
  return undefined;
}
