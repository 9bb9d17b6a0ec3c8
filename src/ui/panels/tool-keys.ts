/** Keys and pasted text on their way to the tool in hand. */
import type { EditorStore } from '../../editor/store.ts';
import { sendToolEvent } from '../../editor/tool-run.ts';
import { isResting } from './Foot.tsx';

/** Whether the tool in hand takes keys before the page does: one of the registry, with something to do. */
export function isToolTaking(store: EditorStore): boolean {
  const { tool, toolRun, maskHandle } = store.getState();
  if (maskHandle !== null || tool === 'probe' || tool === 'mask') return false;
  return tool !== 'select' || !isResting(toolRun);
}

/** Sends a key to the tool in hand. True: the tool has made use of it. */
export function sendKeyToTool(store: EditorStore, event: KeyboardEvent): boolean {
  const { tool, camera, toolRun } = store.getState();
  const isArrow = event.key.startsWith('Arrow');
  const ctrl = event.ctrlKey || event.metaKey;
  const isWritten = [...event.key].length === 1;
  if (event.key === 'Tab' || event.key === 'Escape' || (ctrl && !isArrow && !event.getModifierState('AltGraph')))
    return false;
  if (camera === 'walk' && isArrow) return false;
  const modifiers = { shift: event.shiftKey, alt: event.altKey, ctrl: ctrl && !isWritten };
  if (isToolTaking(store)) {
    // Typed before the tool has come: it is kept for it.
    if (toolRun === null) return isWritten || isArrow || ['Enter', 'Backspace'].includes(event.key) ? send() : false;
    return send();
  }
  // At rest selecting leaves the keys to the page, but for those that take something in hand.
  const hasSelection = store.getState().selection.length > 0;
  const takes = (event.key === 'Enter' && event.shiftKey) || (hasSelection && /^h$/iu.test(event.key));
  if (tool !== 'select' || camera === 'walk' || !takes || ctrl || event.altKey) return false;
  if (event.key !== 'Enter') return send();
  return (
    sendToolEvent(store, { type: 'key', key: 'Enter', modifiers: { shift: false, alt: false, ctrl: false } })?.used ??
    false
  );

  function send(): boolean {
    return sendToolEvent(store, { type: 'key', key: event.key, modifiers })?.used ?? true;
  }
}

/** Sends a text that came at once. True: the tool has made use of it. */
export function sendTextToTool(store: EditorStore, text: string): boolean {
  if (!isToolTaking(store)) return false;
  return sendToolEvent(store, { type: 'text', text })?.used ?? true;
}
