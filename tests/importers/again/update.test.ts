import { describe, expect, test } from 'vitest';
import { type FloorFile, parseFloor, serialiseFloor } from '../../../src/core/floor/index.ts';
import { updateFromSource } from '../../../src/importers/again/update.ts';
import { assembleFloor } from '../../../src/importers/assembly/assemble.ts';
import type { DrawnStorey } from '../../../src/importers/storey.ts';
import { opening, piece, rectangle, room, SOURCE, storey } from '../assembly/drawn.ts';
import { randomStorey } from '../assembly/random-storey.ts';

const assemble = (drawn: DrawnStorey): FloorFile => assembleFloor(drawn, {}, SOURCE).floor;

const FIRST = storey({
  rooms: [room('office', rectangle(0, 0, 6, 5)), room('store', rectangle(6.2, 0, 9, 5))],
  openings: [opening('door', [6.1, 1], [6.1, 2], { depth: 0.2 })],
  pieces: [
    piece('desk', 'desk', rectangle(1, 2, 2.6, 2.8), { base: 0.7, top: 0.74 }),
    piece('shelf', 'shelving', rectangle(7, 3, 8, 3.4), { top: 2.2 }),
    piece('old cabinet', 'cabinet', rectangle(4, 4, 5, 4.4), { top: 1.1 }),
  ],
});

/** The floor as somebody worked on it: a type, a detector with a mask, a group, a zone, a piece of their own. */
const worked = (change: (floor: FloorFile) => FloorFile = (floor) => floor): FloorFile => {
  const floor = assemble(FIRST);
  const [roomId] = floor.rooms.map(({ id }) => id);
  const parsed = parseFloor(
    serialiseFloor(
      change({
        ...floor,
        zones: [{ id: 'Z1', name: 'Seats', outline: rectangle(0, 0, 3, 3), need: 'seated' }],
        furniture: [
          ...(floor.furniture ?? []),
          { id: 'F9', kind: 'other', name: 'My own', outline: rectangle(5, 1, 5.5, 1.5), top: 1 },
        ],
        types: [{ id: 'T1', name: 'Type', ranges: [{ motion: 'minor', mounting: 3, plane: 0.8, diameter: 8 }] }],
        detectors: [{ id: 'D1', name: 'D1', type: 'T1', at: [3, 2.5], masks: [{ from: 10, to: 40 }] }],
        groups: [{ id: 'G1', name: 'Group', main: 'D1', serves: [roomId] }],
        records: [
          { date: '2026-01-01', by: 'me', kind: 'walk', about: 'D1', expected: 1, found: 1, pass: true, text: '' },
        ],
        analysis: { cell: 0.2 },
      } as unknown as FloorFile),
    ),
  );
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.faults));
  return parsed.file;
};

const update = (old: FloorFile, drawn: DrawnStorey) => {
  const result = updateFromSource(old, assemble(drawn));
  if (!result.ok) throw new Error(result.reasons.join('\n'));
  return { ...result, words: result.changes.map(({ fate, id, what }) => `${fate} ${id} ${what}`.trim()) };
};

