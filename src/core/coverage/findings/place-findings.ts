/** Findings on entrances, zones, blind areas, spill and sources. */
import { findRoomAt, nameOf, shareOf } from '../../floor/index.ts';
import { SLACK } from '../../sight/index.ts';
import type { BlindPatch } from '../blind.ts';
import { LATE } from '../needs.ts';
import { forCells, markZone } from '../places.ts';
import { KEEP_OFF } from '../sources.ts';
import type { Draft, FindingContext } from './context.ts';
import { draft, nameBlocker, nameDetector, nameGroup } from './context.ts';
import { degrees, listWords, metres, percent, squareMetres } from './wording.ts';

/** Spill below this is left out, m² (common practice, no source). */
const SPILL_FROM = 0.5;

/** A blind patch whose largest circle is narrower is crossed in a stride, metres. */
const STRIDE = 1;

export function findLateEntrances({ coverage, entrances }: FindingContext): Draft[] {
  return entrances.flatMap(({ opening, roomIndex, firstSeenM, served, at }) => {
    if (!served || (firstSeenM !== null && firstSeenM <= LATE.warn + SLACK)) return [];
    const room = coverage.floor.rooms[roomIndex]!;
    const way = `Coming into ${nameOf(room)} by ${opening.kind} ${opening.id}`;
    const level = firstSeenM === null || firstSeenM > LATE.fail + SLACK ? 'fail' : 'warn';
    const text =
      firstSeenM === null
        ? `${way}, nobody walking straight in is ever seen; ${metres(LATE.warn)} in the dark is allowed. Move a detector so that this line is crossed.`
        : `${way}, you are first seen after ${metres(firstSeenM)} in the dark; ${metres(LATE.warn)} is allowed. Move a detector so that this line is crossed sooner.`;
    return [draft(level, 'late-entrance', text, at, [opening.id, room.id], firstSeenM ?? 100)];
  });
}

export function findZoneFaults({ coverage, zones }: FindingContext): Draft[] {
  return zones.flatMap((verdict, index) => {
    const zone = coverage.floor.zones[index]!;
    const at = centreOf(zone.outline);
    if (verdict.share === null) {
      return [
        draft(
          'note',
          'zone-empty',
          `Zone ${nameOf(zone)} holds no place where a person could be. Move it into a room.`,
          at,
          [zone.id],
        ),
      ];
    }
    if (verdict.met) return [];
    const need = shareOf(zone);
    if (zone.need === 'nobody') {
      const text = `${percent(verdict.share)} of ${nameOf(zone)} is seen, where nobody should be; ${percent(need)} is allowed. Mask or move the detectors that see it.`;
      return [draft('fail', 'nobody-seen', text, at, [zone.id, ...(zone.groups ?? [])], verdict.share)];
    }
    const along = zone.heading === undefined ? '' : ` along ${degrees(zone.heading)}`;
    const who = zone.need === 'seated' ? 'seated people' : `people walking${along}`;
    const text = `${percent(verdict.share)} of ${nameOf(zone)} is seen for ${who}; ${percent(need)} is needed. Move or add a detector.`;
    return [draft('fail', 'zone-blind', text, at, [zone.id], 1 - verdict.share)];
  });
}

/** Blind areas with the same plane, cause and culprit are one finding. */
export function findBlindAreas({ coverage, patches }: FindingContext): Draft[] {
  const groups = new Map<string, BlindPatch[]>();
  const sat = roomsSatIn(coverage);
  for (const patch of patches) {
    if (patch.plane === 'seated' && sat && !sat.has(patch.room)) continue;
    const key = `${patch.plane} ${patch.room} ${patch.cause} ${patch.by ?? ''}`;
    groups.set(key, [...(groups.get(key) ?? []), patch]);
  }
  return [...groups.values()].map((list) => {
    const first = list[0]!;
    const room = coverage.floor.rooms[first.room]!;
    const area = list.reduce((sum, patch) => sum + patch.areaM2, 0);
    const people = first.plane === 'seated' ? 'seated people' : 'walking people';
    const where = list.length === 1 ? `in ${nameOf(room)}` : `in ${list.length} places in ${nameOf(room)}`;
    const text = `${squareMetres(area)} ${where} is blind to ${people}: ${causeWords(coverage, first)}`;
    const wide = list.some((patch) => 2 * patch.radius >= STRIDE - SLACK);
    const about = [room.id, ...(first.by ? [first.by] : [])];
    return draft(wide ? 'warn' : 'note', 'blind-area', text, first.at, about, area);
  });
}

/** Rooms in which somebody is to be seen seated; null where the floor does not say it of any. */
function roomsSatIn(coverage: FindingContext['coverage']): Set<number> | null {
  const { floor, grid } = coverage;
  const rooms = new Set<number>();
  coverage.samples.forEach((samples, index) => {
    if (floor.workplaces[index]!.posture === 'seated') rooms.add(samples.room);
  });
  for (const zone of floor.zones) {
    if (zone.need !== 'seated') continue;
    const cells = markZone(coverage, zone);
    forCells(cells, (i, j) => rooms.add(grid.room[j * grid.lattice.nx + i]!));
  }
  return rooms.size > 0 ? rooms : null;
}

