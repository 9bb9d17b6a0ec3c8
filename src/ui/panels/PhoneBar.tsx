import { useState } from 'react';
import { listFindings, stepFinding } from '../../editor/findings.ts';
import { redo, undo } from '../../editor/history.ts';
import type { Camera } from '../../editor/store.ts';
import { endTool, sendToolEvent, startTool, stepBackWithTool } from '../../editor/tool-run.ts';
import { setCamera } from '../../editor/view.ts';
import { useEditor, useEditorStore } from './context.tsx';
import { openDialog } from './dialog-state.ts';
import { sayHints, useNotice } from './Foot.tsx';

const NEXT: Readonly<Record<Camera, { readonly camera: Camera; readonly word: string }>> = {
  plan: { camera: 'model', word: 'Model' },
  model: { camera: 'walk', word: 'Walk' },
  walk: { camera: 'plan', word: 'Plan' },
};

/** On a phone: what head, foot and keys do elsewhere, in reach of the thumb. */
export function PhoneBar({ flat }: { readonly flat: string | null }) {
  const store = useEditorStore();
  const camera = useEditor((state) => state.camera);
  const tool = useEditor((state) => state.tool);
  const undone = useEditor((state) => state.past.length > 0);
  const redone = useEditor((state) => state.future.length > 0);
  const findings = useEditor((state) => listFindings(state.result).length);
  const next = NEXT[camera];
  const notice = useNotice();
  const hint = useEditor(sayHints);
  if (tool !== 'select' && tool !== 'probe' && tool !== 'mask') return <ToolBar notice={notice} hint={hint} />;
  return (
    <nav className="phone-bar" aria-label="Actions">
      <p className="phone-notice" role="status">
        {notice}
      </p>
      <button
        type="button"
        disabled={findings === 0}
        aria-label="Finding before"
        onClick={() => stepFinding(store, -1)}
      >
        ‹
      </button>
      <button type="button" disabled={findings === 0} aria-label="Next finding" onClick={() => stepFinding(store, 1)}>
        ›
      </button>
      <button
        type="button"
        aria-pressed={tool === 'probe'}
        onClick={() => startTool(store, tool === 'probe' ? 'select' : 'probe')}
      >
        Probe
      </button>
      <button type="button" disabled={flat !== null} onClick={() => setCamera(store, next.camera)}>
        {next.word}
      </button>
      <button type="button" disabled={!undone && !redone} onClick={() => (undone ? undo(store) : redo(store))}>
        {undone || !redone ? 'Undo' : 'Redo'}
      </button>
      <button type="button" aria-haspopup="dialog" onClick={() => openDialog('find')}>
        Find
      </button>
    </nav>
  );
}

/** While a tool works: what it asks for, a line to type into, and the way back. */
function ToolBar({ notice, hint }: { readonly notice: string | null; readonly hint: string | null }) {
  const store = useEditorStore();
  const [text, setText] = useState('');
  const press = (key: string): void => {
    sendToolEvent(store, { type: 'key', key, modifiers: { shift: false, alt: false, ctrl: false } });
  };
  return (
    <nav className="phone-bar" aria-label="The tool">
      <p className="phone-notice">
        <span role="status">{notice}</span>
        {notice === null ? hint : null}
      </p>
      <form
        className="phone-entry"
        onSubmit={(event) => {
          event.preventDefault();
          if (text !== '') sendToolEvent(store, { type: 'text', text });
          setText('');
          press('Enter');
        }}
      >
        <input
          className="field"
          type="text"
          aria-label="Type to the tool"
          autoComplete="off"
          spellCheck={false}
          value={text}
          onChange={(event) => setText(event.target.value)}
        />
        <button type="submit">Set</button>
      </form>
      <button type="button" onClick={() => stepBackWithTool(store)}>
        Back
      </button>
      <button type="button" onClick={() => endTool(store)}>
        Done
      </button>
    </nav>
  );
}
