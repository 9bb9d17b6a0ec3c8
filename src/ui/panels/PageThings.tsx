import { memo, useDeferredValue, useEffect, useMemo, useRef } from 'react';
import type { WorkplaceResult } from '../../core/coverage/result.ts';
import { type Floor, findRoomAt } from '../../core/floor/index.ts';
import { listThings, placeOf } from '../../editor/things.ts';
import { flyTo, select } from '../../editor/view.ts';
import { useEditor, useEditorStore } from './context.tsx';
import { describeThing } from './words.ts';

/** Things that stand in the document at once; the window moves along with the focus. */
const WINDOW = 200;

/**
 * The page's things as words: out of sight, room by room. On the page Tab walks from one to the next and selects it, so
 * the whole floor can be gone through without seeing it. Past the last one Tab leaves the page.
 */
export function PageThings() {
  // The list is read, not looked at: it may come a moment after the picture.
  const floor = useDeferredValue(useEditor((state) => state.floor));
  const workplaces = useDeferredValue(useEditor((state) => state.result?.workplaces));
  const held = useEditor((state) => state.selection.at(-1));
  return <Things floor={floor} workplaces={workplaces} held={held} />;
}

interface ThingsProps {
  readonly floor: Floor;
  readonly workplaces: readonly WorkplaceResult[] | undefined;
  /** Id of the thing in hand. */
  readonly held: string | undefined;
}

const Things = memo(function Things({ floor, workplaces, held }: ThingsProps) {
  const store = useEditorStore();
  const things = useMemo(() => listThings(floor), [floor]);
  const verdicts = useMemo(
    () => new Map<string, WorkplaceResult>((workplaces ?? []).map((each) => [each.id, each])),
    [workplaces],
  );
  const at = things.findIndex((thing) => thing.value.id === held);
  const first = Math.max(0, Math.min(at - WINDOW / 2, things.length - WINDOW));
  const list = useRef<HTMLUListElement>(null);
  const isWalking = useRef(false);

  // The element of a thing far away comes only with its window: the focus follows once it is there.
  useEffect(() => {
    if (!isWalking.current || held === undefined) return;
    isWalking.current = false;
    list.current?.querySelector<HTMLElement>(`[data-thing="${CSS.escape(held)}"]`)?.focus({ preventScroll: true });
  }, [held]);

  useEffect(() => {
    const page = list.current?.closest<HTMLElement>('[data-region="page"]');
    if (page === null || page === undefined) return;
    const onKeyDown = (event: KeyboardEvent): void => {
      if (event.key !== 'Tab' || event.ctrlKey || event.altKey || store.getState().maskHandle !== null) return;
      const next = at < 0 && event.shiftKey ? undefined : things[at + (event.shiftKey ? -1 : 1)];
      if (next === undefined) return;
      event.preventDefault();
      isWalking.current = true;
      select(store, [next.value.id]);
      flyTo(store, placeOf(floor, next), [next.value.id]);
    };
    page.addEventListener('keydown', onKeyDown);
    return () => page.removeEventListener('keydown', onKeyDown);
  }, [store, floor, things, at]);

  return (
    <ul className="things" ref={list} aria-label="Things on the floor">
      {things.slice(first, first + WINDOW).map((thing, i) => (
        <li key={`${thing.kind} ${thing.value.id}`}>
          <button
            type="button"
            tabIndex={-1}
            data-thing={thing.value.id}
            aria-pressed={thing.value.id === held}
            onClick={() => select(store, [thing.value.id])}
          >
            {describeThing(floor, thing, verdicts)}
            {thing.kind === 'room' ? '' : `, in ${findRoomAt(floor.rooms, placeOf(floor, thing))?.name ?? 'no room'}`},{' '}
            {first + i + 1} of {things.length}
          </button>
        </li>
      ))}
    </ul>
  );
});
