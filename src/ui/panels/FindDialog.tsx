import { type KeyboardEvent, useEffect, useId, useMemo, useRef, useState } from 'react';
import { goToFinding, listFindings } from '../../editor/findings.ts';
import { listThings, placeOf, type Thing } from '../../editor/things.ts';
import { flyTo, select } from '../../editor/view.ts';
import { act } from './actions.ts';
import { COMMANDS } from './commands.ts';
import { useEditor, useEditorStore, useHost } from './context.tsx';
import { Dialog } from './Dialog.tsx';
import { closeDialog } from './dialog-state.ts';
import { readVerbs } from './find-verbs.ts';
import { nameOf, sayFinding } from './words.ts';

interface Entry {
  readonly key: string;
  readonly lead: string;
  readonly text: string;
  readonly aside: string;
  readonly run: () => void;
}

const SHOWN = 12;

/** One line that finds things, rooms, findings and commands by their words. */
export default function FindDialog() {
  const store = useEditorStore();
  const host = useHost();
  const floor = useEditor((state) => state.floor);
  const findings = useEditor((state) => listFindings(state.result));
  const [text, setText] = useState('');
  const [at, setAt] = useState(0);
  const listId = useId();
  const list = useRef<HTMLDivElement>(null);

  const entries = useMemo((): readonly Entry[] => {
    const commands = COMMANDS.map(
      (command): Entry => ({
        key: `command ${command.text}`,
        lead: '',
        text: command.text,
        aside: command.keys,
        run: () => command.run({ store, host }),
      }),
    );
    const groups = floor.groups.map((value): Thing => ({ kind: 'group', value }));
    const listed = [...listThings(floor), ...groups];
    const names = new Map<string, number>();
    for (const thing of listed) names.set(nameOf(floor, thing), (names.get(nameOf(floor, thing)) ?? 0) + 1);
    const things = listed.map(
      (thing): Entry => ({
        key: `thing ${thing.value.id}`,
        lead: 'Go to ',
        text: nameOf(floor, thing),
        // Namesakes are told apart by their ids.
        aside: names.get(nameOf(floor, thing)) === 1 ? thing.kind : `${thing.kind} ${thing.value.id}`,
        run: () => {
          select(store, [thing.value.id]);
          flyTo(store, placeOf(floor, thing), [thing.value.id]);
        },
      }),
    );
    const found = findings.map(
      (finding, index): Entry => ({
        key: `finding ${index}`,
        lead: 'Finding: ',
        text: sayFinding(floor, finding.text),
        aside: finding.level,
        run: () => goToFinding(store, index),
      }),
    );
    return [...commands, ...things, ...found];
  }, [store, host, floor, findings]);

  const verbs = useMemo((): readonly Entry[] => {
    const { file, units, lockedKinds } = store.getState();
    return readVerbs(text, { file, floor, units, lockedKinds }).map((verb) => ({
      key: `verb ${verb.text}`,
      lead: '',
      text: verb.text,
      aside: '',
      run: () => act((actions) => actions.makeEdit(store, verb.plan())),
    }));
  }, [store, floor, text]);
  const hits = useMemo(() => [...verbs, ...searchEntries(entries, text)].slice(0, SHOWN), [entries, verbs, text]);
  const current = Math.min(at, hits.length - 1);
  useEffect(() => {
    list.current?.children[current]?.scrollIntoView({ block: 'nearest' });
  }, [current]);

  const take = (entry: Entry | undefined): void => {
    if (entry === undefined) return;
    closeDialog();
    // After the dialog has given the focus back: what is run may take it elsewhere.
    requestAnimationFrame(entry.run);
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    const step = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0;
    if (step !== 0 && hits.length > 0) {
      event.preventDefault();
      setAt((current + step + hits.length) % hits.length);
    } else if (event.key === 'Enter') {
      event.preventDefault();
      take(hits[current]);
    }
  };

  return (
    <Dialog title="Find" titled={false} className="find-sheet">
      <input
        className="find-line"
        type="text"
        role="combobox"
        aria-label="Find things, rooms, findings and commands"
        aria-expanded={hits.length > 0}
        aria-controls={listId}
        aria-activedescendant={hits.length > 0 ? `${listId}-${current}` : undefined}
        aria-autocomplete="list"
        autoComplete="off"
        spellCheck={false}
        value={text}
        onChange={(event) => {
          setText(event.target.value);
          setAt(0);
        }}
        onKeyDown={onKeyDown}
      />
      <div className="hits" id={listId} ref={list} role="listbox" aria-label="Found">
        {hits.map((entry, i) => (
          // biome-ignore lint/a11y/useKeyWithClickEvents: the line above keeps the focus and takes the keys
          // biome-ignore lint/a11y/useFocusableInteractive: the line above keeps the focus
          <div
            key={entry.key}
            id={`${listId}-${i}`}
            role="option"
            aria-selected={i === current}
            className="hit"
            onClick={() => take(entry)}
          >
            <span className="hit-text">
              {entry.lead}
              <bdi>{entry.text}</bdi>
            </span>
            <kbd>{i === current ? 'Enter' : entry.aside}</kbd>
          </div>
        ))}
      </div>
      <p className="sheet-note" role="status">
        {hits.length === 0
          ? 'Nothing has these words.'
          : 'Things, rooms, findings, commands; also D14 3.2 from south, or shelves 1.4. Esc closes.'}
      </p>
    </Dialog>
  );
}

/** Entries that hold every word; those that begin with the text, then with a word of it, come first. */
function searchEntries(entries: readonly Entry[], text: string): readonly Entry[] {
  const words = text.toLowerCase().split(/\s+/u).filter(Boolean);
  if (words.length === 0) return entries.slice(0, SHOWN);
  const rank = (entry: Entry): number => {
    const body = entry.text.toLowerCase();
    const whole = `${entry.lead}${entry.text} ${entry.aside}`.toLowerCase();
    if (!words.every((word) => whole.includes(word))) return -1;
    if (body === words.join(' ')) return 4;
    if (body.startsWith(words.join(' '))) return 3;
    return words.every((word) => body.split(/\s+/u).some((part) => part.startsWith(word))) ? 2 : 1;
  };
  return entries
    .map((entry) => ({ entry, rank: rank(entry) }))
    .filter((each) => each.rank > 0)
    .sort((a, b) => b.rank - a.rank)
    .slice(0, SHOWN)
    .map((each) => each.entry);
}
