/** The last word has the floor file's own judge: what it refuses is left out, until it refuses nothing. */
import { type FloorFile, validateFloor } from '../../core/floor/index.ts';
import type { Account } from './account.ts';

const ROUNDS = 50;
const CELLS = [0.2, 0.5, 1];
const LISTS = ['rooms', 'openings', 'furniture', 'luminaires', 'workplaces', 'sources'] as const;
type ListName = (typeof LISTS)[number];

/** The floor without what keeps it from being valid; each thing left out is told with the reason of the refusal. */
export function leaveOutFaults(draft: FloorFile, account: Account): FloorFile {
  let floor = draft;
  for (let round = 0; round < ROUNDS; round++) {
    const judged = validateFloor(floor);
    if (judged.ok) return floor;
    const bad = new Map<ListName, Map<number, string>>();
    let isLarge = false;
    for (const { path, what, remedy } of judged.faults) {
      const [, name = '', digits = ''] = /^(\w+)\[(\d+)\]/.exec(path) ?? [];
      const list = LISTS.find((each) => each === name);
      if (list !== undefined)
        bad.set(list, (bad.get(list) ?? new Map<number, string>()).set(Number(digits), `${what}. ${remedy}`));
      else if (path === 'analysis.cell') isLarge = true;
      // Lists that are too long lose their ends.
      else if (LISTS.some((each) => each === path)) floor = halve(floor, path as ListName);
    }
    if (isLarge) floor = coarsen(floor, account);
    for (const [list, items] of bad) floor = without(floor, list, items, account);
  }
  return { ...draft, rooms: [], openings: [], furniture: [], luminaires: [], workplaces: [], sources: [] };
}

function without(floor: FloorFile, list: ListName, items: ReadonlyMap<number, string>, account: Account): FloorFile {
  const things: readonly { readonly notes?: unknown }[] = floor[list] ?? [];
  for (const [i, reason] of items) {
    const notes = things[i]?.notes;
    const key = typeof notes === 'object' && notes !== null && 'source' in notes ? String(notes.source) : '';
    account.add('left out', list, `A floor file does not hold them: it ${reason}`, { key, name: '', at: null });
  }
  return { ...floor, [list]: things.filter((_, i) => !items.has(i)) };
}

function halve(floor: FloorFile, list: ListName): FloorFile {
  const things: readonly unknown[] = floor[list] ?? [];
  return { ...floor, [list]: things.slice(0, Math.floor(things.length / 2)) };
}

/** Larger cells for a very large floor; when the largest are not enough, without the room farthest from the others. */
function coarsen(floor: FloorFile, account: Account): FloorFile {
  const now = floor.analysis?.cell ?? 0.1;
  const next = CELLS.find((cell) => cell > now);
  if (next !== undefined) {
    account.add('guessed', 'cells', `The floor is very large: it is judged in cells of ${next} m.`);
    return { ...floor, analysis: { ...floor.analysis, cell: next } };
  }
  const corners = floor.rooms.map(({ outline }) => outline[0] ?? [0, 0]);
  const middle = (axis: 0 | 1): number =>
    corners.map((corner) => corner[axis]).sort((a, b) => a - b)[corners.length >> 1] ?? 0;
  const [x, y] = [middle(0), middle(1)];
  let [farthest, most] = [0, -1];
  corners.forEach((corner, i) => {
    const away = Math.hypot(corner[0] - x, corner[1] - y);
    if (away > most) [farthest, most] = [i, away];
  });
  return without(
    floor,
    'rooms',
    new Map([[farthest, 'lies too far from the other rooms. Make two floors of them.']]),
    account,
  );
}
