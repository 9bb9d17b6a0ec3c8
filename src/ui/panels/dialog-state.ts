import { createStore } from 'zustand/vanilla';

export type DialogName =
  | 'find'
  | 'keys'
  | 'files'
  | 'types'
  | 'workplaces'
  | 'handover'
  | 'import'
  | 'groups'
  | 'energy'
  | 'underlay';

/** Which dialog lies over the page. It is no part of the document's state: nothing in the editor asks for it. */
export const dialogs = createStore<{ readonly open: DialogName | null }>()(() => ({ open: null }));

export function openDialog(open: DialogName): void {
  dialogs.setState({ open });
}

export function closeDialog(): void {
  dialogs.setState({ open: null });
}
