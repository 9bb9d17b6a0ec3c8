import type { FloorFile } from '../../src/core/floor/schema.ts';
import { pickDetectorTypes } from './detector-types.ts';
import {
  add,
  addIsland,
  addOpening,
  addPanels,
  addPiece,
  addRoom,
  box,
  createDraft,
  finishDraft,
} from './floor-draft.ts';

/** A small teaching floor of 100 m²: two islands, one high screen, one shelf, one room behind glass. */
export function composeDeskIsland(): FloorFile {
  const draft = createDraft();
  addRoom(
    draft,
    'studio',
    'Studio',
    'open-plan office',
    [
      [0, 0],
      [12, 0],
      [12, 5.3],
      [8.3, 5.3],
      [8.3, 8.4],
      [0, 8.4],
    ],
    2.8,
    { ceilingFrom: 'measured' },
  );
  addRoom(draft, 'talk', 'Talk room', 'meeting', box(8.4, 5.4, 12, 8.4), 2.8);

  addOpening(draft, 'door', [0, 6.4], [0, 7.4], { depth: 0.2 });
  addOpening(draft, 'door', [8.35, 7.2], [8.35, 8.1], { depth: 0.2 });
  addOpening(draft, 'window', [8.7, 5.35], [11.7, 5.35], { depth: 0.2, sill: 0.1, head: 2.6 });
  for (const x of [0.6, 4.4, 8.2]) addOpening(draft, 'window', [x, 0], [x + 3, 0], { sill: 0.9, head: 2.5 });

  addIsland(draft, { x: 3.6, y: 3.2, turn: 0, perSide: 2, screenTop: 1.6, name: 'Focus island' });
  addIsland(draft, { x: 9.3, y: 2.7, turn: 90, perSide: 2, screenTop: 1.2, name: 'Team island' });
  addPiece(draft, 'shelving', 'Shelf', box(6.3, 0.6, 6.7, 2.6), 2.2);
  addPiece(draft, 'cabinet', 'Cabinet', box(0.02, 3, 0.47, 5), 1.1);
  addPiece(draft, 'column', 'Column', box(5.9, 5.6, 6.2, 5.9), 2.8, { from: 'measured' });
  addPiece(
    draft,
    'desk',
    'Round table',
    [
      [10, 6.2],
      [10.5, 6.2],
      [10.9, 6.6],
      [10.9, 7.1],
      [10.5, 7.5],
      [10, 7.5],
      [9.6, 7.1],
      [9.6, 6.6],
    ],
    0.74,
    { base: 0.7 },
  );
  addPiece(draft, 'other', 'Sofa', box(1.8, 7.5, 4, 8.3), 0.8);
  add(draft, 'workplaces', { name: 'Talk room', at: [10.25, 5.95], facing: 90 });
  add(draft, 'workplaces', { name: 'Talk room', at: [10.25, 7.75], facing: 270 });
  add(draft, 'sources', { name: 'Air outlet', kind: 'air outlet', at: [6.3, 4.5], radius: 0.3, base: 2.78, top: 2.8 });
  add(draft, 'sources', { name: 'Convector', kind: 'heater', at: [11.8, 0.4], radius: 0.2, base: 0.1, top: 0.6 });

  add(draft, 'detectors', { name: 'D1', type: 'wide-9', at: [3.9, 5.1] });
  add(draft, 'detectors', { name: 'D2', type: 'wide-9-extension', at: [7.5, 3.9] });
  add(draft, 'detectors', { name: 'D3', type: 'flush-5', at: [10.5, 6.9] });
  add(draft, 'groups', {
    name: 'Studio',
    main: 'D1',
    extensions: ['D2'],
    settings: { switchOn: 'manual', level: 500, delay: 15, background: 20 },
  });
  add(draft, 'groups', { name: 'Talk room', main: 'D3', settings: { switchOn: 'manual', level: 500, delay: 10 } });
  add(draft, 'zones', { name: 'Entrance', outline: box(0, 5.6, 3, 7.4), need: 'walking', heading: 0 });
  addPanels(draft, 'studio', { from: [1.5, 1.5], to: [12, 4.2], pitch: [2.4, 2.4] }, { group: 'G1' });
  addPanels(draft, 'studio', { from: [1.5, 6.3], to: [8, 6.6], pitch: [2.4, 2.4] }, { group: 'G1' });
  addPanels(draft, 'talk', { from: [9.3, 6.9], to: [11.8, 7.1], pitch: [2.4, 1.2] }, { group: 'G2' });
  draft.types.push(...pickDetectorTypes(draft.detectors.map(({ type }) => type)));
  return finishDraft(
    { name: 'Desk island', notes: 'Invented teaching floor; no real building. Licence CC0-1.0.' },
    draft,
  );
}
