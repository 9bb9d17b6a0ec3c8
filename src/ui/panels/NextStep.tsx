import { shownFloor } from '../../editor/store.ts';
import { startTool } from '../../editor/tool-run.ts';
import { useEditor, useEditorStore } from './context.tsx';
import { focusPage } from './focus.ts';

/** What a new floor lacks until something of it is seen: a room, then a detector. Gone as soon as both are there. */
export function NextStep() {
  const store = useEditorStore();
  const lacks = useEditor((state) => {
    const { rooms, detectors } = shownFloor(state);
    if (rooms.length === 0) return 'room';
    return detectors.length === 0 ? 'detector' : null;
  });
  const tool = useEditor((state) => state.tool);
  const isFirst = useEditor((state) => state.tool === 'select' && state.floor.rooms.length === 0);
  // The empty page offers the first step itself.
  if (lacks === null || tool === lacks || isFirst) return null;
  return (
    <p className="next-step">
      <button
        type="button"
        className="word"
        onClick={() => {
          startTool(store, lacks);
          focusPage();
        }}
      >
        {lacks === 'room' ? 'Next: draw a room' : 'Next: hang a detector'} <kbd>{lacks === 'room' ? 'R' : 'D'}</kbd>
      </button>
    </p>
  );
}
