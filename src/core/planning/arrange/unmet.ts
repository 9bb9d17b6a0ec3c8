/** Why a place cannot be met from any candidate: the nearest miss, in plain words. */
import type { Coverage } from '../../coverage/index.ts';
import { forCells } from '../../coverage/index.ts';
import type { BlockerId, Floor, Motion, Point } from '../../floor/index.ts';
import { shareOf } from '../../floor/index.ts';
import { isInRing } from '../../geometry/polygon.ts';
import { ABOVE_TABLE, rangeAt, traceSight } from '../../sight/index.ts';
import type { BuiltProblem, PlaceNeed } from './build-problem.ts';
import type { Candidate } from './candidates.ts';

/** A need that the arrangement does not meet. */
export interface Unmet {
  readonly kind: 'workplace' | 'zone';
  readonly id: string;
  readonly at: Point;
  /** Share that the candidates see all together, and share that is needed. */
  readonly reachable: number;
  readonly needed: number;
  readonly text: string;
}

/** Candidates that are asked about a place, nearest first; and places asked about in a zone. */
const ASKED = 60;
const POINTS = 24;

export interface UnmetContext {
  readonly coverage: Coverage;
  readonly built: BuiltProblem;
  readonly candidates: readonly Candidate[];
}

/** Says of a need that cannot be met, or only in part, what stands in the way. */
export function explainUnmet({ coverage, built, candidates }: UnmetContext, place: PlaceNeed): Unmet {
  const { floor } = coverage;
  if (place.kind === 'workplace') {
    const workplace = floor.workplaces[place.index]!;
    const samples = coverage.samples[place.index]!;
    const needed = floor.analysis.workplaceShare;
    const name = `Workplace ${nameWithId(workplace)}`;
    const say = (text: string): Unmet => ({
      kind: 'workplace',
      id: workplace.id,
      at: workplace.at,
      reachable: place.reachable,
      needed,
      text,
    });
    if (samples.room < 0) return say(`${name} lies in no room. Move it into one.`);
    if (samples.count === 0) return say(`${name} has no place to be in: furniture takes all of it. Move one of them.`);
    const { radius } = workplace;
    const points = Array.from({ length: 9 }, (_, k): Point => {
      const angle = (k * Math.PI) / 4;
      const reach = k === 8 ? 0 : 0.8 * radius;
      return [workplace.at[0] + reach * Math.cos(angle), workplace.at[1] + reach * Math.sin(angle)];
    });
    const why = explainPoints(coverage, built, candidates, samples.room, points, samples.heights[0], 'minor');
    return say(`${name} cannot be met: ${shareWords(place.reachable, needed)} ${why}`);
  }
  const zone = floor.zones[place.index]!;
  const needed = shareOf(zone);
  const cells = built.unreached(place.index);
  const { lattice, room } = coverage.grid;
  const all: { at: Point; room: number }[] = [];
  if (cells) {
    forCells(cells, (i, j) => {
      const at: Point = [lattice.x0 + (i + 0.5) * lattice.cell, lattice.y0 + (j + 0.5) * lattice.cell];
      all.push({ at, room: room[j * lattice.nx + i]! });
    });
  }
  const [first] = all;
  const inRoom = all.filter((each) => each.room === first?.room);
  const step = Math.max(1, Math.floor(inRoom.length / POINTS));
  const points = inRoom.filter((_, k) => k % step === 0).map((each) => each.at);
  const height = zone.need === 'seated' ? coverage.seated.height : coverage.walking.height;
  const why =
    first === undefined
      ? 'Cells that are walked past are seen for too few headings.'
      : explainPoints(
          coverage,
          built,
          candidates,
          first.room,
          points,
          height,
          zone.need === 'seated' ? 'minor' : 'tangential',
        );
  return {
    kind: 'zone',
    id: zone.id,
    at: points[Math.floor(points.length / 2)] ?? zone.outline[0]!,
    reachable: place.reachable,
    needed,
    text: `Zone ${nameWithId(zone)} cannot be met: ${shareWords(place.reachable, needed)} ${why}`,
  };
}

function shareWords(reachable: number, needed: number): string {
  if (reachable <= 0) return 'no place on this grid sees any of it.';
  return `all places on this grid together see ${percent(reachable)} of it, ${percent(needed)} is needed.`;
}

function percent(share: number): string {
  return `${Math.floor(share * 100 + 1e-6)} %`;
}

function nameWithId({ id, name }: { readonly id: string; readonly name: string }): string {
  return name === '' || name === id ? id : `${name} (${id})`;
}

