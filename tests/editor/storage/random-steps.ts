/** What a person does in a session, at random, and what is to be there again after it. */
import { type FloorFile, serialiseFloor } from '../../../src/core/floor/index.ts';
import {
  beginGesture,
  cancelGesture,
  commitGesture,
  edit,
  nudge,
  previewGesture,
  redo,
  undo,
} from '../../../src/editor/history.ts';
import { addMask, moveDetector, setFurnitureTop, setName } from '../../../src/editor/recipes.ts';
import { type EditorStore, hasUnsavedChanges } from '../../../src/editor/store.ts';
import type { Random } from '../../models/random.ts';

/** Does one thing; what cannot be done now does nothing. */
export function doSomething(store: EditorStore, random: Random): void {
  const detector = random.pick(store.getState().file.detectors ?? []).id;
  const place = (): [number, number] => [random.between(0.5, 7.5), random.between(0.5, 0.9)];
  switch (random.whole(0, 9)) {
    case 0:
      edit(store, 'Moved', moveDetector(detector, place()));
      break;
    case 1:
      for (let i = random.whole(1, 4); i > 0; i -= 1)
        nudge(store, `move ${detector}`, () => `Nudged to ${i}`, moveDetector(detector, place()));
      break;
    case 2:
      edit(store, 'Top', setFurnitureTop('shelf', random.between(1, 2.5)));
      break;
    case 3:
      edit(store, 'Mask', addMask(detector, { from: 10, to: 40, inner: 10, outer: random.between(20, 90) }));
      break;
    case 4:
      edit(store, 'Name', setName('detectors', detector, `D${random.whole(1, 99)}`));
      break;
    case 5:
      edit(store, 'Piece', (draft) => {
        const x = random.between(0.1, 4);
        const outline: [number, number][] = [
          [x, 5.5],
          [x + 0.3, 5.5],
          [x + 0.3, 5.8],
          [x, 5.8],
        ];
        const id = `piece-${random.whole(0, 1e9)}`;
        draft.furniture?.splice(random.whole(0, 1), 0, { id, kind: 'desk', name: 'Desk', outline, top: 0.7 });
      });
      break;
    case 6:
      beginGesture(store, 'Dragging');
      previewGesture(store, moveDetector(detector, place()));
      if (random.chance(0.5)) cancelGesture(store);
      else commitGesture(store, 'Dragged', moveDetector(detector, place()));
      break;
    case 7:
      store.setState({ savedFile: store.getState().file, fileName: 'saved.json' });
      break;
    case 8:
      for (let i = random.whole(1, 3); i > 0; i -= 1) undo(store);
      break;
    default:
      redo(store);
  }
}

export function rename(store: EditorStore, name: string): void {
  edit(store, `Named ${name}`, setName('detectors', 'D1', name));
}

const texts = new WeakMap<FloorFile, string>();

function writeOnce(file: FloorFile): string {
  const text = texts.get(file) ?? serialiseFloor(file);
  texts.set(file, text);
  return text;
}

export function textOf(store: EditorStore): string {
  return writeOnce(store.getState().file);
}

/** Everything a return must bring back: the file, what was saved, and each step to either side. */
export function remember(store: EditorStore) {
  const { file, savedFile, past, future, fileName } = store.getState();
  // What was saved and can be reached no more by undo or redo is known by its file's name alone.
  const saved = [file, ...past.map((step) => step.file), ...future.map((step) => step.file)].find(
    (each) => each === savedFile,
  );
  return {
    file: writeOnce(file),
    saved: saved === undefined ? null : writeOnce(saved),
    isUnsaved: hasUnsavedChanges(store.getState()),
    fileName,
    past: past.map((step) => [step.name, writeOnce(step.file)]),
    future: future.map((step) => [step.name, writeOnce(step.file)]),
  };
}
