import { useEffect, useState } from 'react';
import type { EditorState } from '../../editor/store.ts';
import { endTool, startTool, type ToolRun } from '../../editor/tool-run.ts';
import { useEditor, useEditorStore } from './context.tsx';
import { focusPage } from './focus.ts';
import { formatPlaceWithUnit } from './format.ts';
import { splitWord, TOOL_WORDS, wordOfTool } from './tool-words.ts';
import { nameOfId } from './words.ts';

/** How long a step's name stays, milliseconds. */
const NOTICE_STAYS = 4000;

/** Tools as words; while something is in hand what the keys do; at the right the numbers under the pointer. */
export function Foot() {
  const hints = useEditor(sayHints);
  return (
    <footer className="foot" data-region="foot">
      {hints === null ? <ToolWords /> : null}
      <ToolInHand />
      <Hints hints={hints} />
      <PointerNumbers />
      <Announcement />
    </footer>
  );
}

function ToolWords() {
  const store = useEditorStore();
  const tool = useEditor((state) => state.tool);
  return (
    <div className="words tools" role="toolbar" aria-label="Tools">
      {TOOL_WORDS.map((each) => {
        const [before, letter, after] = splitWord(each);
        return (
          <button
            key={each.id}
            type="button"
            className="word"
            aria-pressed={tool === each.id}
            aria-keyshortcuts={each.key.replace(' ', '+')}
            onClick={(event) => {
              startTool(store, each.id);
              if (event.detail > 0) focusPage();
            }}
          >
            <span>
              {before}
              <u>{letter}</u>
              {after}
            </span>
            {letter === '' && <kbd>{each.key}</kbd>}
          </button>
        );
      })}
    </div>
  );
}

/** The name of the tool that works: pressed again it is put away. */
function ToolInHand() {
  const store = useEditorStore();
  const tool = useEditor((state) => state.tool);
  if (tool === 'select') return null;
  return (
    <span className="words tool-in-hand">
      <span className="tool-name">{wordOfTool(tool)}</span>
      <button
        type="button"
        className="word"
        onClick={() => {
          endTool(store);
          focusPage();
        }}
      >
        Done <kbd>Esc</kbd>
      </button>
    </span>
  );
}

/** What has been done, while it is new; else what the keys do. What is being typed is always to be seen. */
function Hints({ hints }: { readonly hints: string | null }) {
  const notice = useNotice();
  const [typed, rest] = splitTyped(hints ?? '');
  return (
    <p className="hints">
      <span className="hints-lines">
        <span>
          {typed !== '' && <b className="typed">{typed}</b>}
          <span role="status">{typed === '' ? notice : null}</span>
          {typed !== '' || notice === null ? rest : null}
        </span>
      </span>
    </p>
  );
}

/** A tool's hint while something is typed begins with it: `5.4 · Enter sets it`. */
function splitTyped(hint: string): readonly [typed: string, rest: string] {
  const match = /^([^·]+?) · (Enter\b.*)$/u.exec(hint);
  return match === null ? ['', hint] : [match[1] ?? '', match[2] ?? ''];
}

/** What the tool says, read out and not shown. */
function Announcement() {
  const announcement = useEditor((state) => state.toolRun?.announcement ?? null);
  return (
    <p className="unseen" aria-live="polite" data-announcement={announcement?.serial}>
      {announcement?.text}
    </p>
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

/** Whether nothing but the handles of the selection is shown: the select tool has nothing in hand. */
export function isResting(run: ToolRun | null): boolean {
  return (
    run === null ||
    run.guides.every((guide) => guide.kind === 'mark' && (guide.mark === 'handle' || guide.mark === 'turn'))
  );
}

/** What the hand is doing, and the keys that go with it. Null: the tools are offered. */
export function sayHints(state: EditorState): string | null {
  const { gesture, maskHandle, tool, toolRun, selection } = state;
  if (maskHandle !== null) {
    const name = nameOfId(state.floor, maskHandle.detector);
    return `The mask of ${name}, ${maskHandle.part}. Left and right: 1° · Shift: 5° · Tab: next handle · type an angle · Esc lets go`;
  }
  if (gesture?.startsWith('Typing')) return `${gesture}. Enter sets it · Esc puts it back`;
  if (toolRun !== null && (tool !== 'select' || !isResting(toolRun))) return toolRun.hint;
  if (gesture !== null) return `${gesture}. Esc puts it back`;
  if (tool === 'probe') return 'Point at a place · arrows move one cell · click or Enter pins it · Esc ends';
  if (tool === 'mask') {
    const one = selection.length === 1 && state.floor.detectors.some((each) => each.id === selection[0]);
    return one
      ? 'Enter adds a mask to the selected detector · Esc ends'
      : 'Select a detector, then press Enter for a mask · Esc ends';
  }
  return tool === 'select' ? null : '';
}

function PointerNumbers() {
  const pointer = useEditor((state) => state.pointer);
  return <p className="pointer">{pointer === null ? '' : formatPlaceWithUnit(pointer)}</p>;
}
