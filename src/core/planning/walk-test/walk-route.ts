/** One way through all test points: always to the nearest that is left, the risky ones of a part first. */
import type { Point } from '../../floor/index.ts';

export interface Stop {
  readonly at: Point;
  /** 0 first; stops of one rank are walked before the next rank begins. */
  readonly rank: number;
}

/** More stops of one rank than this are walked in strips, which takes no search. */
const MOST_SEARCHED = 2_000;
/** Width of a strip, metres. */
const STRIP_M = 3;

/** Stops in the order they are walked, from a place on. Equal distances keep the order of the list. */
export function walkRoute<Each extends Stop>(stops: readonly Each[], start: Point): readonly Each[] {
  const ranks = [...new Set(stops.map((each) => each.rank))].sort((a, b) => a - b);
  const route: Each[] = [];
  for (const rank of ranks) {
    const ofRank = stops.filter((each) => each.rank === rank);
    const from = route.at(-1)?.at ?? start;
    route.push(...(ofRank.length > MOST_SEARCHED ? walkStrips(ofRank) : walkNearest(ofRank, from)));
  }
  return route;
}

function walkNearest<Each extends Stop>(stops: readonly Each[], start: Point): Each[] {
  const left = [...stops];
  const route: Each[] = [];
  let [x, y] = start;
  while (left.length > 0) {
    let best = 0;
    let nearest = Infinity;
    for (const [index, { at }] of left.entries()) {
      const distance = (at[0] - x) ** 2 + (at[1] - y) ** 2;
      if (distance < nearest) [best, nearest] = [index, distance];
    }
    const [next] = left.splice(best, 1);
    if (next === undefined) break;
    route.push(next);
    [x, y] = next.at;
  }
  return route;
}

/** Up one strip and down the next. */
function walkStrips<Each extends Stop>(stops: readonly Each[]): Each[] {
  const stripOf = ({ at }: Each) => Math.floor(at[0] / STRIP_M);
  return [...stops].sort((a, b) => {
    const strip = stripOf(a);
    if (strip !== stripOf(b)) return strip - stripOf(b);
    return strip % 2 === 0 ? a.at[1] - b.at[1] : b.at[1] - a.at[1];
  });
}
