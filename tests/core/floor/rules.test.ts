import { describe } from 'vitest';
import { checkCases, square } from './rule-cases.ts';
import type { Loose } from './sample-floor.ts';

const oneId = 'Give each thing of the file an id of its own.';
const oneGroup = 'A detector is in one group at most, and once.';

describe('ids', () => {
  checkCases([
    [
      'of two pieces alike',
      (f) => f.furniture.push({ ...f.furniture[0] }),
      `furniture[1].id: is "f1", as furniture[0] is called already. ${oneId}`,
    ],
    [
      'of two kinds alike',
      (f) => (f.zones[0].id = 'r2'),
      `zones[0].id: is "r2", as rooms[1] is called already. ${oneId}`,
      'groups[0].serves[1]: names "z1", which is not in the file. Name a room or zone by its id.',
      'groups[0].ventilation[0]: names "z1", which is not in the file. Name a room or zone by its id.',
    ],
    ['that look like keys of the prototype', (f) => (f.furniture[0].id = '__proto__')],
  ]);
});

describe('references', () => {
  checkCases([
    [
      'a type that is not there',
      (f) => (f.detectors[0].type = 't9'),
      'detectors[0].type: names "t9", which is not in the file. Name a detector type by its id.',
    ],
    [
      'a type that is a room',
      (f) => (f.detectors[0].type = 'r1'),
      'detectors[0].type: names "r1", which is a room. Name a detector type by its id.',
    ],
    [
      'a luminaire of no group',
      (f) => (f.luminaires[0].group = 'd1'),
      'luminaires[0].group: names "d1", which is a detector. Name a group by its id.',
    ],
    [
      'a zone of no group',
      (f) => (f.zones[0].groups = ['g1', 'gx']),
      'zones[0].groups[1]: names "gx", which is not in the file. Name a group by its id.',
    ],
    [
      'a main that is no detector',
      (f) => (f.groups[1].main = 'l1'),
      'groups[1].main: names "l1", which is a luminaire. Name a detector by its id.',
    ],
    [
      'an extension that is not there',
      (f) => (f.groups[1].extensions = ['constructor']),
      'groups[1].extensions[0]: names "constructor", which is not in the file. Name a detector by its id.',
    ],
    [
      'serving a workplace',
      (f) => (f.groups[0].serves = ['w1']),
      'groups[0].serves[0]: names "w1", which is a workplace. Name a room or zone by its id.',
    ],
    [
      'ventilating a piece',
      (f) => (f.groups[0].ventilation = ['f1']),
      'groups[0].ventilation[0]: names "f1", which is a piece of furniture. Name a room or zone by its id.',
    ],
    [
      'a record about nothing',
      (f) => (f.records[0].about = 'D1'),
      'records[0].about: names "D1", which is not in the file. Name what the record is about by its id.',
    ],
    ['a record about a type', (f) => (f.records[0].about = 't1')],
    [
      'a detector in two groups',
      (f) => (f.groups[1].extensions = ['d2']),
      `groups[1].extensions[0]: names "d2", which groups[0].extensions[0] names already. ${oneGroup}`,
    ],
    [
      'a main that is its own extension',
      (f) => f.groups[0].extensions.push('d1'),
      `groups[0].extensions[1]: names "d1", which groups[0].main names already. ${oneGroup}`,
    ],
    [
      'two groups of one main',
      (f) => (f.groups[1].main = 'd1'),
      `groups[1].main: names "d1", which groups[0].main names already. ${oneGroup}`,
    ],
  ]);
});

describe('heights', () => {
  checkCases([
    [
      'furniture upside down',
      (f) => Object.assign(f.furniture[0], { base: 0.9, top: 0.7 }),
      'furniture[0].top: is 0.7 and base is 0.9. The top must be above the base.',
    ],
    [
      'furniture without height',
      (f) => Object.assign(f.furniture[0], { top: 0 }),
      'furniture[0].top: is 0 and base is 0. The top must be above the base.',
    ],
    [
      'a flat luminaire',
      (f) => Object.assign(f.luminaires[0], { base: 3 }),
      'luminaires[0].top: is 3 and base is 3. The top must be above the base.',
    ],
    [
      'a flat source',
      (f) => Object.assign(f.sources[0], { top: 0 }),
      'sources[0].top: is 0 and base is 0. The top must be above the base.',
    ],
  ]);
});

