import { useEffect, useRef, useState } from 'react';
import { useStore } from 'zustand';
import { type KeptFloor, sayOrigin } from '../../editor/storage/kept-floor.ts';
import { say } from '../../editor/view.ts';
import { useEditorStore, useHost } from './context.tsx';
import { closeDialog } from './dialog-state.ts';
import { formatArea, formatMoment } from './format.ts';

/** Floors kept in this browser, the last used first: opened by their name, removed one by one. */
export function RecentFloors() {
  const store = useEditorStore();
  const { keeper, openKept } = useHost();
  const isElsewhere = useStore(keeper.state, ({ elsewhere }) => elsewhere !== 'no');
  const [floors, setFloors] = useState<readonly KeptFloor[]>([]);
  useEffect(() => void keeper.list().then(setFloors), [keeper]);
  const list = useRef<HTMLUListElement>(null);
  const others = floors.filter((floor) => floor.id !== keeper.openId());
  const remove = async (floor: KeptFloor): Promise<void> => {
    const question = `${floor.name} holds changes that are in no file. Remove it for good?`;
    if (floor.isChanged && !confirm(question)) return;
    if (!(await keeper.remove(floor.id))) say(store, `${floor.name} stays: it is open in another tab.`);
    setFloors(await keeper.list());
    // The button that had the focus is gone with its floor.
    list.current?.closest('dialog')?.querySelector<HTMLElement>('[data-first]')?.focus();
  };
  if (others.length === 0 && !isElsewhere) return null;
  return (
    <>
      <h3 className="ledger-title">Recent floors</h3>
      <ul ref={list} className="choices recent">
        {isElsewhere && (
          <li>
            <button
              type="button"
              className="choice"
              onClick={() => {
                closeDialog();
                void keeper.takeOver();
              }}
            >
              Take the open floor over from the other tab
            </button>
          </li>
        )}
        {others.map((floor) => (
          <li key={floor.id}>
            <button
              type="button"
              className="choice"
              onClick={() => {
                closeDialog();
                openKept(floor);
              }}
            >
              <bdi>{floor.name}</bdi>
              <span className="aside">
                {formatArea(floor.areaM2)} of rooms, {formatMoment(floor.changedAt, Date.now())},{' '}
                <bdi>{sayOrigin(floor)}</bdi>
              </span>
            </button>
            <button
              type="button"
              className="word"
              aria-label={`Remove ${floor.name}`}
              onClick={() => void remove(floor)}
            >
              Remove
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}
