/** Which way is north. */
import type { Account } from './account.ts';
import type { Vec3 } from './frame.ts';
import { type Model, readDirection } from './placements.ts';
import { numberOf, refOf, refsOf } from './step-file.ts';

/** Two norths that differ by more than this many degrees are told. */
const DIFFERENCE = 1;

/**
 * Degrees counter-clockwise from +x to north: from the context's true north, else from the map conversion; null when neither
 * is stated.
 */
export function readNorth(model: Model, account: Account): number | null {
  const { step } = model;
  const project = step.read(step.listOf('IFCPROJECT')[0] ?? 0);
  const contexts = refsOf(project[7]);
  const all = contexts.length > 0 ? contexts : step.listOf('IFCGEOMETRICREPRESENTATIONCONTEXT');
  let truth: number | undefined;
  for (const context of all) {
    if (truth !== undefined || step.typeOf(context) !== 'IFCGEOMETRICREPRESENTATIONCONTEXT') continue;
    const direction = readDirection(model, refOf(step.read(context)[5]));
    if (direction === undefined) continue;
    const [x, y] = dropCount(direction, account);
    if (Math.hypot(x, y) > 1e-9) truth = toDegrees(Math.atan2(y, x));
  }
  const [conversion] = [...step.listOf('IFCMAPCONVERSION'), ...step.listOf('IFCMAPCONVERSIONSCALED')];
  let map: number | undefined;
  if (conversion !== undefined) {
    const args = step.read(conversion);
    const [abscissa, ordinate] = [numberOf(args[5]), numberOf(args[6])];
    // The conversion turns the model's x axis to this direction east of the map; north lies a quarter turn further.
    if (abscissa !== undefined && ordinate !== undefined && Math.hypot(abscissa, ordinate) > 1e-9)
      map = toDegrees(Math.PI / 2 - Math.atan2(ordinate, abscissa));
  }
  if (truth !== undefined && map !== undefined) {
    const between = Math.abs(((truth - map + 540) % 360) - 180);
    if (between > DIFFERENCE)
      account.note(
        'guessed',
        'norths',
        `True north (${truth}°) and the map's north (${map}°) differ: true north was taken.`,
      );
  }
  return truth ?? map ?? null;
}

/** Some programs write how many numbers follow before them: (2, x, y). A true north is flat, so its third number is 0 else. */
function dropCount([a, b, c]: Vec3, account: Account): readonly [number, number] {
  if (a !== 2 || Math.abs(Math.hypot(b, c) - 1) > 1e-3) return [a, b];
  account.note(
    'guessed',
    'norths',
    'True north is written with three numbers, the first of which counts the others: the last two were taken.',
  );
  return [b, c];
}

/** From 0 up to 360, to a millionth of a degree. */
function toDegrees(radians: number): number {
  const degrees = Math.round((radians * 180e6) / Math.PI) / 1e6;
  return ((degrees % 360) + 360) % 360;
}
