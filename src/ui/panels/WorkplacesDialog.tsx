import { useEffect, useMemo, useState } from 'react';
import { parseWorkplaces } from '../../editor/edits/workplace-table.ts';
import { addWorkplaces } from '../../editor/edits/workplaces.ts';
import { useEditor, useEditorStore } from './context.tsx';
import { Dialog } from './Dialog.tsx';
import { closeDialog } from './dialog-state.ts';
import { makeEdit } from './edit-actions.ts';
import { count, formatDegrees, formatPlaceWithUnit } from './format.ts';
import { takeOfferedWorkplaces } from './pasted-workplaces.ts';

const SHOWN = 8;

/** Workplaces pasted from a spreadsheet: what is read is shown before it is added. */
export default function WorkplacesDialog() {
  const store = useEditorStore();
  const units = useEditor((state) => state.units);
  const [text, setText] = useState('');
  useEffect(() => {
    const offered = takeOfferedWorkplaces();
    if (offered !== '') setText(offered);
  }, []);
  const { items, faults } = useMemo(() => parseWorkplaces(text, units), [text, units]);
  const add = (): void => {
    if (!makeEdit(store, addWorkplaces(store.getState().file, items))) return;
    closeDialog();
  };
  return (
    <Dialog title="Workplaces from a spreadsheet" className="list-sheet">
      <div className="sheet-part">
        <label htmlFor="workplace-list">
          One a line: name, x, y, facing, posture. {units === 'feet' ? 'Feet' : 'Metres'}, degrees; a first line may
          name the columns and their unit.
        </label>
        <textarea
          id="workplace-list"
          data-first
          className="field list-text"
          rows={7}
          spellCheck={false}
          autoComplete="off"
          value={text}
          onChange={(event) => setText(event.target.value)}
        />
        <ul className="list-read" aria-live="polite">
          {items.slice(0, SHOWN).map((item, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a line has no name of its own
            <li key={i}>
              <bdi>{item.name ?? 'next number'}</bdi>: {formatPlaceWithUnit(item.at)}
              {item.facing === undefined ? '' : `, faces ${formatDegrees(item.facing)}`}
              {item.posture === undefined ? '' : `, ${item.posture}`}
            </li>
          ))}
          {items.length > SHOWN && <li>{items.length - SHOWN} more.</li>}
          {faults.slice(0, SHOWN).map(({ line, what, remedy }) => (
            <li key={line}>
              <b>Line {line}.</b> {what}. {remedy}
            </li>
          ))}
          {faults.length > SHOWN && <li>{faults.length - SHOWN} lines more cannot be read.</li>}
        </ul>
      </div>
      <div className="sheet-note words">
        <button type="button" className="word" disabled={items.length === 0} onClick={add}>
          Add {count(items.length, 'workplace')}
        </button>
        {faults.length > 0 && items.length > 0 && <span>The other lines are left out.</span>}
      </div>
    </Dialog>
  );
}
