/** Findings on workplaces that are not met, or only just. One finding per cause, seats listed inside it. */
import { nameOf } from '../../floor/index.ts';
import type { Lens, Raster } from '../../sight/index.ts';
import { countBits, createSurroundings, extentAt, keepExtent, SLACK } from '../../sight/index.ts';
import type { Coverage } from '../coverage.ts';
import type { WorkplaceResult } from '../result.ts';
import type { WorkplaceSamples } from '../samples.ts';
import { servedSamples } from '../samples.ts';
import type { Misses } from '../workplaces.ts';
import { findMisses, listServing, shareSeenBy } from '../workplaces.ts';
import type { Draft, FindingContext } from './context.ts';
import { draft, nameBlocker, nameDetector } from './context.ts';
import type { Cure } from './cure.ts';
import { findCure } from './cure.ts';
import { countWords, listWords, metres, percent } from './wording.ts';

/** Reach at which a workplace should still be met. */
const SPARE_REACH = 0.8;

interface Seat {
  readonly index: number;
  readonly result: WorkplaceResult;
  readonly samples: WorkplaceSamples;
  /** Serving detectors that come near it. */
  readonly detectors: readonly number[];
}

interface UnmetSeat extends Seat {
  readonly misses: Misses;
}

export function findWorkplaceFaults(context: FindingContext): Draft[] {
  const { coverage, workplaces } = context;
  const seats = workplaces.map((result, index): Seat => {
    const samples = coverage.samples[index]!;
    return { index, result, samples, detectors: listServing(coverage, samples) };
  });
  const surroundings = createSurroundings(coverage.scene);
  const unmet = seats
    .filter((seat) => seat.result.level !== 'body')
    .map((seat): UnmetSeat => ({ ...seat, misses: findMisses(coverage, seat.samples, surroundings) }));
  const drafts: Draft[] = [];
  const hidden = new Map<string, UnmetSeat[]>();
  const far: Seat[] = [];
  for (const seat of unmet) {
    if (seat.samples.count === 0) drafts.push(unreachable(coverage, seat));
    else if (!seat.result.met && isMetByAnyone(coverage, seat)) drafts.push(wrongGroup(coverage, seat));
    else {
      const cause = causeOf(seat);
      if (cause === 'hidden') {
        const key = `${seat.result.met ? 'note' : 'fail'} ${seat.result.hiddenBy[0]}`;
        hidden.set(key, [...(hidden.get(key) ?? []), seat]);
      } else if (cause === 'masked') drafts.push(maskedSeat(coverage, seat));
      else far.push(seat);
    }
  }
  for (const list of hidden.values()) drafts.push(hiddenSeats(coverage, list));
  if (far.length > 0) drafts.push(...farSeats(coverage, far));
  drafts.push(...marginal(coverage, seats));
  return drafts;
}

function isMetByAnyone(coverage: Coverage, seat: Seat): boolean {
  return (shareSeenBy(seat.samples, seat.samples.seen.keys()) ?? 0) >= coverage.floor.analysis.workplaceShare - SLACK;
}

/** Why most of the unseen samples are missed: hidden before masked before out of range. */
function causeOf({ misses }: UnmetSeat): 'hidden' | 'masked' | 'range' {
  const { hidden, masked, range } = misses;
  if (hidden > 0 && hidden >= masked && hidden >= range) return 'hidden';
  return masked > 0 && masked >= range ? 'masked' : 'range';
}

function seatWords(coverage: Coverage, seats: readonly Seat[]): string {
  const names = seats.map((seat) => nameOf(coverage.floor.workplaces[seat.index]!));
  return listWords(names);
}