describe('openings', () => {
  const sill = 'The head must be above the sill.';
  checkCases([
    [
      'narrower than 0.1 m',
      (f) => (f.openings[0].to = [10.1, 1.09]),
      'openings[0].to: is 0.09 m away from `from`. An opening is at least 0.1 m wide.',
    ],
    ['of 0.1 m', (f) => (f.openings[0].to = [10.1, 1.1])],
    [
      'a head at its sill',
      (f) => Object.assign(f.openings[0], { sill: 1, head: 1 }),
      `openings[0].sill: is 1 and head is 1. ${sill}`,
    ],
    [
      'a head at the floor',
      (f) => Object.assign(f.openings[0], { head: 0 }),
      `openings[0].sill: is 0 and head is 0. ${sill}`,
    ],
    [
      'a sill above the head left out',
      (f) => Object.assign(f.openings[0], { sill: 2.2 }),
      `openings[0].sill: is 2.2 and the head, left out, is 2.1 m. ${sill}`,
    ],
    [
      'a sill above the lower ceiling',
      (f) => Object.assign(f.openings[1], { sill: 2.7 }),
      `openings[1].sill: is 2.7 and the head, left out, is 2.6 m. ${sill}`,
    ],
    ['a sill below the lower ceiling', (f) => Object.assign(f.openings[1], { sill: 2.5 })],
    [
      'a passage with a state',
      (f) => (f.openings[1].state = 'open'),
      'openings[1].state: is the text "open" on a passage. A passage is always open. Leave state out.',
    ],
    [
      'a window with a state',
      (f) => Object.assign(f.openings[1], { kind: 'window', state: 'closed' }),
      'openings[1].state: is the text "closed" on a window. A window never opens for sight. Leave state out.',
    ],
  ]);
});

describe('rows of a range', () => {
  const rows = (f: Loose): Loose[] => f.types[0].ranges;
  checkCases([
    [
      'the same mounting twice',
      (f) => (rows(f)[1].mounting = 2.6),
      'types[0].ranges[1].mounting: is 2.6, as in types[0].ranges[0], of the same motion. Each row of one motion has a mounting height of its own.',
    ],
    [
      'two planes',
      (f) => (rows(f)[1].plane = 0.7),
      'types[0].ranges[1].plane: is 0.7, and types[0].ranges[0], of the same motion, has 0.8. All rows of one motion share one plane.',
    ],
    [
      'two shapes',
      (f) => Object.assign(rows(f)[2], { motion: 'minor', plane: 0.8 }),
      'types[0].ranges[2]: has another shape than types[0].ranges[0], of the same motion. All rows of one motion are round, or all are rectangular.',
    ],
    [
      'a plane at the mounting height',
      (f) => (rows(f)[2].plane = 3),
      'types[0].ranges[2].plane: is 3 and mounting is 3. The plane must be below the mounting height.',
    ],
    ['a plane on the floor', (f) => (rows(f)[2].plane = 0)],
    ['no rows', (f) => (f.types[0].ranges = [])],
  ]);
});

describe('masks', () => {
  const mask = (values: object) => (f: Loose) => (f.detectors[0].masks = [{ from: 0, to: 90, ...values }]);
  checkCases([
    ['through 360', mask({ from: 350, to: 10 })],
    ['the whole ring', mask({ from: 0, to: 360 })],
    ['the whole ring from elsewhere', mask({ from: -90, to: 270 })],
    [
      'from = to',
      mask({ from: 20, to: 20 }),
      'detectors[0].masks[0].to: is 20 and from is 20, the same direction. The whole ring is to = from + 360, here 380.',
    ],
    [
      'a turn back',
      mask({ from: 380, to: 20 }),
      'detectors[0].masks[0].to: is 20 and from is 380, the same direction. The whole ring is to = from + 360, here 740.',
    ],
    [
      'over more than a turn',
      mask({ from: 0, to: 361 }),
      'detectors[0].masks[0].to: is 361 and from is 0, 361° apart. A mask runs over at most 360°.',
    ],
    [
      'over two turns',
      mask({ from: 0, to: 720 }),
      'detectors[0].masks[0].to: is 720 and from is 0, 720° apart. A mask runs over at most 360°.',
    ],
    [
      'inner = outer',
      mask({ inner: 30, outer: 30 }),
      'detectors[0].masks[0].outer: is 30 and inner is 30. The outer angle must be above the inner.',
    ],
    [
      'inner beyond the outer left out',
      mask({ inner: 90 }),
      'detectors[0].masks[0].outer: is 90 and inner is 90. The outer angle must be above the inner.',
    ],
  ]);
});

describe('cells', () => {
  const far = (x: number, cell: number) => (f: Loose) => {
    f.rooms.push({ id: 'far', name: 'Far', outline: square(x, 0, 10), ceiling: 3 });
    f.analysis = { cell };
  };
  checkCases([
    ['as many as there may be', far(9_990, 0.1)],
    [
      'more',
      far(9_990, 0.02),
      'analysis.cell: is 0.02, which makes 250000000 cells over the rooms. At most 25000000 are counted. A cell of 0.064 m is enough.',
    ],
    [
      'more than any cell helps',
      (f) => f.rooms.push({ id: 'far', name: 'Far', outline: square(-9_990, 9_000, 10), ceiling: 3 }),
      'analysis.cell: is 0.1, which makes 9011802000 cells over the rooms. At most 25000000 are counted. Bring the rooms nearer to each other, or make two floors of them.',
    ],
  ]);
});
