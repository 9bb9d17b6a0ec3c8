import type { FloorFile } from '../../../src/core/floor/index.ts';

/**
 * Four rooms and one of everything: Office and Studio share a wall, both stand on the long Corridor without corners of its
 * own there, and Store stands behind a wall of 0.2 m. A shaft is cut into Office.
 */
export const TRIAL_FLOOR: FloorFile = {
  format: 'lacuna/1',
  name: 'Trial',
  rooms: [
    {
      id: 'R1',
      name: 'Office',
      outline: [
        [0, 2],
        [6, 2],
        [6, 8],
        [0, 8],
      ],
      holes: [
        [
          [0.5, 7],
          [1, 7],
          [1, 7.5],
          [0.5, 7.5],
        ],
      ],
      ceiling: 3,
      tiles: { origin: [0, 2] },
    },
    {
      id: 'R2',
      name: 'Studio',
      outline: [
        [6, 2],
        [12, 2],
        [12, 8],
        [6, 8],
      ],
      ceiling: 2.8,
    },
    {
      id: 'R3',
      name: 'Corridor',
      outline: [
        [0, 0],
        [12, 0],
        [12, 2],
        [0, 2],
      ],
      ceiling: 2.6,
    },
    {
      id: 'R4',
      name: 'Store',
      outline: [
        [12.2, 0],
        [15, 0],
        [15, 8],
        [12.2, 8],
      ],
      ceiling: 2.8,
    },
  ],
  openings: [
    { id: 'O1', kind: 'door', from: [1, 2], to: [1.9, 2], state: 'open' },
    { id: 'O2', kind: 'passage', from: [6, 4], to: [6, 5.5] },
    { id: 'O3', kind: 'door', from: [12.1, 3], to: [12.1, 3.9] },
    { id: 'O4', kind: 'window', from: [2, 8], to: [4, 8], sill: 0.9, head: 2.1 },
  ],
  furniture: [
    {
      id: 'F1',
      kind: 'desk',
      name: 'Desk 1',
      outline: [
        [2, 4],
        [3.6, 4],
        [3.6, 4.8],
        [2, 4.8],
      ],
      base: 0.7,
      top: 0.74,
    },
    {
      id: 'F2',
      kind: 'shelving',
      name: 'Shelf 1',
      outline: [
        [8, 5],
        [10, 5],
        [10, 5.4],
        [8, 5.4],
      ],
      top: 2.2,
    },
    {
      id: 'F3',
      kind: 'screen',
      name: 'Screen 1',
      outline: [
        [2, 6],
        [3, 6.5],
        [2.97, 6.56],
        [1.97, 6.06],
      ],
      top: 1.4,
      from: 'assumed',
    },
  ],
  luminaires: [{ id: 'L1', name: 'Panel 1', at: [3, 5], size: [0.6, 0.6], base: 2.98, top: 3, group: 'G1' }],
  workplaces: [
    { id: 'W1', name: '1', at: [2.8, 3.65], facing: 90 },
    { id: 'W2', name: '2', at: [9, 6.5] },
  ],
  zones: [
    {
      id: 'Z1',
      name: 'Way',
      outline: [
        [1, 0.5],
        [11, 0.5],
        [11, 1.5],
        [1, 1.5],
      ],
      need: 'walking',
      heading: 0,
      groups: ['G1'],
    },
  ],
  sources: [{ id: 'Q1', name: 'Heater 1', kind: 'heater', at: [11.7, 7], base: 0, top: 0.6 }],
  types: [
    {
      id: 'T1',
      name: 'Round 9',
      drop: 0.03,
      ranges: [
        { motion: 'minor', mounting: 2.6, plane: 0.8, diameter: 6 },
        { motion: 'minor', mounting: 3.2, plane: 0.8, diameter: 7 },
        { motion: 'radial', mounting: 3, plane: 1.2, length: 8, width: 5 },
      ],
    },
  ],
  detectors: [
    { id: 'D1', name: 'D1', type: 'T1', at: [3, 3.2], masks: [{ from: 350, to: 370 }] },
    { id: 'D2', name: 'D2', type: 'T1', at: [9, 4], height: 2.7 },
    { id: 'D3', name: 'D3', type: 'T1', at: [4, 1] },
  ],
  groups: [
    { id: 'G1', name: 'Office', main: 'D1', extensions: ['D2'], serves: ['R1', 'R2'], ventilation: ['R1'] },
    { id: 'G2', name: 'Corridor', main: 'D3', serves: ['Z1'] },
  ],
  records: [
    { date: '2031-05-02', by: 'A', kind: 'walk', about: 'D1', expected: true, found: null, pass: null, text: '' },
  ],
};
