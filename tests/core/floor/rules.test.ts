import { describe, expect, test } from 'vitest';
import { type Loose, listFaultLines } from './sample-floor.ts';

/** A name, what is done to the sample floor, and the lines it is then refused with: none when it is accepted. */
type Case = readonly [name: string, breakIt: (floor: Loose) => unknown, ...lines: readonly unknown[]];

const check = (cases: readonly Case[]): void => {
  test.each(cases.map(([name, breakIt, ...lines]) => ({ name, breakIt, lines })))('$name', ({ breakIt, lines }) => {
    expect(listFaultLines((floor) => void breakIt(floor))).toEqual(lines);
  });
};

const square = (x: number, y: number, side: number): number[][] => [
  [x, y],
  [x + side, y],
  [x + side, y + side],
  [x, y + side],
];
const oneId = 'Give each thing of the file an id of its own.';
const oneGroup = 'A detector is in one group at most, and once.';

describe('ids', () => {
  check([
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
  check([
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
  check([
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
  check([
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
  check([
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
  check([
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
  check([
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

describe('outlines', () => {
  const outline = (ring: number[][]) => (f: Loose) => (f.furniture[0].outline = ring);
  const bow = [
    [1, 1],
    [2, 2],
    [2, 1],
    [1, 2],
  ];
  check([
    [
      'a bow',
      outline(bow),
      'furniture[0].outline: crosses or touches itself between corners 1 and 3. Move one of them.',
    ],
    [
      'of a room',
      (f) => (f.rooms[1].outline = bow.map(([x, y]) => [x! + 20, y!])),
      'rooms[1].outline: crosses or touches itself between corners 1 and 3. Move one of them.',
    ],
    [
      'of a zone',
      (f) => (f.zones[0].outline = bow),
      'zones[0].outline: crosses or touches itself between corners 1 and 3. Move one of them.',
    ],
    [
      'a spike',
      outline([
        [1, 1],
        [2, 1],
        [1.5, 1],
        [1.5, 2],
      ]),
      'furniture[0].outline: crosses or touches itself between corners 1 and 2. Move one of them.',
    ],
    [
      'touching itself',
      outline([
        [1, 1],
        [3, 1],
        [3, 2],
        [2, 1],
        [1, 2],
      ]),
      'furniture[0].outline: crosses or touches itself between corners 1 and 3. Move one of them.',
    ],
    [
      'closed',
      outline([...square(1, 1, 1), [1, 1]]),
      'furniture[0].outline: has corners 1 and 5 less than 1 mm apart, at [1, 1]. An outline does not repeat its first corner. Leave the last one out.',
    ],
    [
      'corners nearer than 1 mm',
      outline([
        [1, 1],
        [2, 1],
        [2, 1.0009],
        [1, 2],
      ]),
      'furniture[0].outline: has corners 2 and 3 less than 1 mm apart, at [2, 1]. Leave one of them out.',
    ],
    [
      'corners 1 mm apart',
      outline([
        [1, 1],
        [2, 1],
        [2, 1.001],
        [1, 2],
      ]),
    ],
    [
      'of no area',
      outline([
        [1, 1],
        [2, 1],
        [1.5, 1.001],
      ]),
      'furniture[0].outline: encloses 0.0005 m². An outline encloses at least 0.001 m².',
    ],
    [
      'of 0.001 m²',
      outline([
        [1, 1],
        [2, 1],
        [1.5, 1.002],
      ]),
    ],
    ['clockwise', (f) => f.rooms[0].outline.reverse()],
    ['with a corner in a straight wall', (f) => f.rooms[0].outline.splice(1, 0, [5, 0])],
  ]);
});

describe('holes', () => {
  const holes =
    (...rings: number[][][]) =>
    (f: Loose) =>
      (f.rooms[0].holes = rings);
  const outside = 'A hole lies inside the outline.';
  check([
    ['beside each other', holes(square(1, 2, 1), square(2, 2, 0.5))],
    ['at the wall', holes(square(0, 2, 1))],
    [
      'through the outline',
      holes(square(-0.5, 2, 1)),
      `rooms[0].holes[0]: leaves the outline of its room, at [-0.5, 2.5]. ${outside}`,
    ],
    [
      'outside',
      holes(square(20, 20, 1)),
      `rooms[0].holes[0]: leaves the outline of its room, at [20, 20.5]. ${outside}`,
    ],
    [
      'around the room',
      holes(square(-1, -1, 20)),
      `rooms[0].holes[0]: leaves the outline of its room, at [-1, 9]. ${outside}`,
    ],
    [
      'across each other',
      holes(square(1, 2, 1), square(1.5, 2.5, 1)),
      'rooms[0].holes[1]: overlaps holes[0], at [2, 2.751]. Make one hole of them, or move one.',
    ],
    [
      'in each other',
      holes(square(1, 2, 2), square(1.5, 2.5, 0.5)),
      expect.stringMatching(/^rooms\[0\]\.holes\[1\]: overlaps holes\[0\], at /),
    ],
    [
      'that cross themselves',
      holes([
        [1, 1],
        [2, 2],
        [2, 1],
        [1, 2],
      ]),
      'rooms[0].holes[0]: crosses or touches itself between corners 1 and 3. Move one of them.',
    ],
  ]);
});

describe('rooms', () => {
  const room =
    (ring: number[][], holes: number[][][] = []) =>
    (f: Loose) =>
      f.rooms.push({ id: 'r3', name: '', outline: ring, holes, ceiling: 3 });
  const refused = expect.stringMatching(
    /^rooms\[2\]\.outline: overlaps rooms\[0\] by more than 0\.001 m, at \[.*\]\. Move one/,
  );
  check([
    [
      'with a common wall',
      room([
        [0, 6],
        [10, 6],
        [10, 9],
        [0, 9],
      ]),
    ],
    [
      'with half a common wall',
      room([
        [-4, 6],
        [5, 6],
        [5, 9],
        [-4, 9],
      ]),
    ],
    ['in a corner of each other', room(square(10, 6, 3))],
    [
      '1 mm deep in each other',
      room([
        [0, 5.999],
        [10, 5.999],
        [10, 9],
        [0, 9],
      ]),
    ],
    [
      '2 mm deep in each other',
      room([
        [0, 5.998],
        [10, 5.998],
        [10, 9],
        [0, 9],
      ]),
      refused,
    ],
    ['in the hole of another', room(square(8, 4, 1))],
    ['smaller, in the hole of another', room(square(8.2, 4.2, 0.5))],
    [
      'larger than the hole of another',
      room([
        [7.9, 4],
        [9, 4],
        [9, 5],
        [7.9, 5],
      ]),
      refused,
    ],
    ['one within another', room(square(2, 2, 1)), refused],
    [
      'around another',
      room([
        [-1, -1],
        [10.1, -1],
        [10.1, 7],
        [-1, 7],
      ]),
      refused,
    ],
    [
      'around another, with a hole for it',
      room(
        [
          [-1, -1],
          [10.2, -1],
          [10.2, 7],
          [-1, 7],
        ],
        [
          [
            [0, 0],
            [10, 0],
            [10, 6],
            [0, 6],
          ],
        ],
      ),
    ],
    ['twice the same', (f) => f.rooms.push({ ...f.rooms[0], id: 'r3' }), refused],
    [
      'twice the same with other corners',
      (f) =>
        f.rooms.push({
          ...f.rooms[0],
          id: 'r3',
          outline: [
            [0, 6],
            [0, 3],
            [0, 0],
            [5, 0],
            [10, 0],
            [10, 6],
          ],
        }),
      refused,
    ],
    [
      'crosswise',
      room([
        [4, -1],
        [5, -1],
        [5, 7],
        [4, 7],
      ]),
      refused,
    ],
  ]);
});

describe('lenses', () => {
  const at =
    (x: number, y: number, more: object = {}) =>
    (f: Loose) =>
      Object.assign(f.detectors[0], { at: [x, y] }, more);
  const keep = 'A lens keeps 5 mm from walls and from what stands at its height. Move one of them.';
  const ceiling = 'A lens hangs at or below the ceiling.';
  check([
    [
      'outside every room',
      at(5, -0.3),
      'detectors[0].at: is 0.3 m outside every room. Move it in, or draw the room it belongs to.',
    ],
    [
      'in a hole',
      at(8.5, 4.5),
      'detectors[0].at: is 0.5 m outside every room. Move it in, or draw the room it belongs to.',
    ],
    [
      'above the ceiling',
      at(3, 3, { height: 3.01 }),
      `detectors[0].height: is 3.01 and the ceiling of its room is 3. ${ceiling}`,
    ],
    ['at the ceiling', at(3, 3, { height: 3 })],
    [
      'above the ceiling of its own room',
      at(11, 4, { height: 2.8 }),
      `detectors[0].height: is 2.8 and the ceiling of its room is 2.6. ${ceiling}`,
    ],
    [
      'below the floor',
      (f) => (f.types[0].drop = 2.8),
      'detectors[2].height: is left out, and the ceiling of 2.6 m less the drop of 2.8 m is below the floor. Give the height of the lens.',
    ],
    ['4 mm from a wall', at(0.004, 3), `detectors[0].at: is 4 mm from a wall of rooms[0]. ${keep}`],
    ['5 mm from a wall', at(0.005, 3)],
    ['on a wall', at(0, 3), `detectors[0].at: is 0 mm from a wall of rooms[0]. ${keep}`],
    ['4 mm from a hole', at(7.996, 4.5), `detectors[0].at: is 4 mm from a wall of rooms[0]. ${keep}`],
    [
      'in an open door of a wall',
      (f) => {
        Object.assign(f.openings[0], { from: [9.999, 1], to: [9.999, 2] });
        at(9.998, 1.5)(f);
      },
      `detectors[0].at: is 2 mm from a wall of rooms[0]. ${keep}`,
    ],
    [
      'in a piece that holds its height',
      at(1.5, 1.2, { height: 2 }),
      `detectors[0].at: is inside furniture[0], which holds the height of the lens, 2 m. ${keep}`,
    ],
    ['over that piece', at(1.5, 1.2, { height: 2.3 })],
    [
      'at the top of that piece',
      at(1.5, 1.2, { height: 2.2 }),
      `detectors[0].at: is inside furniture[0], which holds the height of the lens, 2.2 m. ${keep}`,
    ],
    [
      '3 mm from that piece',
      at(2.003, 1.2, { height: 1 }),
      `detectors[0].at: is 3 mm from furniture[0], which holds the height of the lens, 1 m. ${keep}`,
    ],
    [
      'in a luminaire',
      at(5.1, 3),
      `detectors[0].at: is inside luminaires[0], which holds the height of the lens, 2.97 m. ${keep}`,
    ],
    [
      'in a turned luminaire',
      (f) => {
        f.luminaires[0].turn = 90;
        at(5, 3.55)(f);
      },
      `detectors[0].at: is inside luminaires[0], which holds the height of the lens, 2.97 m. ${keep}`,
    ],
    [
      'beside a turned luminaire',
      (f) => {
        f.luminaires[0].turn = 90;
        at(5.2, 3)(f);
      },
    ],
    [
      '2 mm from the corner of a luminaire',
      at(5.602, 3.15),
      `detectors[0].at: is 2 mm from luminaires[0], which holds the height of the lens, 2.97 m. ${keep}`,
    ],
    [
      'to be removed, outside',
      at(5, -1, { status: 'remove' }),
      'detectors[0].at: is 1 m outside every room. Move it in, or draw the room it belongs to.',
    ],
    [
      'on a floor without rooms',
      (f) => {
        f.rooms = [];
        f.groups[0].serves = [];
        f.detectors.length = 1;
        f.groups = [];
        f.zones = [];
        f.luminaires = [];
        f.records = [];
      },
      'detectors[0].at: is outside every room. Move it in, or draw the room it belongs to.',
    ],
  ]);
});
