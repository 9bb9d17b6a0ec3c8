/** A floor that is sent by what differs is, on the other side, the floor. */
import { expect, test } from 'vitest';
import { type Floor, resolveFloor, validateFloor } from '../../src/core/floor/index.ts';
import { createFloorReceiver, createFloorSender, type Wired } from '../../src/workers/floor-wire.ts';
import type { Request } from '../../src/workers/protocol.ts';
import { EDITS } from '../core/coverage/random-edits.ts';
import { createRandom } from '../models/random.ts';
import { randomFloor } from '../models/random-floor.ts';

/** Both sides with a clone between them, as between threads. */
function openWire() {
  const send = createFloorSender();
  const receive = createFloorReceiver();
  let last: Wired | null = null;
  return {
    carry(floor: Floor): Floor {
      let request: Request | null = null;
      send({ type: 'check', jobId: 1, input: floor }, (wired) => {
        last = wired;
        request = receive(structuredClone(wired));
      });
      return (request as unknown as Extract<Request, { type: 'check' }>).input;
    },
    fail(floor: Floor): void {
      send({ type: 'check', jobId: 1, input: floor }, () => {
        throw new Error('not sent');
      });
    },
    sizeOfLast: () => JSON.stringify(last).length,
  };
}

test.each([811, 812, 813, 814])('floor %i, edit after edit', (seed) => {
  const random = createRandom(seed);
  const wire = openWire();
  let file = randomFloor(seed);
  for (let k = 0; k < 120; k++) {
    const parsed = validateFloor(EDITS[random.pick(Object.keys(EDITS))]!(file, random));
    if (!parsed.ok) continue;
    file = parsed.file;
    expect(wire.carry(parsed.floor)).toStrictEqual(parsed.floor);
  }
});

test('what has not changed is not sent and stays the object it was', () => {
  const wire = openWire();
  const floor = resolveFloor(randomFloor(815));
  const before = wire.carry(floor);
  const whole = wire.sizeOfLast();
  const moved = { ...floor.furniture[1]!, top: 1.23 };
  const after = wire.carry({ ...floor, furniture: floor.furniture.with(1, moved) });
  expect(wire.sizeOfLast()).toBeLessThan(whole / 10);
  expect(after.furniture.map((piece, k) => piece === before.furniture[k])).toEqual(
    floor.furniture.map((_, k) => k !== 1),
  );
  for (const key of ['rooms', 'detectors', 'types', 'groups', 'openings', 'analysis', 'workplaces'] as const)
    expect(after[key], key).toBe(before[key]);
  const shorter = wire.carry({ ...floor, furniture: floor.furniture.slice(1) });
  expect(shorter.furniture.slice(1)).toEqual(after.furniture.slice(2).with(0, shorter.furniture[1]!));
  expect(shorter.furniture[2]).toBe(after.furniture[3]);
});

test('a member that comes, goes, or is undefined is told', () => {
  const wire = openWire();
  const floor = resolveFloor(randomFloor(816));
  wire.carry(floor);
  expect(wire.carry({ ...floor, notes: undefined })).toStrictEqual({ ...floor, notes: undefined });
  const { notes: _, ...without } = floor;
  expect(wire.carry(without as Floor)).toStrictEqual(without);
  expect(wire.carry(floor)).toStrictEqual(floor);
});

test('a floor that could not be sent is sent with the next', () => {
  const wire = openWire();
  const floor = resolveFloor(randomFloor(817));
  expect(() => wire.fail(floor)).toThrow('not sent');
  expect(wire.carry(floor)).toStrictEqual(floor);
  const other = { ...floor, name: 'Other' };
  expect(() => wire.fail(other)).toThrow('not sent');
  const third = { ...other, furniture: floor.furniture.slice(1) };
  expect(wire.carry(third)).toStrictEqual(third);
});