function hiddenSeats(coverage: Coverage, seats: readonly UnmetSeat[]): Draft {
  const { floor, scene } = coverage;
  const first = seats[0]!;
  const culprit = first.result.hiddenBy[0]!;
  const piece = floor.furniture.find((each) => each.id === culprit);
  const surroundings = createSurroundings(scene);
  const blocker = scene.blockers.indexOf(culprit);
  const cures = seats.map((seat) => findCure(coverage, surroundings, seat.samples, seat.detectors, blocker));
  const from = [...new Set(seats.flatMap((seat) => [...(seat.misses.from.get(blocker) ?? [])]))].map((detector) =>
    nameDetector(coverage, detector),
  );
  const need = percent(floor.analysis.workplaceShare);
  const shares = seats.map((seat) => percent(seat.result.share ?? 0));
  const who =
    seats.length === 1
      ? `${seatWords(coverage, seats)} is ${shares[0]} seen; ${need} is needed.`
      : `${seatWords(coverage, seats)} are ${new Set(shares).size === 1 ? shares[0] : listWords(shares)} seen; ${need} is needed.`;
  const height = piece ? ` (${metres(piece.top)})` : '';
  const name = nameBlocker(coverage, culprit);
  const hides = `${capital(name)}${height} hides the rest from ${listWords(from)}.`;
  const level = first.result.met ? 'note' : 'fail';
  const shoulders = first.result.met
    ? ' The shoulders are seen.'
    : seats.every((seat) => seat.result.level === 'head')
      ? ' Only the head is seen.'
      : '';
  const text = `${who} ${hides}${shoulders} ${piece ? cureWords(name, cures, seats.length) : 'Move a detector to this side of the wall.'}`;
  return draft(
    level,
    'workplace-hidden',
    text,
    floor.workplaces[first.index]!.at,
    [...seats.map((seat) => seat.result.id), culprit],
    seats.length,
  );
}

