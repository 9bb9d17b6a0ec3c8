/** The words for things, causes and motions, and the sentences made of them. Every number in them comes from the results. */
import type { Cause, CheckResult, WorkplaceResult } from '../../core/coverage/result.ts';
import type { Floor, Furniture, Motion, Opening } from '../../core/floor/index.ts';
import { findThing, type Thing } from '../../editor/things.ts';
import { capitalise, count, formatMetres, formatShare, joinNames, writeInUnits } from './format.ts';

export const MOTION_WORDS: Readonly<Record<Motion, string>> = {
  minor: 'small movements',
  tangential: 'walking past',
  radial: 'walking at it',
};

export const CAUSE_WORDS: Readonly<Record<Cause, string>> = {
  hidden: 'hidden',
  masked: 'masked',
  range: 'out of range',
  headings: 'too few headings',
};

const MANY: Readonly<Record<Furniture['kind'], string>> = {
  partition: 'partitions',
  screen: 'screens',
  shelving: 'shelves',
  cabinet: 'cabinets',
  desk: 'desks',
  column: 'columns',
  hanging: 'hanging',
  other: 'other',
};

export function kindInPlural(kind: Furniture['kind']): string {
  return MANY[kind];
}

/** What a thing is called. Openings and rooms' walls have no name of their own. */
export function nameOf(floor: Floor, thing: Thing): string {
  switch (thing.kind) {
    case 'opening':
      return nameOfOpening(floor, thing.value);
    case 'workplace':
      return /^\d+$/u.test(thing.value.name) ? `Workplace ${thing.value.name}` : thing.value.name;
    default:
      return thing.value.name === '' ? thing.value.id : thing.value.name;
  }
}

/** Names by the list of openings, which most edits leave alone. */
const openingNames = new WeakMap<readonly Opening[], ReadonlyMap<Opening, string>>();

function nameOfOpening({ openings }: Floor, opening: Opening): string {
  let names = openingNames.get(openings);
  if (names === undefined) {
    names = nameOpenings(openings);
    openingNames.set(openings, names);
  }
  return names.get(opening) ?? capitalise(opening.kind);
}

/** Openings of a kind are numbered in the order of the file; one alone needs no number. */
function nameOpenings(openings: readonly Opening[]): ReadonlyMap<Opening, string> {
  const counts = new Map<string, number>();
  for (const { kind } of openings) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  const reached = new Map<string, number>();
  return new Map(
    openings.map((opening) => {
      const { kind } = opening;
      const number = (reached.get(kind) ?? 0) + 1;
      reached.set(kind, number);
      return [opening, counts.get(kind) === 1 ? capitalise(kind) : `${capitalise(kind)} ${number}`];
    }),
  );
}

/** The name that goes with an id in a result; a wall is named by its room. */
export function nameOfId(floor: Floor, id: string): string {
  const thing = findThing(floor, id);
  if (thing === undefined) return id;
  return thing.kind === 'room' ? `a wall of ${nameOf(floor, thing)}` : nameOf(floor, thing);
}

/** Workplaces met of how many: the first half of the verdict. */
export function sayWorkplaces(workplaces: readonly WorkplaceResult[]): string {
  const all = workplaces.length;
  const missed = workplaces.filter((each) => !each.met).length;
  if (all === 0) return 'No workplace is set.';
  if (missed === 0) return all === 1 ? 'The workplace is met.' : `All ${all} workplaces are met.`;
  if (missed === all) return all === 1 ? 'The workplace is not met.' : `None of ${all} workplaces is met.`;
  return `${missed} of ${all} workplaces ${missed === 1 ? 'is' : 'are'} not met.`;
}

/** How far into an entrance one may walk before it is worth a word, metres (the bound of a late-entrance warning). */
const LATE = 1;

/** For how long entrances stay dark: the second half of the verdict. An opening counts once, by its worse side. */
export function sayEntrances(result: CheckResult): string {
  const worst = new Map<string, number>();
  for (const { id, firstSeenM } of result.entrances)
    worst.set(id, Math.max(worst.get(id) ?? 0, firstSeenM ?? Infinity));
  const metres = [...worst.values()];
  if (metres.length === 0) return '';
  const never = metres.filter((each) => each === Infinity).length;
  const late = metres.filter((each) => each > LATE && each < Infinity);
  if (Math.max(...metres) < 0.05) return 'Every entrance is seen at once.';
  if (never === 0 && late.length === 0) return `Every entrance is seen within ${formatMetres(Math.max(...metres))}.`;
  const parts: string[] = [];
  if (late.length > 0)
    parts.push(
      `${count(late.length, 'entrance stays', 'entrances stay')} dark for up to ${formatMetres(Math.max(...late))}`,
    );
  if (never > 0)
    parts.push(
      late.length > 0 ? `${never} throughout` : `${count(never, 'entrance stays', 'entrances stay')} dark throughout`,
    );
  return `${parts.join(', ')}.`;
}

/** A sentence that names a page object to someone who does not see it. */
export function describeThing(floor: Floor, thing: Thing, workplaces: ReadonlyMap<string, WorkplaceResult>): string {
  const name = nameOf(floor, thing);
  switch (thing.kind) {
    case 'room':
      return `${name}, room, ceiling ${formatMetres(thing.value.ceiling)}`;
    case 'detector': {
      const { status, masks } = thing.value;
      const state = status === 'new' ? '' : status === 'remove' ? ', to be removed' : ', existing';
      return `${name}, detector${state}${masks.length === 0 ? '' : `, ${count(masks.length, 'mask')}`}`;
    }
    case 'workplace': {
      const verdict = workplaces.get(thing.value.id);
      if (verdict === undefined) return name;
      return `${name} is ${formatShare(verdict.share)} seen, ${verdict.met ? 'met' : 'not met'}`;
    }
    case 'furniture':
      return `${name}, ${thing.value.kind}, top ${formatMetres(thing.value.top)}`;
    case 'opening':
      return `${name}${thing.value.kind === 'door' ? `, ${thing.value.state ?? 'closed'}` : ''}`;
    case 'zone':
      return `${name}, zone for ${thing.value.need}`;
    case 'source':
      return `${name}, ${thing.value.kind}`;
    case 'luminaire':
      return `${name}, luminaire`;
    case 'group':
      return `${name}, group of ${joinNames([thing.value.main, ...thing.value.extensions].map((id) => nameOfId(floor, id)))}`;
  }
}

interface Named {
  readonly id: string;
  readonly name: string;
}

/** Names that look like lengths, by the list they are in. Openings are named by their kind: those never do. */
const misleading = new WeakMap<readonly Named[], readonly string[]>();

function listMisleading(list: readonly Named[]): readonly string[] {
  let names = misleading.get(list);
  if (names === undefined) {
    names = list.map(({ id, name }) => (name === '' ? id : name)).filter((name) => /\d[ \u00a0]?m/u.test(name));
    misleading.set(list, names);
  }
  return names;
}

/** A finding's sentence in the unit shown. One that holds a name which looks like a length is left as it is: a name is a name. */
export function sayFinding(floor: Floor, sentence: string): string {
  const said = writeInUnits(sentence);
  if (said === sentence) return sentence;
  const { rooms, detectors, workplaces, furniture, sources, zones, luminaires, groups } = floor;
  const holds = [rooms, detectors, workplaces, furniture, sources, zones, luminaires, groups].some((list) =>
    listMisleading(list).some((name) => sentence.includes(name)),
  );
  return holds ? sentence : said;
}
