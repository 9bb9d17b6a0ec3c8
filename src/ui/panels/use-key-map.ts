import { useEffect } from 'react';
import { listFindings, writeFindings } from '../../editor/findings.ts';
import { stepBackWithTool } from '../../editor/tool-run.ts';
import { act, actions } from './actions.ts';
import { findCommand } from './commands.ts';
import { useEditorStore, useHost } from './context.tsx';
import { dialogs, openDialog } from './dialog-state.ts';
import { writeFaults } from './fault-text.ts';
import { isWriting, regionInFocus } from './focus.ts';
import { handlePageKey, startsAngle } from './page-keys.ts';
import { offerWorkplaces } from './pasted-workplaces.ts';
import { isToolTaking, sendKeyToTool, sendTextToTool } from './tool-keys.ts';

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
      if (onPage && sendKeyToTool(store, event)) {
        event.preventDefault();
        return;
      }
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
      if (command === undefined || command.isOfClipboard) return;
      if (command.keys === 'Esc') {
        if (!writing && stepBackWithTool(store)) event.preventDefault();
        return;
      }
      const isGlobal = !command.isOfPage && /^(Ctrl|Shift F6|F6)/u.test(command.keys);
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
    const isElsewhere = (event: ClipboardEvent): boolean =>
      isWriting(event.target) || dialogs.getState().open !== null || document.getSelection()?.isCollapsed === false;
    const onCopy = (event: ClipboardEvent): void => {
      if (isElsewhere(event)) return;
      const things = store.getState().refusal === null ? actions()?.copySelected(store) : null;
      if (things) {
        event.preventDefault();
        event.clipboardData?.setData('text/plain', things);
        return;
      }
      const { refusal, result } = store.getState();
      const text = refusal !== null ? writeFaults(refusal) : writeFindings(listFindings(result));
      if (text === '') return;
      event.preventDefault();
      event.clipboardData?.setData('text/plain', text);
    };
    const onCut = (event: ClipboardEvent): void => {
      if (isElsewhere(event)) return;
      const things = actions()?.cutSelected(store);
      if (!things) return;
      event.preventDefault();
      event.clipboardData?.setData('text/plain', things);
    };
    const onPaste = (event: ClipboardEvent): void => {
      const text = event.clipboardData?.getData('text/plain') ?? '';
      if (text === '' || isWriting(event.target) || dialogs.getState().open !== null) return;
      event.preventDefault();
      if (isToolTaking(store) && sendTextToTool(store, text)) return;
      act((all) => {
        if (all.isCopiedThings(text)) all.pasteCopied(store, text, false);
        else {
          offerWorkplaces(text);
          openDialog('workplaces');
        }
      });
    };
    window.addEventListener('keydown', onKeyDown);
    document.addEventListener('cut', onCut);
    document.addEventListener('paste', onPaste);
    window.addEventListener('keyup', onKeyUp);
    document.addEventListener('copy', onCopy);
    return () => {
      window.removeEventListener('keydown', onKeyDown);
      window.removeEventListener('keyup', onKeyUp);
      document.removeEventListener('copy', onCopy);
      document.removeEventListener('cut', onCut);
      document.removeEventListener('paste', onPaste);
    };
  }, [store, host]);
}
