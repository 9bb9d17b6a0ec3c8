import { useEffect } from 'react';
import { listFindings, writeFindings } from '../../editor/findings.ts';
import { stepBack } from '../../editor/view.ts';
import { findCommand } from './commands.ts';
import { useEditorStore, useHost } from './context.tsx';
import { dialogs } from './dialog-state.ts';
import { writeFaults } from './Faults.tsx';
import { isWriting, regionInFocus } from './focus.ts';
import { handlePageKey, startsAngle } from './page-keys.ts';

/**
 * One listener for all keys. Keys with Ctrl and F6 work everywhere; letters, digits and signs only while the page (or
 * nothing) has the focus, findings' keys also in the margin; where something is being written, the text comes first.
 */
export function useKeyMap(): void {
  const store = useEditorStore();
  const host = useHost();
  useEffect(() => {
    let space = false;
    const onKeyDown = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || dialogs.getState().open !== null || event.isComposing) return;
      const writing = isWriting(event.target);
      const region = regionInFocus();
      const onPage = region === 'page' && !writing;
      if (onPage && event.key === ' ') {
        space = true;
        event.preventDefault();
        return;
      }
      if (onPage && startsAngle(store, event)) return;
      if (onPage && handlePageKey(store, event, space)) {
        event.preventDefault();
        return;
      }
      const command = findCommand(event);
      if (command === undefined) return;
      if (command.keys === 'Esc') {
        if (!writing && stepBack(store)) event.preventDefault();
        return;
      }
      const isGlobal = /^(Ctrl|Shift F6|F6)/u.test(command.keys);
      const isTextUndo = writing && /Z$/u.test(command.keys);
      const inMargin = region === 'margin' && !writing && command.group === 'Findings';
      const onRule = region === 'rule' && command.keys.startsWith('Pg');
      if (isTextUndo || !(isGlobal || onPage || inMargin || onRule)) return;
      event.preventDefault();
      command.run({ store, host });
    };
    const onKeyUp = (event: KeyboardEvent): void => {
      if (event.key === ' ') space = false;
    };
    const onCopy = (event: ClipboardEvent): void => {
      if (isWriting(event.target) || dialogs.getState().open !== null) return;
      if (document.getSelection()?.isCollapsed === false) return;
      const { refusal, result } = store.getState();
      const text = refusal !== null ? writeFaults(refusal) : writeFindings(listFindings(result));
      if (text === '') return;
      event.preventDefault();
      event.clipboardData?.setData('text/plain', text);
    };
    window.addEventListener('keydown', onKeyDown);
    window.addEventListener('keyup', onKeyUp);
    document.addEventListener('copy', onCopy);
    return () => {
      window.removeEventListener('keydown', onKeyDown);
      window.removeEventListener('keyup', onKeyUp);
      document.removeEventListener('copy', onCopy);
    };
  }, [store, host]);
}
