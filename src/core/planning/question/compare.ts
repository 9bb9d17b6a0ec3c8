/** What changed between two states of a floor: only that, in words and numbers. */
import type { CheckResult, Finding, PlaneName } from '../../coverage/index.ts';
import type { Floor } from '../../floor/index.ts';
import type { Change, Turn } from './change.ts';
import { namer } from './change.ts';
import { listThingChanges } from './thing-changes.ts';

export interface CompareResult {
  readonly format: 'lacuna-compare/1';
  readonly old: string;
  readonly new: string;
  /** Did any verdict get worse? */
  readonly worse: boolean;
  readonly workplacesMet: { readonly old: readonly [number, number]; readonly new: readonly [number, number] };
  readonly changes: readonly Change[];
}

/** A floor with what `check` says of it. */
export interface Judged {
  readonly floor: Floor;
  readonly result: CheckResult;
}

/** Shares and lengths that differ by less are the same to a reader: half a per cent, a centimetre. */
const SAME_SHARE = 0.005;
const SAME_LENGTH = 0.01;

/**
 * Lists what differs: verdicts first (worse before better), then findings, then the things on the floor. Things are the
 * same when their ids are.
 *
 * Worse is: a workplace, zone or entrance that was met or seen and is not, or is gone while it is unmet; and a finding of
 * level fail or warn that is new. A smaller share that turns no verdict is told and is not worse.
 */
export function compareFloors(old: Judged, now: Judged): CompareResult {
  const verdicts = [...compareWorkplaces(old, now), ...compareZones(old, now), ...compareEntrances(old, now)];
  const changes = [
    ...byTurn(verdicts),
    ...comparePlanes(old.result, now.result),
    ...byTurn(compareFindings(old.result.findings, now.result.findings)),
    ...listThingChanges(old.floor, now.floor),
  ];
  return {
    format: 'lacuna-compare/1',
    old: old.result.floor,
    new: now.result.floor,
    worse: changes.some((change) => change.turn === 'worse'),
    workplacesMet: { old: old.result.workplacesMet, new: now.result.workplacesMet },
    changes,
  };
}

const TURNS: readonly Turn[] = ['worse', 'better', 'same'];

function byTurn(changes: readonly Change[]): Change[] {
  return TURNS.flatMap((turn) => changes.filter((change) => change.turn === turn));
}

/** Pairs two lists by a key: first those of the old one in its order, then what is new. */
function pair<Item>(
  old: readonly Item[],
  now: readonly Item[],
  keyOf: (item: Item) => string,
): { key: string; was: Item | null; is: Item | null }[] {
  const later = new Map(now.map((item) => [keyOf(item), item]));
  const earlier = new Set(old.map(keyOf));
  return [
    ...old.map((was) => ({ key: keyOf(was), was, is: later.get(keyOf(was)) ?? null })),
    ...now.filter((is) => !earlier.has(keyOf(is))).map((is) => ({ key: keyOf(is), was: null, is })),
  ];
}

function compareWorkplaces(old: Judged, now: Judged): Change[] {
  const nameOf = namer(old.floor.workplaces, now.floor.workplaces);
  return pair(old.result.workplaces, now.result.workplaces, ({ id }) => id).flatMap(({ key, was, is }): Change[] => {
    const say = (each: typeof was) =>
      each && `${sayMet(each.met)}, ${percent(each.share)} seen (${each.level === 'none' ? 'too little' : each.level})`;
    const isSame = was && is && was.met === is.met && was.level === is.level && near(was.share, is.share, SAME_SHARE);
    if (isSame) return [];
    return [state('workplace', key, `Workplace ${nameOf(key)}`, say(was), say(is), turnOf(was?.met, is?.met))];
  });
}

function compareZones(old: Judged, now: Judged): Change[] {
  const nameOf = namer(old.floor.zones, now.floor.zones);
  return pair(old.result.zones, now.result.zones, ({ id }) => id).flatMap(({ key, was, is }): Change[] => {
    const say = (each: typeof was) => each && `${sayMet(each.met)}, ${percent(each.share)} seen (${each.need})`;
    const isSame = was && is && was.met === is.met && was.need === is.need && near(was.share, is.share, SAME_SHARE);
    if (isSame) return [];
    return [state('zone', key, `Zone ${nameOf(key)}`, say(was), say(is), turnOf(was?.met, is?.met))];
  });
}

function compareEntrances(old: Judged, now: Judged): Change[] {
  const roomOf = namer(old.floor.rooms, now.floor.rooms);
  const keyOf = ({ id, room }: { id: string; room: string }) => `${id} into ${roomOf(room)}`;
  return pair(old.result.entrances, now.result.entrances, keyOf).flatMap(({ key, was, is }): Change[] => {
    const say = (each: typeof was) =>
      each && (each.firstSeenM === null ? 'never seen' : `first seen after ${each.firstSeenM.toFixed(2)} m`);
    if (was && is && near(was.firstSeenM, is.firstSeenM, SAME_LENGTH)) return [];
    const dark = (each: typeof was) => each?.firstSeenM ?? Number.POSITIVE_INFINITY;
    const turn = was && is ? (dark(is) > dark(was) ? 'worse' : 'better') : turnOf(wasSeen(was), wasSeen(is));
    return [state('entrance', was?.id ?? is?.id ?? key, `Entrance ${key}`, say(was), say(is), turn)];
  });
}

