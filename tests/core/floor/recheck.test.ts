/** A file that shares most with the last sound one is judged by what differs: to the very verdict the whole would get. */
import { expect, test } from 'vitest';
import { type FloorFile, parseFloor, validateFloor } from '../../../src/core/floor/index.ts';
import { createRandom, type Random } from '../../models/random.ts';
import { randomFloor } from '../../models/random-floor.ts';
import { EDITS } from '../coverage/random-edits.ts';

const LISTS = ['furniture', 'detectors', 'rooms', 'openings', 'workplaces', 'luminaires', 'zones'] as const;
type Loose = Readonly<Record<string, unknown>> & { readonly id: string };

/** Spoils one member of a list in one of many ways; some of them do no harm. */
function spoil(file: FloorFile, random: Random): FloorFile {
  const key = random.pick(LISTS);
  const list = (file[key] ?? []) as unknown as readonly Loose[];
  if (list.length === 0) return file;
  const index = random.whole(0, list.length - 1);
  const item = list[index]!;
  const outline = (item.outline ?? []) as readonly (readonly [number, number])[];
  const at = item.at as readonly [number, number] | undefined;
  const by = random.between(-3, 3);
  const wrong: Readonly<Record<string, unknown>> = random.pick([
    { id: random.pick(list).id },
    { odd: 1 },
    { top: item.base ?? 0 },
    { outline: [...outline.slice(0, 2).reverse(), ...outline.slice(2)] },
    { outline: outline.map(([x, y]) => [x + by, y]) },
    at === undefined ? { name: 5 } : { at: [at[0] + by, at[1]] },
    { type: 'nowhere' },
    { to: item.from },
    { masks: [{ from: 1, to: 1 }] },
  ]);
  return { ...file, [key]: list.with(index, { ...item, ...wrong }) } as FloorFile;
}

test('random edits and faults are judged as a whole reading of the text would judge them', () => {
  let sound = 0;
  let faulty = 0;
  const names = Object.keys(EDITS);
  for (let seed = 0; seed < 40; seed++) {
    const random = createRandom(seed);
    let file = randomFloor(seed);
    validateFloor(file);
    for (let step = 0; step < 40; step++) {
      const next = random.chance(0.5) ? EDITS[random.pick(names)]!(file, random) : spoil(file, random);
      const judged = validateFloor(next);
      const whole = parseFloor(JSON.stringify(next));
      const where = `seed ${seed}, step ${step}`;
      if (!judged.ok || !whole.ok) {
        expect(judged, where).toEqual(whole);
        faulty++;
        continue;
      }
      expect(judged.floor, where).toEqual(whole.floor);
      sound++;
      // The next one is judged by what it shares with this one, not with its copy.
      validateFloor(next);
      file = next;
    }
  }
  expect(sound).toBeGreaterThan(300);
  expect(faulty).toBeGreaterThan(300);
});
