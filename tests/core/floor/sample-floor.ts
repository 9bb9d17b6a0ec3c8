import { type Fault, formatFault, parseFloor } from '../../../src/core/floor/index.ts';

/** Any JSON, to be written to freely: tests break it on purpose. */
// biome-ignore lint/suspicious/noExplicitAny: a file under test may hold anything anywhere
export type Loose = any;

/** A floor with one or two of everything and nothing wrong with it: two rooms with a wall between them, and a door. */
export function createSampleFloor(): Loose {
  return {
    format: 'lacuna/1',
    name: 'Sample',
    rooms: [
      {
        id: 'r1',
        name: 'Office',
        outline: [
          [0, 0],
          [10, 0],
          [10, 6],
          [0, 6],
        ],
        holes: [
          [
            [8, 4],
            [9, 4],
            [9, 5],
            [8, 5],
          ],
        ],
        ceiling: 3,
      },
      {
        id: 'r2',
        name: 'Corridor',
        outline: [
          [10.2, 0],
          [12, 0],
          [12, 6],
          [10.2, 6],
        ],
        ceiling: 2.6,
        tiles: { origin: [10.2, 0] },
      },
    ],
    openings: [
      { id: 'o1', kind: 'door', from: [10.1, 1], to: [10.1, 2], state: 'open' },
      { id: 'o2', kind: 'passage', from: [10.1, 3], to: [10.1, 4] },
    ],
    furniture: [
      {
        id: 'f1',
        kind: 'shelving',
        name: 'Shelf',
        outline: [
          [1, 1],
          [2, 1],
          [2, 1.4],
          [1, 1.4],
        ],
        top: 2.2,
      },
    ],
    luminaires: [{ id: 'l1', name: 'Light', at: [5, 3], size: [1.2, 0.3], base: 2.9, top: 3, group: 'g1' }],
    workplaces: [{ id: 'w1', name: 'Seat', at: [4, 4] }],
    zones: [
      {
        id: 'z1',
        name: 'Desks',
        outline: [
          [3, 3],
          [6, 3],
          [6, 5],
          [3, 5],
        ],
        need: 'seated',
        groups: ['g1'],
      },
    ],
    sources: [{ id: 's1', name: 'Heater', kind: 'heater', at: [0.2, 3], base: 0, top: 0.6 }],
    types: [
      {
        id: 't1',
        name: 'Round (invented)',
        drop: 0.03,
        ranges: [
          { motion: 'minor', mounting: 2.6, plane: 0.8, diameter: 6 },
          { motion: 'minor', mounting: 3.2, plane: 0.8, diameter: 7 },
          { motion: 'radial', mounting: 3, plane: 1.2, length: 8, width: 5 },
        ],
      },
    ],
    detectors: [
      { id: 'd1', name: 'D1', type: 't1', at: [3, 3], masks: [{ from: 350, to: 10 }] },
      { id: 'd2', name: 'D2', type: 't1', at: [7, 3], height: 2.9 },
      { id: 'd3', name: 'D3', type: 't1', at: [11, 3] },
    ],
    groups: [
      { id: 'g1', name: 'G1', main: 'd1', extensions: ['d2'], serves: ['r1', 'z1'], ventilation: ['z1'] },
      { id: 'g2', name: 'G2', main: 'd3' },
    ],
    records: [
      { date: '2031-05-02', by: 'A', kind: 'walk', about: 'd1', expected: true, found: null, pass: null, text: '' },
    ],
  };
}

/** The lines a broken sample floor is refused with, as text that went through a file. Empty when it is accepted. */
export function listFaultLines(breakIt: (floor: Loose) => void): readonly string[] {
  const floor = createSampleFloor();
  breakIt(floor);
  return listTextFaults(JSON.stringify(floor)).map(formatFault);
}

export function listTextFaults(text: string): readonly Fault[] {
  const parsed = parseFloor(text);
  return parsed.ok ? [] : parsed.faults;
}
