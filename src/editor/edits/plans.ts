/** Plans taken over as one step each: masks on several detectors, and groups in the place of others. */
import type { FloorFile } from '../../core/floor/index.ts';
import type { GroupsProposal } from '../../core/planning/groups/propose-groups.ts';
import type { MaskPart } from '../../core/planning/masks/plan-masks.ts';
import { createChange } from './change.ts';
import { type Edit, refuse, refuseGone } from './edit.ts';
import { createIdMaker } from './ids.ts';
import { findItem, type Items } from './lists.ts';
import { forgetThings } from './removal.ts';

const MOST_MASKS = 100;

/** Adds proposed masks to their detectors. `what` is what they hide, `Coffee machine`. */
export function addPlannedMasks(
  file: FloorFile,
  what: string,
  parts: readonly Pick<MaskPart, 'detector' | 'masks'>[],
): Edit {
  const change = createChange(file);
  const names: string[] = [];
  for (const { detector: id, masks } of parts) {
    const detector = findItem(file, 'detectors', id);
    if (detector === undefined) return refuseGone('detector');
    const all = [...(detector.masks ?? []), ...masks];
    if (all.length > MOST_MASKS)
      return refuse(`${detector.name} would have more than ${MOST_MASKS} masks`, 'Join some of them.');
    change.set('detectors', { ...detector, masks: all });
    names.push(detector.name);
  }
  if (names.length === 0) return refuse('There is nothing to mask', '');
  const whose = names.length > 2 ? `${names[0]} and ${names.length - 1} more` : names.join(' and ');
  return change.plan(
    `Masked ${what} from ${whose}`,
    parts.map(({ detector }) => detector),
  );
}

/**
 * Puts proposed groups in the place of those of the floor. A group that is taken over keeps its id, name and settings;
 * luminaires and zones that name one that goes name the one that has most of its detectors.
 */
export function takeProposedGroups(file: FloorFile, { groups, gone }: GroupsProposal): Edit {
  const change = createChange(file);
  const maker = createIdMaker(file);
  const ids = groups.map(({ keeps }) => (keeps === null ? maker.next('groups') : keeps));
  for (const { id, to } of gone) {
    const next = to === null ? undefined : ids[to];
    if (next !== undefined) renameGroup(change, id, next);
    change.remove('groups', id);
  }
  groups.forEach((group, k) => {
    const id = ids[k] ?? '';
    const { main, extensions, serves } = group;
    const kept = group.keeps === null ? undefined : findItem(file, 'groups', group.keeps);
    const { extensions: _, ...rest } = kept ?? { id, name: maker.freeName('groups', group.name), main };
    const item: Items['groups'] = { ...rest, main, ...(extensions.length > 0 ? { extensions } : {}), serves };
    if (kept === undefined) change.add('groups', item);
    else change.set('groups', item);
  });
  forgetThings(change, new Set(gone.map(({ id }) => id)));
  return change.plan(`Took ${groups.length} proposed groups`, ids);
}

function renameGroup(change: ReturnType<typeof createChange>, from: string, to: string): void {
  for (const luminaire of change.list('luminaires'))
    if (luminaire.group === from) change.set('luminaires', { ...luminaire, group: to });
  for (const zone of change.list('zones')) {
    if (!zone.groups?.includes(from)) continue;
    change.set('zones', { ...zone, groups: [...new Set(zone.groups.map((id) => (id === from ? to : id)))] });
  }
}
