import { useEffect, useState } from 'react';
import type { EditorState, Tool } from '../../editor/store.ts';
import { setTool } from '../../editor/view.ts';
import { useEditor, useEditorStore } from './context.tsx';
import { focusPage } from './focus.ts';
import { formatPlace } from './format.ts';
import { nameOfId } from './words.ts';

interface ToolWord {
  readonly tool: Tool;
  readonly key: string;
  /** The word before, at and after its underlined letter; without a letter in the word the key stands after it. */
  readonly word: readonly [string, string, string];
}

const TOOLS: readonly ToolWord[] = [
  { tool: 'select', key: 'V', word: ['Select', '', ''] },
  { tool: 'probe', key: 'P', word: ['', 'P', 'robe'] },
  { tool: 'mask', key: 'K', word: ['Mas', 'k', ''] },
];

/** How long a step's name stays, milliseconds. */
const NOTICE_STAYS = 4000;

/** Tools as words; while something is in hand what the keys do; at the right the numbers under the pointer. */
export function Foot() {
  const store = useEditorStore();
  const tool = useEditor((state) => state.tool);
  const hints = useEditor(sayHints);
  const notice = useNotice();
  return (
    <footer className="foot" data-region="foot">
      {hints === null || tool !== 'select' ? (
        <div className="words tools" role="toolbar" aria-label="Tools">
          {TOOLS.map(({ tool: each, key, word }) => (
            <button
              key={each}
              type="button"
              className="word"
              aria-pressed={tool === each}
              aria-keyshortcuts={key}
              onClick={(event) => {
                setTool(store, each);
                if (event.detail > 0) focusPage();
              }}
            >
              <span>
                {word[0]}
                <u>{word[1]}</u>
                {word[2]}
              </span>
              {word[1] === '' && <kbd>{key}</kbd>}
            </button>
          ))}
        </div>
      ) : null}
      <p className="hints" role="status">
        {notice ?? hints}
      </p>
      <PointerNumbers />
    </footer>
  );
}

/** The notice while it is young. */
export function useNotice(): string | null {
  const notice = useEditor((state) => state.notice);
  const [old, setOld] = useState<number | null>(null);
  useEffect(() => {
    if (notice === null) return;
    const timer = setTimeout(() => setOld(notice.serial), NOTICE_STAYS);
    return () => clearTimeout(timer);
  }, [notice]);
  return notice === null || notice.serial === old ? null : notice.text;
}

/** What the hand is doing, and the keys that go with it. */
function sayHints(state: EditorState): string | null {
  const { gesture, maskHandle, tool, selection } = state;
  if (maskHandle !== null) {
    const name = nameOfId(state.floor, maskHandle.detector);
    return `The mask of ${name}, ${maskHandle.part}. Left and right: 1° · Shift: 5° · Tab: next handle · type an angle · Esc lets go`;
  }
  if (gesture !== null) {
    if (gesture.startsWith('Typing')) return `${gesture}. Enter sets it · Esc puts it back`;
    return `${gesture}. Esc puts it back`;
  }
  if (tool === 'probe') return 'Point at a place · arrows move one cell · click or Enter pins it · Esc ends';
  if (tool === 'mask') {
    const one = selection.length === 1 && state.floor.detectors.some((each) => each.id === selection[0]);
    return one
      ? 'Enter adds a mask to the selected detector · Esc ends'
      : 'Select a detector, then press Enter for a mask · Esc ends';
  }
  return null;
}

function PointerNumbers() {
  const pointer = useEditor((state) => state.pointer);
  return <p className="pointer">{pointer === null ? '' : `${formatPlace(pointer)} m`}</p>;
}