/** The cause that stands nearest to being cured, over the places that no candidate sees. */
function explainPoints(
  coverage: Coverage,
  { scene, forbidden }: BuiltProblem,
  candidates: readonly Candidate[],
  room: number,
  points: readonly Point[],
  height: number,
  motion: Motion,
): string {
  const { floor } = coverage;
  const where = nameWithId(floor.rooms[room]!);
  const own = [...candidates.keys()].filter((column) => candidates[column]!.room === room);
  if (own.length === 0) {
    return `No detector can hang in room ${where}: nothing of its grid is left by the keep-outs. Make the steps or the keep-outs smaller.`;
  }
  const tooHigh = explainHeight(coverage, scene.floor, own, height, motion);
  if (tooHigh) return tooHigh;
  const center = points[Math.floor(points.length / 2)] ?? points[0]!;
  const near = [...own]
    .sort((a, b) => distanceTo(candidates[a]!, center) - distanceTo(candidates[b]!, center))
    .slice(0, ASKED);
  const hiders = new Map<BlockerId, number>();
  let hidden = 0;
  let range = 0;
  let nobody = 0;
  for (const [x, y] of points) {
    let why: 'seen' | 'nobody' | 'hidden' | 'range' = 'range';
    let by: BlockerId | null = null;
    for (const column of near) {
      const sight = traceSight(scene, column, { x, y, h: height }, motion, 'stated');
      if (sight.seen) {
        why = forbidden[column] === 1 ? 'nobody' : 'seen';
        if (why === 'seen') break;
      } else if (why === 'range' && sight.why === 'hidden') {
        why = 'hidden';
        by = sight.by;
      }
    }
    if (why === 'nobody') nobody += 1;
    else if (why === 'range') range += 1;
    else if (by !== null) {
      hidden += 1;
      hiders.set(by, (hiders.get(by) ?? 0) + 1);
    }
  }
  if (nobody > 0 && nobody >= hidden) {
    const zones = floor.zones.filter(
      ({ need, outline }) => need === 'nobody' && points.some(([x, y]) => isInRing(outline, x, y)),
    );
    const others = floor.zones.filter(({ need }) => need === 'nobody');
    const names = (zones.length > 0 ? zones : others).map(nameWithId).join(', ');
    return zones.length > 0
      ? `It lies in ${names}, where nobody may be seen: the two needs contradict each other.`
      : `Every place that sees the rest would also see ${names}, where nobody may be seen.`;
  }
  const [most] = [...hiders].sort((a, b) => b[1] - a[1]);
  if (most && hidden >= range) return `${hiderWords(floor, most[0])} hides the rest even from the nearest places.`;
  if (range > 0)
    return `The rest is out of range of every place on the grid: try smaller steps or keep-outs, or a wider type.`;
  return 'What single places see does not add up.';
}

/** Lenses that hang so high that the type sees nothing for this motion. */
function explainHeight(
  coverage: Coverage,
  floor: Floor,
  own: readonly number[],
  height: number,
  motion: Motion,
): string | null {
  const sized = own.some((column) => rangeAt(floor, floor.detectors[column]!, motion, height) !== null);
  if (sized) return null;
  const detector = floor.detectors[own[0]!]!;
  const type = floor.types.find(({ id }) => id === detector.type)!;
  const rows = type.ranges.filter((row) => row.motion === motion);
  const words = motion === 'minor' ? 'small movements' : 'walking';
  if (rows.length === 0) return `${nameWithId(type)} has no range for ${words}. Choose another type.`;
  const highest = Math.max(...rows.map(({ mounting }) => mounting));
  const ceiling = coverage.floor.rooms.find(({ outline }) => isInRing(outline, ...detector.at))?.ceiling ?? 0;
  return ceiling - type.drop > highest + ABOVE_TABLE
    ? `The ceiling is ${ceiling.toFixed(2)} m high, and ${nameWithId(type)} is stated for ${words} up to ${highest.toFixed(2)} m. Choose a type for this height, or hang it lower.`
    : `${nameWithId(type)} sees no ${words} from the height of this ceiling (${ceiling.toFixed(2)} m). Choose another type.`;
}

function distanceTo({ at }: Candidate, [x, y]: Point): number {
  return Math.hypot(at[0] - x, at[1] - y);
}

function hiderWords(floor: Floor, id: BlockerId): string {
  const room = floor.rooms.find((each) => each.id === id);
  if (room) return `A wall of ${nameWithId(room)}`;
  const piece = floor.furniture.find((each) => each.id === id);
  if (piece) return `${nameWithId(piece)} (${piece.top.toFixed(2)} m)`;
  const luminaire = floor.luminaires.find((each) => each.id === id);
  return luminaire ? nameWithId(luminaire) : id;
}
