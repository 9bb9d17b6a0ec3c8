import { useState } from 'react';
import { endTool, sendToolEvent, stepBackWithTool } from '../../editor/tool-run.ts';
import { useEditorStore } from './context.tsx';

/** Keys that a phone has not. */
const KEYS_ALONE = /\b(?:Esc|Ctrl|Shift|Alt|Backspace|arrows|by keys)\b|\[ \]/u;

/** A tool's hint for who has a finger in place of pointer and keys. */
export function sayForFinger(hint: string): string {
  return hint
    .split(' · ')
    .filter((part) => !KEYS_ALONE.test(part))
    .map((part) =>
      part
        .replace(/\bclick(?: or Enter)?\b/gu, 'tap')
        .replace(/\bClick(?: or Enter)?\b/gu, 'Tap')
        .replace(/, or Up and Down,/gu, '')
        .replace(/\bEnter\b/gu, 'Set'),
    )
    .join(' · ');
}

/** On a phone, while a tool works: what it asks for, a line to type into, and the way back. */
export default function ToolBar({ notice, hint }: { readonly notice: string | null; readonly hint: string | null }) {
  const store = useEditorStore();
  const [text, setText] = useState('');
  const press = (key: string): void => {
    sendToolEvent(store, { type: 'key', key, modifiers: { shift: false, alt: false, ctrl: false } });
  };
  return (
    <nav className="phone-bar" aria-label="The tool">
      <p className="phone-notice">
        <span role="status">{notice}</span>
        {notice === null && hint !== null ? sayForFinger(hint) : null}
      </p>
      <form
        className="phone-entry"
        onSubmit={(event) => {
          event.preventDefault();
          setText('');
          // A letter by itself is a key: it chooses a kind, or closes an outline.
          if (/^\p{L}$/u.test(text.trim())) {
            press(text.trim());
            return;
          }
          if (text !== '') sendToolEvent(store, { type: 'text', text });
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
