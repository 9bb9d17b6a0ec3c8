import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));
const OUTSIDE = resolve(ROOT, process.env.LACUNA_DATA ?? '../shared/data', 'floors');

/** Name and text of every floor file in `models/floors` and in the outside data. */
export function readFloorTexts(): readonly (readonly [name: string, text: string])[] {
  if (!existsSync(OUTSIDE))
    throw new Error(`The outside floors are not at ${OUTSIDE}. Set LACUNA_DATA to the folder that holds floors/.`);
  return [join(ROOT, 'models/floors'), OUTSIDE].flatMap((folder) =>
    readdirSync(folder)
      .filter((name) => name.endsWith('.json'))
      .map((name) => [name, readFileSync(join(folder, name), 'utf8')] as const),
  );
}