function wasSeen(entrance: { firstSeenM: number | null } | null): boolean | undefined {
  return entrance ? entrance.firstSeenM !== null : undefined;
}

function comparePlanes(old: CheckResult, now: CheckResult): Change[] {
  return (['seated', 'walking'] as const satisfies readonly PlaneName[]).flatMap((name): Change[] => {
    const [was, is] = [old.planes[name], now.planes[name]];
    const [from, to] = [was.areaM2 - was.seenM2, is.areaM2 - is.seenM2];
    if (from.toFixed(1) === to.toFixed(1) && was.height === is.height) return [];
    const say = (plane: typeof was, blind: number) =>
      `${blind.toFixed(1)} m² blind of ${plane.areaM2.toFixed(1)} m² at ${plane.height.toFixed(2)} m`;
    const by = Number(to.toFixed(1)) - Number(from.toFixed(1));
    const more = by > 0 ? `, ${by.toFixed(1)} m² more` : by < 0 ? `, ${(-by).toFixed(1)} m² less` : '';
    const people = name === 'seated' ? 'Seated people' : 'Walking people';
    return [state('plane', name, people, say(was, from), `${say(is, to)}${more}`, 'same')];
  });
}

/**
 * Findings are the same when their code and what they are about are. One that shares only some of it has grown or shrunk:
 * more seats behind the same shelf are worse, fewer are better.
 */
function compareFindings(old: readonly Finding[], now: readonly Finding[]): Change[] {
  const left = [...now];
  const take = (fits: (finding: Finding) => boolean): Finding | null => {
    const index = left.findIndex(fits);
    return index < 0 ? null : (left.splice(index, 1)[0] ?? null);
  };
  const same = old.map((was) => take((is) => is.code === was.code && is.about.join() === was.about.join()));
  const changes = old.flatMap((was, k): Change[] => {
    const is = same[k] ?? take((each) => each.code === was.code && each.about.some((id) => was.about.includes(id)));
    if (is) return compareFinding(was, is);
    const turn = was.level === 'note' ? 'same' : 'better';
    const text = `Gone, ${was.level}: ${was.text}`;
    return [{ turn, subject: 'finding', id: was.code, from: was.level, to: null, text }];
  });
  const added = left.map((is): Change => {
    const turn = is.level === 'note' ? 'same' : 'worse';
    return { turn, subject: 'finding', id: is.code, from: null, to: is.level, text: `New, ${is.level}: ${is.text}` };
  });
  return [...changes, ...added];
}

function compareFinding(was: Finding, is: Finding): Change[] {
  const change = { subject: 'finding', id: is.code, from: was.level, to: is.level } as const;
  if (was.level !== is.level) {
    const turn = RANK[is.level] < RANK[was.level] ? 'worse' : 'better';
    return [{ ...change, turn, text: `Now ${is.level}, was ${was.level}: ${is.text}` }];
  }
  const more = is.about.filter((id) => !was.about.includes(id)).length;
  const fewer = was.about.filter((id) => !is.about.includes(id)).length;
  if (more === 0 && fewer === 0) return [];
  const isWorse = more > fewer && is.level !== 'note';
  const isBetter = fewer > more && is.level !== 'note';
  const turn = isWorse ? 'worse' : isBetter ? 'better' : 'same';
  return [
    {
      ...change,
      turn,
      text: `Still ${is.level}, about ${more > fewer ? 'more' : fewer > more ? 'less' : 'others'}: ${is.text}`,
    },
  ];
}

const RANK = { fail: 0, warn: 1, note: 2 } as const;

function turnOf(was: boolean | undefined, is: boolean | undefined): Turn {
  if (was === undefined) return is === false ? 'worse' : 'same';
  if (is === undefined || was === is) return 'same';
  return is ? 'better' : 'worse';
}

function state(
  subject: Change['subject'],
  id: string,
  who: string,
  from: string | null,
  to: string | null,
  turn: Turn,
): Change {
  const text =
    from === null
      ? `${who} is new: ${to}.`
      : to === null
        ? `${who} is gone: was ${from}.`
        : `${who}: ${from}; now ${to}.`;
  return { turn, subject, id, from, to, text };
}

function near(a: number | null, b: number | null, by: number): boolean {
  return a === null || b === null ? a === b : Math.abs(a - b) < by;
}

function sayMet(met: boolean): string {
  return met ? 'met' : 'not met';
}

function percent(share: number | null): string {
  return share === null ? 'nothing to see' : `${Math.floor(share * 100 + 1e-6)} %`;
}
