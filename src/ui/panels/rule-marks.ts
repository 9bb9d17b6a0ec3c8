/** The marks of the rule: the ends, the two planes and the tops that can hide people; and where their labels stand. */
import type { PlaneName } from '../../core/coverage/result.ts';
import type { Floor } from '../../core/floor/index.ts';
import { kindInPlural } from './words.ts';

export type RuleMark = { readonly key: string; readonly height: number; readonly word: string } & (
  | { readonly what: 'end' }
  | { readonly what: 'plane'; readonly plane: PlaneName }
  | { readonly what: 'tops'; readonly ids: readonly string[] }
);

/** The parts of a floor the rule is made of. */
export type RuleFloor = Pick<Floor, 'rooms' | 'furniture' | 'analysis'>;

/** How many different tops the rule carries: those most pieces share. */
const MOST_TOPS = 5;

/** The highest ceiling, metres; 3 on a floor without rooms. */
export function ceilingOf(floor: Pick<Floor, 'rooms'>): number {
  return floor.rooms.reduce((high, room) => Math.max(high, room.ceiling), 0) || 3;
}

/** All marks from the ceiling down. Pieces up to the ceiling and those under the seated plane are left out: they set no choice. */
export function listMarks(floor: RuleFloor): readonly RuleMark[] {
  const ceiling = ceilingOf(floor);
  const { seatedPlane, walkingPlane } = floor.analysis;
  const tops = new Map<string, { word: string; height: number; ids: string[] }>();
  for (const piece of floor.furniture) {
    if (piece.top <= seatedPlane || piece.top >= ceiling - 0.005) continue;
    const key = `${piece.kind} ${piece.top.toFixed(2)}`;
    const found = tops.get(key);
    if (found === undefined) tops.set(key, { word: kindInPlural(piece.kind), height: piece.top, ids: [piece.id] });
    else found.ids.push(piece.id);
  }
  const shared = [...tops.entries()].sort(([, a], [, b]) => b.ids.length - a.ids.length).slice(0, MOST_TOPS);
  const marks: RuleMark[] = [
    { what: 'end', key: 'ceiling', height: ceiling, word: 'ceiling' },
    { what: 'end', key: 'floor', height: 0, word: 'floor' },
    { what: 'plane', key: 'seated', height: seatedPlane, word: 'seated', plane: 'seated' },
    { what: 'plane', key: 'walking', height: walkingPlane, word: 'walking', plane: 'walking' },
    ...shared.map(([key, { word, height, ids }]): RuleMark => ({ what: 'tops', key, height, word, ids })),
  ];
  return marks.sort((a, b) => b.height - a.height);
}

/**
 * Where labels stand so that each keeps its distance from the next: as near to their places as that allows.
 * @param places wanted offsets in px, ascending
 */
export function spreadLabels(places: readonly number[], distance: number): number[] {
  // Pools of labels that touch are centred on the middle of what they want.
  const pools: { wanted: number[]; start: number }[] = [];
  for (const place of places) {
    pools.push({ wanted: [place], start: place });
    for (;;) {
      const last = pools.at(-1);
      const before = pools.at(-2);
      if (last === undefined || before === undefined || before.start + before.wanted.length * distance <= last.start)
        break;
      const wanted = [...before.wanted, ...last.wanted];
      const offsets = wanted.map((want, i) => want - i * distance);
      pools.splice(-2, 2, { wanted, start: offsets.reduce((sum, each) => sum + each, 0) / wanted.length });
    }
  }
  return pools.flatMap(({ wanted, start }) => wanted.map((_, i) => start + i * distance));
}
