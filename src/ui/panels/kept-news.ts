import type { KeeperState } from '../../editor/storage/keeper.ts';

/** One word for everything the note can tell; null: nothing. */
export function nameNews({ elsewhere, isUnkept, trouble, returned }: KeeperState): string | null {
  if (elsewhere !== 'no') return `${elsewhere} ${isUnkept}`;
  return trouble?.kind ?? returned?.id ?? null;
}
