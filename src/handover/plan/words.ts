import type { CheckResult, EntranceResult } from '../../core/coverage/index.ts';
import type { Floor } from '../../core/floor/index.ts';

/**
 * The verdict on a floor in up to three sentences: workplaces met of how many, how long entrances stay dark, then the
 * square metres. A number and its unit are held together by a no-break space. Names stand in it as they are in the file:
 * whoever shows it escapes it.
 */
export function writeHeadline(floor: Floor, result: CheckResult): readonly string[] {
  return [writeWorkplaces(result.workplacesMet), writeEntrances(floor, result.entrances), writeBlind(result)].filter(
    (each) => each !== '',
  );
}

function writeWorkplaces([met, all]: readonly [number, number]): string {
  if (all === 0) return 'No workplace is drawn.';
  if (all === 1) return met === 1 ? 'The workplace is met.' : 'The workplace is not met.';
  if (met === all) return `All ${all} workplaces are met.`;
  if (met === 0) return `None of the ${all} workplaces is met.`;
  return `${met} of ${all} workplaces ${met === 1 ? 'is' : 'are'} met.`;
}

function writeEntrances(floor: Floor, entrances: readonly EntranceResult[]): string {
  const unseen = entrances.filter((each) => each.firstSeenM === null);
  const worst = entrances.reduce((most, each) => Math.max(most, each.firstSeenM ?? 0), 0);
  if (unseen.length > 1) return `At ${unseen.length} of ${entrances.length} entrances nobody is seen at all.`;
  if (unseen[0] !== undefined) return `Coming in by ${nameEntrance(floor, unseen[0])}, nobody is seen at all.`;
  if (entrances.length === 0) return '';
  const late = entrances.find((each) => each.firstSeenM === worst);
  if (worst < SEEN_AT_ONCE || late === undefined) return 'At every entrance people are seen at once.';
  return `The darkest entrance is ${nameEntrance(floor, late)}: people are seen after ${worst.toFixed(2)}\u00a0m.`;
}

/** What nobody walks in the dark to. */
export const AT_ONCE = 'at once';

/** `1.65`, `at once` or `never`: metres walked in the dark. */
export function sayFirstSeen(metres: number | null): string {
  if (metres === null) return 'never';
  return metres < SEEN_AT_ONCE ? AT_ONCE : metres.toFixed(2);
}

/** Metres. Steps are of 0.05 m: what is less is seen where it starts. */
const SEEN_AT_ONCE = 0.005;

function nameEntrance(floor: Floor, entrance: EntranceResult): string {
  const opening = floor.openings.find((each) => each.id === entrance.id);
  const room = floor.rooms.find((each) => each.id === entrance.room);
  return `${opening?.kind ?? 'door'} ${entrance.id} into ${room?.name || entrance.room}`;
}

function writeBlind({ planes: { seated, walking } }: CheckResult): string {
  if (seated.areaM2 === 0 && walking.areaM2 === 0) return '';
  const blindSeated = formatArea(seated.areaM2 - seated.seenM2);
  const blindWalking = formatArea(walking.areaM2 - walking.seenM2);
  return `${blindSeated}\u00a0m² is blind to seated people, ${blindWalking}\u00a0m² to walking people.`;
}

/** One decimal; a little is not nothing. */
export function formatArea(areaM2: number): string {
  return areaM2 > 1e-9 && areaM2 < 0.05 ? '< 0.1' : Math.max(0, areaM2).toFixed(1);
}

/** What every verdict takes for granted; it stands under each of them. */
export const ASSUMPTIONS =
  'Declared ranges at full sensitivity; verdicts assume the furniture shown. A coverage estimate, not an approval.';

/** `21.4 %`, rounded down so that what is short of a need never reads as meeting it; `–` for a share of nothing. */
export function formatShare(share: number | null): string {
  return share === null ? '–' : `${(Math.floor(share * 1000 + 1e-6) / 10).toFixed(1)} %`;
}
