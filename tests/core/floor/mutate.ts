/** Seeded damage to floor files: to the text, as a bad disk or a careless editor would, and to the values. */
import { createRandom, type Random } from '../../models/random.ts';

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };
type Container = Json[] | { [key: string]: Json };

const NAMES = [
  '<script>alert(1)</script>',
  '=HYPERLINK("x")',
  '\u202Edrawkcab\u202C',
  'a\u0000b\r\nc\u2028d',
  '𝕏'.repeat(300),
  '\uD800',
  '__proto__',
  'constructor',
  'toString',
  '',
  ' ',
  'y'.repeat(20_000),
];
const NUMBERS = [1e308, -1e308, 5e-324, -0, 0, -1, 1, 0.5, 359.9999999, 1e15, 2 ** 53, 10_000, 10_000.0001, 50, 50.1];
const TEXTS_FOR_NUMBERS = [
  'NaN',
  'Infinity',
  '-Infinity',
  '1e999',
  '-1e999',
  '0x10',
  '1_000',
  '+1',
  '.5',
  '1.',
  '01',
  '"1"',
];
const OTHERS: readonly Json[] = [null, true, false, 'text', 0, [], {}, [[]], [null], { id: 'x' }, [0, 0], [[0, 0]]];

/** A floor text with one to four wounds, the same for the same seed. */
export function mutateText(text: string, seed: number): string {
  const random = createRandom(seed);
  const wounds = random.whole(1, 4);
  if (random.chance(0.45)) {
    let damaged = text;
    for (let i = 0; i < wounds; i++) damaged = woundText(damaged, random);
    return damaged;
  }
  const value = JSON.parse(text) as Json;
  for (let i = 0; i < wounds; i++) woundValue(value, random);
  return JSON.stringify(value, (_, each: unknown) => (Object.is(each, -0) ? '\u0000-0' : each)).replaceAll(
    '"\\u0000-0"',
    '-0',
  );
}

function woundText(text: string, random: Random): string {
  const at = random.whole(0, Math.max(0, text.length - 1));
  const to = Math.min(text.length, at + random.whole(1, 30));
  const splice = (patch: string, until = at): string => text.slice(0, at) + patch + text.slice(until);
  switch (random.whole(0, 9)) {
    case 0:
      return text.slice(0, at);
    case 1:
      return splice(String.fromCharCode(random.whole(0, 0xffff)), at + 1);
    case 2:
      return splice(random.pick([...'{}[]",:\\0-.eE \n'])); // one stray character
    case 3:
      return splice('', to);
    case 4:
      return splice(text.slice(at, to).repeat(2), to);
    case 5: {
      // A key repeated, in its own object: right before some key of it.
      const keys = [...text.matchAll(/"(\w+)" *:/g)];
      const key = keys[random.whole(0, Math.max(0, keys.length - 1))];
      if (key === undefined) return text;
      return `${text.slice(0, key.index)}"${key[1]}": ${random.pick(['1', '"x"', '[]', 'null'])}, ${text.slice(key.index)}`;
    }
    case 6: {
      const numbers = [...text.matchAll(/-?\d+(\.\d+)?/g)];
      const number = numbers[random.whole(0, Math.max(0, numbers.length - 1))];
      if (number === undefined) return text;
      const patch = random.chance(0.5) ? random.pick(TEXTS_FOR_NUMBERS) : String(random.pick(NUMBERS));
      return text.slice(0, number.index) + patch + text.slice(number.index + number[0].length);
    }
    case 7:
      return splice(random.pick(['['.repeat(3_000), '{"a":'.repeat(500), `${'['.repeat(400)}${']'.repeat(400)}`]));
    case 8:
      return `${random.pick(['\uFEFF', '\uFEFF\uFEFF', '/* */', ')]}\n', '\u0000'])}${text}`;
    default:
      return text + random.pick(['\n\n', '{}', ',', '\u0000', text]);
  }
}

function woundValue(root: Json, random: Random): void {
  const holder = pickContainer(root, random);
  const keys = Object.keys(holder);
  const key = keys[random.whole(0, Math.max(0, keys.length - 1))];
  const get = (): Json => (holder as { [key: string]: Json })[key ?? ''] ?? null;
  const set = (value: Json): void => {
    if (key !== undefined) (holder as { [key: string]: Json })[key] = value;
  };
  const value = get();
  switch (random.whole(0, 8)) {
    case 0:
      set(structuredClone(random.pick(OTHERS)));
      break;
    case 1:
      if (Array.isArray(holder)) holder.splice(Number(key ?? 0), 1);
      else if (key !== undefined) delete holder[key];
      break;
    case 2:
      if (Array.isArray(holder))
        holder.push(structuredClone(holder[random.whole(0, Math.max(0, holder.length - 1))] ?? 0));
      else
        Object.defineProperty(holder, random.pick([...NAMES, 'notes', 'nmae', 'Top', 'head', 'state', 'height']), {
          value: structuredClone(random.pick(OTHERS)),
          enumerable: true,
          configurable: true,
          writable: true,
        });
      break;
    case 3:
      set(random.pick(NUMBERS));
      break;
    case 4:
      set(random.pick(NAMES));
      break;
    case 5:
      // Numbers nudged and mirrored: outlines cross, heights turn over, lenses leave their rooms.
      if (typeof value === 'number')
        set(random.pick([value + random.between(-3, 3), -value, value * 100, value / 7, value + 0.0005]));
      break;
    case 6:
      // References and ids of other things.
      set(random.pick(collectIds(root)));
      break;
    case 7:
      if (Array.isArray(holder) && holder.length > 1) {
        const [a, b] = [random.whole(0, holder.length - 1), random.whole(0, holder.length - 1)];
        [holder[a], holder[b]] = [holder[b] ?? null, holder[a] ?? null];
      }
      break;
    default:
      if (Array.isArray(value)) value.length = random.whole(0, value.length);
  }
}

/** A list or object somewhere in the file, outlines not more often than what surrounds them. */
function pickContainer(root: Json, random: Random): Container {
  let here = root as Container;
  for (;;) {
    const inner = Object.values(here).filter((each): each is Container => typeof each === 'object' && each !== null);
    if (inner.length === 0 || random.chance(0.2)) return here;
    here = random.pick(inner);
  }
}

function collectIds(root: Json): string[] {
  const ids = ['nothing'];
  for (const list of Object.values(root as { [key: string]: Json })) {
    if (!Array.isArray(list)) continue;
    for (const each of list.slice(0, 40)) {
      if (typeof each === 'object' && each !== null && !Array.isArray(each) && typeof each.id === 'string')
        ids.push(each.id);
    }
  }
  return ids;
}
