import { redo, undo } from '../../editor/history.ts';
import { hasUnsavedChanges } from '../../editor/store.ts';
import { useEditor, useEditorStore, useHost } from './context.tsx';
import { Dialog } from './Dialog.tsx';
import { closeDialog, openDialog } from './dialog-state.ts';
import { RecentFloors } from './RecentFloors.tsx';

/** Open, save, examples, undo, theme: what a pointer would look for behind the name of the program. */
export default function FilesDialog() {
  const store = useEditorStore();
  const host = useHost();
  const unsaved = useEditor(hasUnsavedChanges);
  const undone = useEditor((state) => state.past.at(-1)?.name);
  const redone = useEditor((state) => state.future.at(-1)?.name);
  const units = useEditor((state) => state.units);
  const examples = host.listExamples();
  const after = (run: () => void) => () => {
    closeDialog();
    run();
  };
  return (
    <Dialog title="Files" className="files-sheet">
      <ul className="choices">
        <Choice first text="New floor" run={after(() => host.newFloor())} />
        <Choice text="Open a floor" keys="Ctrl O" run={after(() => host.openFile())} />
        <Choice text="Import a model, a drawing or a map" run={after(() => host.imports.pick())} />
        <Choice
          text={unsaved ? 'Save the floor, it has changes' : 'Save the floor'}
          keys="Ctrl S"
          run={after(() => host.saveFile())}
        />
        <Choice text="Hand over: report, plans, schedule" keys="H" run={() => openDialog('handover')} />
        <Choice text="Picture under the plan" run={() => openDialog('underlay')} />
        {undone !== undefined && <Choice text={`Undo: ${undone}`} keys="Ctrl Z" run={after(() => undo(store))} />}
        {redone !== undefined && <Choice text={`Redo: ${redone}`} keys="Ctrl Shift Z" run={after(() => redo(store))} />}
        <Choice text="All keys" keys="?" run={() => openDialog('keys')} />
      </ul>
      <RecentFloors />
      <h3 className="ledger-title">Example floors</h3>
      <ul className="choices">
        {examples.map((example) => (
          <Choice key={example.key} text={example.name} run={after(() => host.openExample(example.key))} />
        ))}
      </ul>
      <h3 className="ledger-title">Lengths</h3>
      <ul className="choices across">
        <Choice text="Metres" pressed={units === 'metres'} run={after(() => host.chooseUnits('metres'))} />
        <Choice text="Feet and inches" pressed={units === 'feet'} run={after(() => host.chooseUnits('feet'))} />
      </ul>
      <h3 className="ledger-title">Theme</h3>
      <ul className="choices across">
        <Choice text="Light" run={after(() => host.chooseTheme('light'))} />
        <Choice text="Dark" run={after(() => host.chooseTheme('dark'))} />
        <Choice text="As the system" run={after(() => host.chooseTheme('system'))} />
      </ul>
    </Dialog>
  );
}

interface ChoiceProps {
  readonly text: string;
  readonly keys?: string;
  readonly first?: boolean;
  /** Of a choice among several: whether it is the one that holds. */
  readonly pressed?: boolean;
  readonly run: () => void;
}

function Choice({ text, keys, first, pressed, run }: ChoiceProps) {
  return (
    <li>
      <button type="button" className="choice" data-first={first} aria-pressed={pressed} onClick={run}>
        <bdi>{text}</bdi>
        {keys !== undefined && <kbd>{keys}</kbd>}
      </button>
    </li>
  );
}
