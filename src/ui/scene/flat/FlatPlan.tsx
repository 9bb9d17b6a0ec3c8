import { useEffect, useRef } from 'react';
import type { EditorStore } from '../../../editor/store.ts';
import { say, setCamera } from '../../../editor/view.ts';
import { PointerInput } from '../pointer/pointer-input.ts';
import { createViewApi, type ViewApi } from '../view-api.ts';
import { FlatPage } from './flat-page.ts';

interface Props {
  readonly store: EditorStore;
  /** Why there is no other camera. */
  readonly reason: string;
  /** Told the view for the keys once it stands, and null when it is taken down. */
  readonly onView: (view: ViewApi | null) => void;
}

/** The page where the browser draws no WebGL: the plan in full, as SVG. */
export default function FlatPlan({ store, reason, onView }: Props) {
  const page = useRef<HTMLDivElement>(null);
  const overlay = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (page.current === null || overlay.current === null) return;
    const flat = new FlatPage(page.current, overlay.current, store);
    const input = new PointerInput(page.current, store, flat.view);
    onView(createViewApi(flat.view, store));
    return () => {
      onView(null);
      input.dispose();
      flat.dispose();
    };
  }, [store, onView]);
  useEffect(() => {
    const stay = (): void => {
      const { camera } = store.getState();
      if (camera === 'plan') return;
      setCamera(store, 'plan');
      say(store, `${camera === 'model' ? 'The model' : 'Walking'} is not drawn here. ${reason}`);
    };
    stay();
    return store.subscribe(stay);
  }, [store, reason]);
  return (
    <div className="scene flat-plan" ref={page}>
      <div className="scene-words" aria-hidden="true" ref={overlay} />
    </div>
  );
}
