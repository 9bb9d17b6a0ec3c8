import { lazy, Suspense } from 'react';
import { listFindings, stepFinding } from '../../editor/findings.ts';
import { redo, undo } from '../../editor/history.ts';
import type { Camera } from '../../editor/store.ts';
import { startTool } from '../../editor/tool-run.ts';
import { setCamera } from '../../editor/view.ts';
import { useEditor, useEditorStore } from './context.tsx';
import { openDialog } from './dialog-state.ts';
import { sayHints, useNotice } from './Foot.tsx';

const ToolBar = lazy(() => import('./ToolBar.tsx'));

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
  if (tool !== 'select' && tool !== 'probe' && tool !== 'mask')
    return (
      <Suspense>
        <ToolBar notice={notice} hint={hint} />
      </Suspense>
    );
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
