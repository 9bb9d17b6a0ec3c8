import Ajv from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import * as z from 'zod/mini';
import { checkShape } from '../../../src/core/floor/check-shape.ts';
import { createFaultList } from '../../../src/core/floor/fault.ts';
import {
  type FloorFile,
  floorJsonSchema,
  formatFault,
  parseFloor,
  resolveFloor,
  serialiseFloor,
} from '../../../src/core/floor/index.ts';
import { floorSchema } from '../../../src/core/floor/schema.ts';
import { readShape } from '../../../src/core/floor/shape.ts';
import { readFloorTexts } from './floor-texts.ts';
import { mutateText } from './mutate.ts';
import { createSampleFloor } from './sample-floor.ts';

const FILES = 10_500;
/** Every floor whole once in so many files; between them shortened, so that wounds hit every kind of thing. */
const WHOLE_EVERY = 20;
const LONGEST_MS = 2_000;

/** A floor with a few of everything. */
const shorten = (text: string): string => {
  const file = JSON.parse(text) as Record<string, unknown>;
  for (const [key, value] of Object.entries(file))
    if (Array.isArray(value) && key !== 'rooms') file[key] = value.slice(0, 6);
  return JSON.stringify(file);
};
const whole = readFloorTexts().map(([, text]) => text);
const short = [...whole.map(shorten), ...Array.from({ length: 6 }, () => JSON.stringify(createSampleFloor()))];
const textFor = (seed: number): string => {
  const from = seed % WHOLE_EVERY === 0 ? whole : short;
  return mutateText(from[Math.floor(seed / 3) % from.length] ?? '', seed);
};

/** What a message may never hold, its quotations left out: they repeat the file. */
const LEAK = /undefined|NaN|\[object|Invalid input|Infinity|\bat .*\.ts\b/;
const isCleanLine = (line: string): boolean =>
  !LEAK.test(line.replace(/"(?:[^"\\]|\\.)*"/g, '""')) && !/[\p{C}\p{Zl}\p{Zp}]/u.test(line) && line.length < 1_500;

describe(`${FILES} damaged files`, () => {
  const accepted: (readonly [seed: number, file: FloorFile])[] = [];
  const count = { refused: 0, noJson: 0, slowest: 0 };

  test('are read without a throw, each in less than 2 s, and refused in clean lines', () => {
    for (let seed = 0; seed < FILES; seed++) {
      const text = textFor(seed);
      const start = performance.now();
      const parsed = parseFloor(text);
      count.slowest = Math.max(count.slowest, performance.now() - start);
      if (parsed.ok) {
        accepted.push([seed, parsed.file]);
        continue;
      }
      count.refused++;
      const lines = parsed.faults.map(formatFault);
      if (lines[0]?.startsWith('The file is no JSON')) count.noJson++;
      const dirty = lines.filter((line) => !isCleanLine(line));
      if (dirty.length > 0 || lines.length === 0) expect.fail(`seed ${seed}: ${JSON.stringify(dirty[0])}`);
      if (parsed.faults.some(({ what, remedy }) => what === '' || !remedy.endsWith('.')))
        expect.fail(`seed ${seed}: ${lines[0]}`);
    }
    console.log(
      `${FILES} files: ${accepted.length} accepted, ${count.noJson} no JSON, slowest ${count.slowest.toFixed(0)} ms`,
    );
    expect(count.slowest).toBeLessThan(LONGEST_MS);
    // All three answers come up often, or the damage has lost its aim.
    expect(accepted.length).toBeGreaterThan(FILES / 20);
    expect(count.noJson).toBeGreaterThan(FILES / 10);
    expect(count.refused - count.noJson).toBeGreaterThan(FILES / 4);
  }, 120_000);

  test('that are accepted resolve, and come back from their text', () => {
    expect(accepted.length).toBeGreaterThan(0);
    for (const [seed, file] of accepted) {
      const floor = resolveFloor(file);
      expect(floor.rooms.length, `seed ${seed}`).toBe(file.rooms.length);
      const text = serialiseFloor(file);
      expect(JSON.parse(text), `seed ${seed}`).toEqual(file);
      expect(parseFloor(text).ok, `seed ${seed}`).toBe(true);
    }
  }, 120_000);
});

test('the reader, zod and ajv judge the shape of every damaged value alike', () => {
  const isValid = new Ajv({ strict: false, allErrors: false }).compile(floorJsonSchema());
  const shape = readShape(floorSchema);
  let [right, wrong] = [0, 0];
  // Odd seeds damage shortened floors only.
  for (let seed = 1; seed < FILES; seed += 2) {
    const text = textFor(seed);
    let value: unknown;
    try {
      value = JSON.parse(text);
    } catch {
      continue;
    }
    // Numbers beyond the largest are refused before the shape is looked at, and JSON Schema has no word for them.
    if (/[1-9]e\+?(?:308|999)/.test(text)) continue;
    const faults = createFaultList();
    checkShape(value, shape, faults);
    const mine = faults.count === 0;
    if (mine) right++;
    else wrong++;
    expect(z.safeParse(floorSchema, value).success, `seed ${seed}: ${faults.list().map(formatFault)[0]}`).toBe(mine);
    // Texts are measured in UTF-16 units here and in code points there.
    if (!/[\ud800-\udfff]/.test(text))
      expect(isValid(value), `seed ${seed}: ${faults.list().map(formatFault)[0]}`).toBe(mine);
  }
  expect(Math.min(right, wrong)).toBeGreaterThan(400);
}, 120_000);
