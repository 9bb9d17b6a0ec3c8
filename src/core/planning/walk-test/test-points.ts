/**
 * The test points of a floor in one walking route: entrances, then seats with the risky ones first, then what must not
 * switch. Paper and phone number them alike because both ask here.
 */
import type { CheckResult, WorkplaceResult } from '../../coverage/index.ts';
import type { Floor, Point } from '../../floor/index.ts';
import { walkRoute } from './walk-route.ts';

export type TestPart = 'entrance' | 'seat' | 'quiet';

/** Metres a person may walk in the dark after an entrance. Common practice, no source. */
export const ALLOWED_DARK_M = 1;

/** What a point is expected to show. */
export type Prediction =
  /** Metres until the first detection; null: never. */
  | { readonly kind: 'entrance'; readonly firstSeenM: number | null }
  | { readonly kind: 'seat'; readonly met: boolean; readonly share: number | null; readonly lostAtLessRange: boolean }
  /** A neighbour's room that a group sees a part of. */
  | { readonly kind: 'spill'; readonly areaM2: number }
  | { readonly kind: 'zone'; readonly met: boolean; readonly share: number | null }
  | { readonly kind: 'source'; readonly isSeen: boolean; readonly near: boolean };

export interface TestPoint {
  /** As it is written on the plan and the record: E1, S1, N1. */
  readonly no: string;
  readonly part: TestPart;
  /** The opening, workplace, group, zone or source it is about. */
  readonly about: string;
  /** The room walked into or spilled into; null where the thing itself says where it is. */
  readonly room: string | null;
  readonly at: Point;
  readonly predicted: Prediction;
}

type Stop = Omit<TestPoint, 'no'> & { readonly rank: number };

/** Numbers every test point in the order in which it is walked, each part after the one before. */
export function listTestPoints(floor: Floor, result: CheckResult): readonly TestPoint[] {
  const entrances = listEntrances(floor, result);
  let last: Point = entrances[0]?.at ?? floor.rooms[0]?.outline[0] ?? [0, 0];
  const number = (stops: readonly Stop[], letter: string): TestPoint[] => {
    const route = walkRoute(stops, last);
    last = route.at(-1)?.at ?? last;
    return route.map(({ rank: _, ...point }, index) => ({ no: `${letter}${index + 1}`, ...point }));
  };
  return [
    ...number(entrances, 'E'),
    ...number(listSeats(floor, result), 'S'),
    ...number(listQuietPlaces(floor, result), 'N'),
  ];
}

function listEntrances(floor: Floor, result: CheckResult): Stop[] {
  return result.entrances.flatMap(({ id, room, firstSeenM }): Stop[] => {
    const opening = floor.openings.find((each) => each.id === id);
    if (opening === undefined) return [];
    const at: Point = [(opening.from[0] + opening.to[0]) / 2, (opening.from[1] + opening.to[1]) / 2];
    return [{ part: 'entrance', about: id, room, at, rank: 0, predicted: { kind: 'entrance', firstSeenM } }];
  });
}

function listSeats(floor: Floor, result: CheckResult): Stop[] {
  const verdicts = new Map<string, WorkplaceResult>(result.workplaces.map((each) => [each.id, each]));
  const marginal = new Set(
    result.findings.filter((each) => each.code === 'range-margin').flatMap((each) => each.about),
  );
  return floor.workplaces.flatMap(({ id, at }): Stop[] => {
    const verdict = verdicts.get(id);
    if (verdict === undefined) return [];
    const lostAtLessRange = marginal.has(id);
    const predicted = { kind: 'seat', met: verdict.met, share: verdict.share, lostAtLessRange } as const;
    return [{ part: 'seat', about: id, room: null, at, rank: riskOf(verdict, lostAtLessRange), predicted }];
  });
}

/** Not met, then only the shoulders, then lost with less range, then seen by one lens alone, then the rest. */
function riskOf(verdict: WorkplaceResult, isMarginal: boolean): number {
  if (!verdict.met) return 0;
  if (verdict.level !== 'body') return 1;
  if (isMarginal) return 2;
  return verdict.seenBy.length === 1 ? 3 : 4;
}

function listQuietPlaces(floor: Floor, result: CheckResult): Stop[] {
  const quiet = (about: string, room: string | null, at: Point, predicted: Prediction): Stop => ({
    part: 'quiet',
    about,
    room,
    at,
    rank: 0,
    predicted,
  });
  const spill = result.spill.flatMap(({ group, room: id, areaM2 }): Stop[] => {
    const room = floor.rooms.find((each) => each.id === id);
    return room === undefined ? [] : [quiet(group, id, middleOf(room.outline), { kind: 'spill', areaM2 })];
  });
  const zones = result.zones.flatMap(({ id, need, met, share }): Stop[] => {
    const zone = floor.zones.find((each) => each.id === id);
    if (zone === undefined || need !== 'nobody') return [];
    return [quiet(id, null, middleOf(zone.outline), { kind: 'zone', met, share })];
  });
  const sources = result.sources.flatMap(({ id, seenBy, near }): Stop[] => {
    const source = floor.sources.find((each) => each.id === id);
    if (source === undefined || (seenBy.length === 0 && !near)) return [];
    return [quiet(id, null, source.at, { kind: 'source', isSeen: seenBy.length > 0, near })];
  });
  return [...spill, ...zones, ...sources];
}

/** The mean of the corners: near enough to find the place. */
function middleOf(outline: readonly Point[]): Point {
  const [x, y] = outline.reduce<Point>(([sx, sy], [px, py]) => [sx + px, sy + py], [0, 0]);
  return [x / outline.length, y / outline.length];
}
