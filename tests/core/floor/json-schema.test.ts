import { fileURLToPath } from 'node:url';
import Ajv from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import { floorJsonSchema } from '../../../src/core/floor/index.ts';
import { readFloorTexts } from './floor-texts.ts';
import { createSampleFloor, type Loose } from './sample-floor.ts';

const PUBLISHED = fileURLToPath(new URL('../../../models/lacuna-1.schema.json', import.meta.url));
const isValid = new Ajv({ strict: false }).compile(floorJsonSchema());

test('the published schema is the generated one (npx vitest run tests/core/floor/json-schema.test.ts -u writes it again)', async () => {
  await expect(`${JSON.stringify(floorJsonSchema(), null, 2)}\n`).toMatchFileSnapshot(PUBLISHED);
});

test('it is JSON Schema 2020-12, with a title', () => {
  expect(floorJsonSchema()).toMatchObject({
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: 'Lacuna floor file, lacuna/1',
  });
});

test.each(readFloorTexts())('%s is valid by it', (_, text) => {
  isValid(JSON.parse(text));
  expect(isValid.errors).toBe(null);
});

describe('it refuses what the reader refuses for its shape alone', () => {
  const cases: readonly (readonly [string, (floor: Loose) => void])[] = [
    ['a missing key', (f) => delete f.rooms[0].ceiling],
    ['an unknown key', (f) => Object.assign(f.rooms[0], { cieling: 3 })],
    ['another format', (f) => Object.assign(f, { format: 'lacuna/2' })],
    ['a wrong kind', (f) => Object.assign(f.furniture[0], { top: '2' })],
    ['a bound', (f) => Object.assign(f.detectors[0], { reach: 0 })],
    ['a bound that is not reached', (f) => Object.assign(f, { analysis: { crossingAngle: 90 } })],
    ['a point of three', (f) => f.workplaces[0].at.push(0)],
    ['an outline of two', (f) => f.zones[0].outline.splice(2)],
    ['a range of two shapes', (f) => Object.assign(f.types[0].ranges[0], { length: 1, width: 1 })],
    ['a word', (f) => Object.assign(f.zones[0], { need: 'standing' })],
    ['notes', (f) => Object.assign(f, { notes: 1 })],
  ];
  test.each(cases)('%s', (_, breakIt) => {
    const floor = createSampleFloor();
    expect(isValid(floor)).toBe(true);
    breakIt(floor);
    expect(isValid(floor)).toBe(false);
  });
});

test('it names every list of a floor', () => {
  const { properties } = floorJsonSchema() as { properties: Record<string, unknown> };
  expect(Object.keys(properties)).toEqual(expect.arrayContaining(Object.keys(createSampleFloor())));
});
