import { describe, expect } from 'vitest';
import { checkCases, square } from './rule-cases.ts';
import type { Loose } from './sample-floor.ts';

describe('outlines', () => {
  const outline = (ring: number[][]) => (f: Loose) => (f.furniture[0].outline = ring);
  const bow = [
    [1, 1],
    [2, 2],
    [2, 1],
    [1, 2],
  ];
  checkCases([
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
  checkCases([
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
  checkCases([
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
  checkCases([
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
