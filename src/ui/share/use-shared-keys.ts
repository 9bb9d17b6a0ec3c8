import { useEffect } from 'react';
import { stepFinding } from '../../editor/findings.ts';
import { nudgeProbe } from '../../editor/nudges.ts';
import type { EditorStore } from '../../editor/store.ts';
import { setCamera, setPlane, setShow, setTool, stepBack } from '../../editor/view.ts';
import { useEditorStore } from '../panels/context.tsx';
import { isWriting, regionInFocus } from '../panels/focus.ts';
import { view } from '../panels/scene-port.ts';
import { walk } from '../panels/walk.ts';

/** What the keys do, for the foot. */
export const KEYS = 'P probes; comma and full stop step through the findings; arrows move; + − 0 zoom.';

const PAN = 48;
const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

const LOOKS: Readonly<Record<string, (store: EditorStore) => void>> = {
  '1': (store) => setCamera(store, 'plan'),
  '2': (store) => setCamera(store, 'model'),
  '3': (store) => setCamera(store, 'walk'),
  '4': (store) => setShow(store, 'blind'),
  '5': (store) => setShow(store, 'count'),
  '6': (store) => setShow(store, 'headings'),
  '7': (store) => setPlane(store, 'seated'),
  '8': (store) => setPlane(store, 'walking'),
  '+': () => view()?.zoomBy(1.25),
  '=': () => view()?.zoomBy(1.25),
  '-': () => view()?.zoomBy(0.8),
  '0': () => view()?.fit(),
  ',': (store) => stepFinding(store, -1),
  '.': (store) => stepFinding(store, 1),
  p: (store) => {
    setTool(store, 'probe');
    nudgeProbe(store, 0, 0);
  },
  Escape: (store) => {
    setTool(store, 'select');
    stepBack(store);
  },
};

/** The keys of a floor that is only looked at. They act while nothing is being written. */
export function useSharedKeys(): void {
  const store = useEditorStore();
  useEffect(() => {
    const onKeyDown = (event: KeyboardEvent): void => {
      if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey || isWriting(event.target)) return;
      const arrow = ARROWS[event.key];
      if (arrow !== undefined && regionInFocus() === 'page') {
        moveBy(store, arrow, event.shiftKey);
        event.preventDefault();
        return;
      }
      const look = LOOKS[event.key.length === 1 ? event.key.toLowerCase() : event.key];
      if (look === undefined) return;
      look(store);
      event.preventDefault();
    };
    window.addEventListener('keydown', onKeyDown);
    return () => window.removeEventListener('keydown', onKeyDown);
  }, [store]);
}

function moveBy(store: EditorStore, [right, up]: readonly [number, number], shift: boolean): void {
  const { camera, tool } = store.getState();
  if (camera === 'walk') walk(store, right, up, shift);
  else if (tool === 'probe') nudgeProbe(store, right * (shift ? 10 : 1), up * (shift ? 10 : 1));
  else if (camera === 'model' && !shift) view()?.orbitBy(right * 15, up * 15);
  else view()?.pan(right * PAN, -up * PAN);
}