function cureWords(name: string, cures: readonly Cure[], seats: number): string {
  const met = cures.map((cure) => cure.met);
  if (met.some((height) => height === null))
    return `Lowering ${name} alone does not cure it: move a detector or add one.`;
  const full = cures.map((cure) => cure.full);
  const lowest = (heights: readonly (number | null)[]) => Math.min(...heights.map((height) => height ?? Infinity));
  const whole = full.some((height) => height === null) ? '' : ` and fully seen at ${metres(lowest(full))}`;
  return `With ${name} at ${metres(lowest(met))} or lower ${seats === 1 ? 'it is' : 'they are'} met${whole}.`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function unreachable(coverage: Coverage, seat: Seat): Draft {
  const workplace = coverage.floor.workplaces[seat.index]!;
  const text = `${nameOf(workplace)} has no place where a person could be: it lies outside every room or inside a piece. Move it.`;
  return draft('fail', 'workplace-unreachable', text, workplace.at, [workplace.id], 1);
}

function wrongGroup(coverage: Coverage, seat: Seat): Draft {
  const { floor, serving } = coverage;
  const workplace = floor.workplaces[seat.index]!;
  const others = [...seat.samples.seen]
    .filter(([detector, view]) => !seat.detectors.includes(detector) && view.heights[0]!.some((word) => word !== 0))
    .map(([detector]) => detector)
    .sort((a, b) => a - b);
  const groups = [...new Set(others.map((detector) => serving.groups[serving.groupOf[detector]!]!))];
  const serves = serving.groups.filter((group) => servedSamples(coverage, seat.samples, group) !== null);
  const word = (group: (typeof groups)[number]) => (group.name.trim() === '' ? group.key : group.name);
  const by = `${nameOf(workplace)} is seen only by ${listWords(others.map((d) => nameDetector(coverage, d)))} of ${listWords(groups.map(word))}`;
  const light =
    serves.length > 0
      ? `${listWords(serves.map(word))} ${serves.length === 1 ? 'lights' : 'light'} it, so the light will go out. Add a detector to ${word(serves[0]!)}, or let ${listWords(groups.map(word))} serve it.`
      : `no group serves it. Let ${listWords(groups.map(word))} serve it, or add a detector.`;
  return draft(
    'fail',
    'wrong-group',
    `${by}; ${light}`,
    workplace.at,
    [workplace.id, ...groups.map((group) => group.key)],
    1,
  );
}

function maskedSeat(coverage: Coverage, seat: Seat): Draft {
  const { floor } = coverage;
  const workplace = floor.workplaces[seat.index]!;
  const by = seat.detectors.filter((detector) => seat.samples.seen.get(detector)!.masked?.some((word) => word !== 0));
  const names = listWords(by.map((detector) => nameDetector(coverage, detector)));
  const text = `${nameOf(workplace)} is ${percent(seat.result.share ?? 0)} seen; ${percent(floor.analysis.workplaceShare)} is needed. A mask of ${names} covers the rest. Narrow it, or add a detector.`;
  const ids = by.map((detector) => floor.detectors[detector]!.id);
  return draft('fail', 'workplace-masked', text, workplace.at, [workplace.id, ...ids], 1);
}

function farSeats(coverage: Coverage, seats: readonly Seat[]): Draft[] {
  const { floor } = coverage;
  const byRoom = new Map<number, Seat[]>();
  for (const seat of seats) byRoom.set(seat.samples.room, [...(byRoom.get(seat.samples.room) ?? []), seat]);
  return [...byRoom.values()].map((list) => {
    const worst = list.reduce((a, b) => ((a.result.share ?? 0) <= (b.result.share ?? 0) ? a : b));
    const need = percent(floor.analysis.workplaceShare);
    const who =
      list.length === 1
        ? `${seatWords(coverage, list)} is ${percent(worst.result.share ?? 0)} seen; ${need} is needed. It lies`
        : `${countWords(list.length, 'workplace')} (${seatWords(coverage, list)}) are not met, the worst ${percent(worst.result.share ?? 0)} seen of ${need} needed. They lie`;
    const near = list.some((seat) => seat.detectors.length > 0);
    const served = coverage.serving.groups.some((group) =>
      list.some((seat) => servedSamples(coverage, seat.samples, group) !== null),
    );
    const text = served
      ? `${who} out of range of every detector that serves ${list.length === 1 ? 'it' : 'them'}. ${near ? 'Move one nearer, or add one.' : 'Add a detector.'}`
      : `${who} where no group serves. Add a detector, or let a group serve the room.`;
    const level = list.every((seat) => seat.result.met) ? 'note' : 'fail';
    return draft(
      level,
      'workplace-out-of-range',
      text,
      floor.workplaces[worst.index]!.at,
      list.map((seat) => seat.result.id),
      list.length,
    );
  });
}

/** Workplaces met as stated that are lost when every range is 20 % shorter. */
function marginal(coverage: Coverage, seats: readonly Seat[]): Draft[] {
  const { floor } = coverage;
  const need = floor.analysis.workplaceShare - SLACK;
  const lost = seats.filter((seat) => seat.result.met && shareAtReach(coverage, seat, SPARE_REACH) < need);
  if (lost.length === 0) return [];
  const first = lost[0]!;
  const left = percent(shareAtReach(coverage, first, 0.9));
  const text =
    lost.length === 1
      ? `${seatWords(coverage, lost)} lies at the very edge: with 10 % less range ${left} of it remains seen. Move a detector nearer.`
      : `${countWords(lost.length, 'workplace')} (${seatWords(coverage, lost)}) lie at the very edge: with 20 % less range they are not met. Move detectors nearer.`;
  return [
    draft(
      'warn',
      'range-margin',
      text,
      floor.workplaces[first.index]!.at,
      lost.map((seat) => seat.result.id),
      lost.length,
    ),
  ];
}

/** Share of the level by which the workplace is met, with every range scaled. */
function shareAtReach(coverage: Coverage, seat: Seat, reach: number): number {
  const { samples, detectors } = seat;
  const level = seat.result.level === 'shoulders' ? 1 : 0;
  const union = new Int32Array(samples.cells.bits.length);
  for (const detector of detectors) {
    const lens: Lens = coverage.scene.lenses[detector]!;
    const extent = extentAt(lens.ranges.minor, lens.h, samples.heights[level]);
    const bits = samples.seen.get(detector)!.heights[level];
    if (!extent || !bits) continue;
    const view: Raster = { ...samples.cells, bits: bits.slice() };
    const shorter =
      extent.kind === 'round'
        ? { ...extent, radius: extent.radius * reach }
        : { ...extent, length: extent.length * reach, width: extent.width * reach };
    keepExtent(view, lens.x, lens.y, shorter, lens.turn);
    for (let k = 0; k < union.length; k++) union[k] = union[k]! | view.bits[k]!;
  }
  let seen = 0;
  for (const word of union) seen += countBits(word);
  return samples.count === 0 ? 0 : seen / samples.count;
}
