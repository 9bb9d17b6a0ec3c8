import { useState } from 'react';
import { endTool, sendToolEvent, stepBackWithTool } from '../../editor/tool-run.ts';
import { useEditorStore } from './context.tsx';

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
