/** A worker keeps what it worked out for the floor before: its answer must be that of a worker which never saw one. */
import { afterAll, expect, test } from 'vitest';
import { validateFloor } from '../../src/core/floor/index.ts';
import { judgeFloor } from '../../src/core/planning/judge.ts';
import { createTwin } from '../../src/workers/twin.ts';
import { EDITS } from '../core/coverage/random-edits.ts';
import { createRandom } from '../models/random.ts';
import { randomFloor } from '../models/random-floor.ts';

const twin = createTwin();
afterAll(() => twin.close());

test.each([701, 702, 703, 704, 705, 706])(
  'floor %i, edit after edit',
  async (seed) => {
    const random = createRandom(seed);
    let file = randomFloor(seed);
    let checked = 0;
    for (let tries = 0; tries < 200 && checked < 12; tries++) {
      const name = random.pick(Object.keys(EDITS));
      const parsed = validateFloor(EDITS[name]!(file, random));
      if (!parsed.ok) continue;
      file = parsed.file;
      expect(await twin.run('check', parsed.floor), name).toEqual(judgeFloor(parsed.floor));
      checked++;
    }
    expect(checked).toBe(12);
  },
  60_000,
);