function causeWords(coverage: FindingContext['coverage'], patch: BlindPatch): string {
  const serves = coverage.serving.groups.some((group) => group.rooms.includes(patch.room) || group.zones.length > 0);
  if (!serves) return 'no group serves this room. Add a detector, or leave it out on purpose.';
  switch (patch.cause) {
    case 'hidden':
      return patch.by
        ? `${nameBlocker(coverage, patch.by)} hides it. Move or add a detector.`
        : 'it is hidden. Move or add a detector.';
    case 'masked':
      return 'a mask covers it. Narrow the mask, or add a detector.';
    case 'range':
      return 'it is out of range. Move or add a detector.';
    case 'headings':
      return 'it is seen for too few headings. Add a detector that sees it from another side.';
  }
}

/** What several groups see of one room they do not serve is one finding. */
export function findSpill({ coverage, spill }: FindingContext): Draft[] {
  return coverage.floor.rooms.flatMap((room) => {
    const into = spill
      .filter((each) => each.room === room.id && each.areaM2 > SPILL_FROM + SLACK)
      .sort((a, b) => b.areaM2 - a.areaM2);
    const most = into[0];
    if (!most) return [];
    const one = into.length === 1;
    const groups = listWords(
      into.map((each) => `${nameGroup(coverage, each.group)} (${squareMetres(each.areaM2)})`),
      5,
    );
    const text = `With every door open, ${groups} ${one ? 'sees' : 'see'} into ${nameOf(room)}, which ${one ? 'it does' : 'they do'} not serve. People there switch ${one ? 'its' : 'their'} light. Mask that side, or accept it.`;
    return [
      draft('warn', 'spill', text, centreOf(room.outline), [...into.map((each) => each.group), room.id], most.areaM2),
    ];
  });
}

export function findHeat({ coverage, sources }: FindingContext): Draft[] {
  const { floor } = coverage;
  const drafts = sources.flatMap((verdict, index): Draft[] => {
    const source = floor.sources[index]!;
    const keepOff = KEEP_OFF[source.kind];
    const seen = verdict.seenBy.map((id) => floor.detectors.findIndex((detector) => detector.id === id));
    // Warm air does not pass a wall: what is near but stands in another room matters only when it is seen.
    const nearest = verdict.nearest.filter(
      ({ detector }) => verdict.room < 0 || coverage.scene.lenses[detector]!.room === verdict.room,
    );
    if (nearest.length === 0 && seen.length === 0) return [];
    const about = [source.id, ...nearest.map(({ detector }) => floor.detectors[detector]!.id), ...verdict.seenBy];
    const sentences: string[] = [];
    for (const { detector, distance } of nearest) {
      sentences.push(
        `${nameOf(source)} is ${metres(distance)} from ${nameDetector(coverage, detector)}; ${metres(keepOff ?? 0)} is needed.`,
      );
    }
    if (seen.length > 0) {
      sentences.push(
        `${listWords(seen.map((detector) => nameDetector(coverage, detector)))} can see ${nearest.length > 0 ? 'it' : nameOf(source)}.`,
      );
      const mask = verdict.masks[0]!;
      sentences.push(
        `A mask from ${degrees(mask.from)} to ${degrees(mask.to)}, ${degrees(mask.inner)} to ${degrees(mask.outer)} from straight down, would hide it${seen.length > 1 ? ` from ${nameDetector(coverage, seen[0]!)}` : ''}.`,
      );
    } else sentences.push('Warm or moving air there can switch the light in an empty room. Move the detector.');
    return [draft('warn', 'heat-near', sentences.join(' '), source.at, about, nearest.length + seen.length)];
  });
  return [...drafts, ...nearLuminaires(coverage)];
}

function nearLuminaires(coverage: FindingContext['coverage']): Draft[] {
  const { floor, scene } = coverage;
  return floor.luminaires.flatMap((luminaire) => {
    const room = findRoomAt(floor.rooms, luminaire.at);
    // A luminaire in or above the ceiling line of the lens neither hangs in its view nor warms it from below.
    const near = scene.lenses.flatMap((lens, detector) => {
      const distance = Math.hypot(luminaire.at[0] - lens.x, luminaire.at[1] - lens.y);
      const together = room === undefined || floor.rooms[lens.room] === room;
      return !lens.removed && together && luminaire.base < lens.h && distance < KEEP_OFF.luminaire! - SLACK
        ? [{ detector, distance }]
        : [];
    });
    const first = near[0];
    if (!first) return [];
    const text = `${nameOf(luminaire)} is ${metres(first.distance)} from ${nameDetector(coverage, first.detector)}; ${metres(KEEP_OFF.luminaire!)} is needed. Its warmth can switch the light. Move the detector.`;
    return [
      draft('warn', 'heat-near', text, luminaire.at, [luminaire.id, floor.detectors[first.detector]!.id], near.length),
    ];
  });
}

function centreOf(outline: readonly (readonly [number, number])[]): readonly [number, number] {
  const xs = outline.map(([x]) => x);
  const ys = outline.map(([, y]) => y);
  return [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
}
