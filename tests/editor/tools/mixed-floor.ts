import type { FloorFile } from '../../../src/core/floor/index.ts';

/** Two rooms beside a wall of 0.2 m, one of them an L with a hole and a turned ceiling grid, and something of every kind. */
export const MIXED_FLOOR: FloorFile = {
  format: 'lacuna/1',
  name: 'Mixed',
  rooms: [
    {
      id: 'hall',
      name: 'Hall',
      outline: [
        [0, 0],
        [12, 0],
        [12, 5],
        [7, 5],
        [7, 9],
        [0, 9],
      ],
      holes: [
        [
          [2, 6],
          [3, 6],
          [3, 7],
          [2, 7],
        ],
      ],
      ceiling: 3,
      tiles: { origin: [0.1, 0.2], pitch: [0.6, 0.6], turn: 10 },
    },
    {
      id: 'office',
      name: 'Office',
      outline: [
        [12.2, 0],
        [18, 0],
        [18, 5],
        [12.2, 5],
      ],
      ceiling: 2.7,
      tiles: { origin: [12.2, 0] },
    },
    {
      id: 'store',
      name: 'Store',
      outline: [
        [7, 5],
        [12, 5],
        [10, 9],
        [7, 9],
      ],
      ceiling: 2.5,
    },
  ],
  openings: [
    { id: 'O1', kind: 'door', from: [12.1, 2], to: [12.1, 2.9], depth: 0.4, state: 'open' },
    { id: 'O2', kind: 'window', from: [14, 0], to: [15.2, 0], sill: 0.9 },
    { id: 'O3', kind: 'passage', from: [8, 5], to: [9, 5] },
  ],
  furniture: [
    {
      id: 'F1',
      kind: 'shelving',
      name: 'Shelf 1',
      outline: [
        [4, 2],
        [4.4, 2],
        [4.4, 4],
        [4, 4],
      ],
      top: 2.2,
    },
    {
      id: 'F2',
      kind: 'desk',
      name: 'Desk 1',
      outline: [
        [13, 2],
        [14.6, 2],
        [14.6, 2.8],
        [13, 2.8],
      ],
      base: 0.7,
      top: 0.74,
    },
    {
      id: 'F3',
      kind: 'other',
      name: 'Corner bench',
      outline: [
        [8, 1],
        [10, 1.2],
        [9.6, 2.4],
      ],
      top: 0.5,
    },
  ],
  luminaires: [
    { id: 'L1', name: 'Panel 1', at: [15.5, 2.7], size: [0.6, 0.6], base: 2.65, top: 2.7, group: 'G1' },
    { id: 'L2', name: 'Pendant', at: [5, 8], size: [1.2, 0.3], turn: 30, base: 2, top: 2.2 },
  ],
  workplaces: [
    { id: 'W1', name: '1', at: [13.8, 1.6], facing: 90 },
    { id: 'W2', name: '2', at: [9, 7] },
  ],
  zones: [
    {
      id: 'Z1',
      name: 'Way',
      outline: [
        [1, 1],
        [3, 1],
        [3, 5],
        [1, 5],
      ],
      need: 'walking',
      groups: ['G1'],
    },
  ],
  sources: [{ id: 'Q1', name: 'Heater', kind: 'heater', at: [17.5, 4.5], base: 0.1, top: 0.6 }],
  types: [
    {
      id: 'round',
      name: 'Round 6',
      ranges: [
        { motion: 'minor', mounting: 3, plane: 0.8, diameter: 6 },
        { motion: 'radial', mounting: 3, plane: 1.2, diameter: 8 },
      ],
    },
    {
      id: 'flush',
      name: 'Flush 4 × 3',
      drop: 0.05,
      ranges: [{ motion: 'minor', mounting: 3, plane: 0.8, length: 4, width: 3 }],
    },
  ],
  detectors: [
    { id: 'D1', name: 'D1', type: 'round', at: [5.5, 2.5], masks: [{ from: 0, to: 40 }] },
    { id: 'D2', name: 'D2', type: 'flush', at: [13.7, 3.3], turn: 20 },
    { id: 'D3', name: 'D3', type: 'round', at: [8.5, 7.5], locked: true },
    { id: 'D4', name: 'D4', type: 'round', at: [1.5, 7.5] },
  ],
  groups: [
    { id: 'G1', name: 'Hall', main: 'D1', extensions: ['D4'], serves: ['hall', 'Z1'] },
    { id: 'G2', name: 'Office', main: 'D2' },
  ],
};
