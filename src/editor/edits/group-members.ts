/** Which group a detector is in, and what becomes of a group it leaves. */
import type { Change } from './change.ts';
import type { Items } from './lists.ts';

type Group = Items['groups'];

/** The group a detector is in, as the change will have it. */
export function groupOf(change: Change, detectorId: string): Group | undefined {
  return change
    .list('groups')
    .find(({ main, extensions }) => main === detectorId || extensions?.includes(detectorId) === true);
}

/**
 * Takes a detector out of its group. Where it led, the first extension leads; a group that is left empty goes.
 * @returns the id of a group that went, whose name others may still hold; else null
 */
export function leaveGroup(change: Change, detectorId: string): string | null {
  const group = groupOf(change, detectorId);
  if (group === undefined) return null;
  const { main, extensions = [] } = group;
  if (main !== detectorId) {
    change.set('groups', { ...group, extensions: extensions.filter((id) => id !== detectorId) });
    return null;
  }
  const [next, ...others] = extensions;
  if (next === undefined) {
    change.remove('groups', group.id);
    return group.id;
  }
  change.set('groups', { ...group, main: next, extensions: others });
  return null;
}
