/** What is drawn of a group while it is in hand: its cable with the length, and the spot its main measures. */
import type { Point } from '../../../core/floor/index.ts';
import type { CablePlan } from '../../../core/planning/groups/cable.ts';
import type { LightSpot } from '../../../core/planning/light/light-spot.ts';
import type { Guide } from '../../../editor/tools/guide.ts';
import { formatMetres } from '../format.ts';

/** Right-angled lines; the length of all stands at the middle of the longest. */
export function drawCable(cable: CablePlan): readonly Guide[] {
  const parts = cable.legs.flatMap(({ route }) =>
    route.slice(1).map((to, k): { readonly from: Point; readonly to: Point } => ({ from: route[k] ?? to, to })),
  );
  const length = ({ from, to }: (typeof parts)[number]) => Math.hypot(to[0] - from[0], to[1] - from[1]);
  const [first, ...others] = parts;
  if (first === undefined) return [];
  const longest = others.reduce((a, b) => (length(b) > length(a) ? b : a), first);
  const middle: Point = [(longest.from[0] + longest.to[0]) / 2, (longest.from[1] + longest.to[1]) / 2];
  return [
    ...parts.map(({ from, to }): Guide => ({ kind: 'line', style: 'cable', from, to })),
    { kind: 'words', at: middle, text: `cable ${formatMetres(cable.totalM)}` },
  ];
}

export function drawSpot({ at, radius }: LightSpot): readonly Guide[] {
  return radius === 0 ? [] : [{ kind: 'circle', style: 'help', at, radius }];
}

/** The words of a spot, where nothing else is drawn with it. */
export function nameSpot({ at, radius }: LightSpot): readonly Guide[] {
  return radius === 0 ? [] : [{ kind: 'words', at: [at[0], at[1] - radius], text: 'light measured' }];
}