describe('a newer version of a source', () => {
  test('the same again changes nothing', () => {
    const old = worked();
    const { floor, changes, unchanged } = update(old, FIRST);
    expect(changes).toEqual([]);
    // Two rooms, a door, three pieces and the desk's workplace.
    expect(unchanged).toBe(7);
    expect({ ...floor, notes: undefined }).toEqual({ ...old, notes: undefined });
  });

  test('changed, new and gone things are listed with their places; ids stay, and what people added stays', () => {
    const old = worked();
    const { floor, words, changes } = update(old, {
      ...FIRST,
      rooms: [
        room('office', rectangle(0, 0, 6, 6)),
        room('store', rectangle(6.2, 0, 9, 5)),
        room('annex', rectangle(0, 7, 4, 9)),
      ],
      pieces: [...FIRST.pieces.slice(0, 1), piece('shelf', 'shelving', rectangle(7, 3, 8, 3.4), { top: 1.6 })],
    });
    expect(words).toEqual(['changed R1 outline', 'new R3', 'changed F2 top', 'gone F3']);
    expect(changes.map(({ at }) => at)).toEqual([
      [3, 3],
      [2, 8],
      [7.5, 3.2],
      [4.5, 4.2],
    ]);
    expect(floor.furniture?.map(({ id }) => id)).toEqual(['F1', 'F2', 'F9']);
    for (const key of ['types', 'detectors', 'groups', 'zones', 'records', 'analysis'] as const)
      expect(floor[key]).toEqual(old[key]);
  });

  test('a thing the source calls differently is known by its place', () => {
    const { words, floor } = update(worked(), {
      ...FIRST,
      pieces: [
        piece('desk renamed', 'desk', rectangle(1.1, 2, 2.7, 2.8), { base: 0.7, top: 0.74, name: 'desk' }),
        ...FIRST.pieces.slice(1),
      ],
    });
    expect(words[0]).toBe('changed F1 outline');
    expect(floor.furniture?.map(({ id }) => id)).toEqual(['F1', 'F2', 'F3', 'F9']);
  });

  test('what was corrected by hand is told and not overwritten, also when it is gone', () => {
    const old = worked((floor) => ({
      ...floor,
      furniture:
        floor.furniture?.map((each) =>
          each.id === 'F2' || each.id === 'F3' ? { ...each, top: 1.93, from: 'measured' as const } : each,
        ) ?? [],
    }));
    const same = update(old, FIRST);
    expect(same.words).toEqual([]);
    const { words, floor } = update(old, {
      ...FIRST,
      pieces: [...FIRST.pieces.slice(0, 1), piece('shelf', 'shelving', rectangle(7, 3, 8, 3.4), { top: 1.6 })],
    });
    expect(words).toEqual(['kept as corrected F2 top, from', 'kept although gone F3 it was changed by hand']);
    expect(floor.furniture?.find(({ id }) => id === 'F2')).toMatchObject({ top: 1.93, from: 'measured' });
  });

  test('a room that is gone stays while detectors hang in it or a group serves it', () => {
    const { words, floor } = update(worked(), {
      ...FIRST,
      rooms: FIRST.rooms.slice(1),
      pieces: FIRST.pieces.slice(1, 2),
      openings: [],
    });
    expect(words).toContain('kept although gone R1 a group serves it');
    expect(floor.rooms.map(({ id }) => id)).toEqual(['R1', 'R2']);
  });

  test('an older floor that cannot stand with the newer version is refused with the names of what is in the way', () => {
    const result = updateFromSource(
      worked(),
      assemble({ ...FIRST, rooms: [room('office', rectangle(0, 0, 2, 5)), ...FIRST.rooms.slice(1)] }),
    );
    expect(result).toMatchObject({ ok: false });
    expect(result.ok ? [] : result.reasons).toMatchObject([
      expect.stringMatching(/^D1: detectors\[0\]\.at: is 1 m outside every room/),
    ]);
  });

  test('a door somebody opened stays open when it moves: its state is no correction', () => {
    const old = worked((floor) => ({
      ...floor,
      openings: floor.openings?.map((each) => ({ ...each, state: 'open' as const })) ?? [],
    }));
    const { floor, words } = update(old, { ...FIRST, openings: [opening('door', [6.1, 2], [6.1, 3], { depth: 0.2 })] });
    expect(words).toEqual(['changed O1 from, to']);
    expect(floor.openings?.[0]).toMatchObject({ state: 'open', from: [6.1, 2] });
  });
});

test('random storeys brought onto one another stay valid or are refused with reasons', () => {
  let kept = 0;
  for (let seed = 1; seed <= 60; seed++) {
    const result = updateFromSource(assemble(randomStorey(seed)), assemble(randomStorey(seed + 1)));
    if (result.ok) {
      kept++;
      expect(parseFloor(serialiseFloor(result.floor)).ok).toBe(true);
    } else expect(result.reasons.length).toBeGreaterThan(0);
    const again = updateFromSource(assemble(randomStorey(seed)), assemble(randomStorey(seed)));
    expect(again.ok ? again.changes : again.reasons).toEqual([]);
  }
  expect(kept).toBeGreaterThan(10);
});
