import { createCoverage, updateCoverage } from '../../src/core/coverage/index.ts';
import { type FloorFile, validateFloor } from '../../src/core/floor/index.ts';
import { type Computation, createEditorStore, type EditorStore } from '../../src/editor/store.ts';

/** A room of 8 m by 6 m with a shelf between its one detector and one of two workplaces. */
export const SMALL_FLOOR: FloorFile = {
  format: 'lacuna/1',
  name: 'Trial',
  rooms: [
    {
      id: 'room',
      name: 'Room',
      outline: [
        [0, 0],
        [8, 0],
        [8, 6],
        [0, 6],
      ],
      ceiling: 3,
    },
  ],
  furniture: [
    {
      id: 'shelf',
      kind: 'shelving',
      name: 'Shelf',
      outline: [
        [5, 1],
        [5.4, 1],
        [5.4, 5],
        [5, 5],
      ],
      top: 2.2,
    },
  ],
  workplaces: [
    { id: 'near', name: '1', at: [2, 3] },
    { id: 'far', name: '2', at: [6.2, 3] },
  ],
  types: [{ id: 'round', name: 'Round', ranges: [{ motion: 'minor', mounting: 3, plane: 0.8, diameter: 12 }] }],
  detectors: [{ id: 'D1', name: 'D1', type: 'round', at: [3, 3], masks: [{ from: 90, to: 120, inner: 40 }] }],
};

export interface Trial {
  readonly store: EditorStore;
  /** Runs what was scheduled for the next frame; answers how much that was. */
  readonly runFrame: () => number;
}

/** A store over the small floor whose frames are run by hand. */
export function openTrial(file: FloorFile = SMALL_FLOOR): Trial {
  let scheduled: (() => void)[] = [];
  const computation: Computation = {
    createCoverage,
    updateCoverage,
    findFaults(each) {
      const parsed = validateFloor(each);
      return parsed.ok ? [] : parsed.faults;
    },
    schedule: (work) => void scheduled.push(work),
  };
  return {
    store: createEditorStore(file, computation, 'trial.json'),
    runFrame() {
      const works = scheduled;
      scheduled = [];
      for (const work of works) work();
      return works.length;
    },
  };
}
