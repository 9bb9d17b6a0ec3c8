/** The rules of a sight line, one by one. */
import { describe, expect, test } from 'vitest';
import type { Doors, Motion } from '../../../src/core/floor/index.ts';
import { compileScene, traceSight } from '../../../src/core/sight/index.ts';
import { buildFloor, type Entry, FAR_TYPE, rect, row, type XY } from './build-floor.ts';

interface Parts {
  readonly furniture?: readonly Omit<Entry<'furniture'>, 'id' | 'kind' | 'name'>[];
  readonly luminaires?: readonly Entry<'luminaires'>[];
  readonly openings?: readonly Omit<Entry<'openings'>, 'id'>[];
  readonly detector?: Partial<Entry<'detectors'>>;
  readonly type?: Entry<'types'>;
}

/** Two rooms with a wall between them at x = 4, a lens at (2, 0) and 2.5 m; asks for places by `tangential`. */
function lookFrom({ furniture = [], luminaires = [], openings = [], detector = {}, type = FAR_TYPE }: Parts) {
  const scene = compileScene(
    buildFloor({
      rooms: [
        { id: 'A', name: 'A', outline: rect(0, -3, 4, 3), ceiling: 2.8 },
        { id: 'B', name: 'B', outline: rect(4, -3, 10, 3), ceiling: 2.8 },
      ],
      furniture: furniture.map((each, k) => ({ id: `F${k}`, kind: 'other', name: '', ...each })),
      luminaires,
      openings: openings.map((each, k) => ({ id: `O${k}`, ...each })),
      types: [type],
      detectors: [{ id: 'D', name: 'D', type: type.id, at: [2, 0], height: 2.5, ...detector }],
    }),
  );
  return (x: number, y: number, h = 1, doors: Doors = 'stated', motion: Motion = 'tangential') => {
    const sight = traceSight(scene, 0, { x, y, h }, motion, doors);
    return sight.seen ? 'seen' : sight.by === null ? sight.why : `${sight.why} by ${sight.by}`;
  };
}

describe('range comes first', () => {
  test('a place in no room, below the floor or not below the lens is missed for range', () => {
    const look = lookFrom({});
    expect([look(11, 0), look(2, 3.01), look(1, 0, -0.001), look(1, 0, 2.5), look(1, 0, 2.6)]).toEqual(
      Array(5).fill('range'),
    );
    expect([look(1, 0, 0), look(1, 0, 2.4)]).toEqual(['seen', 'seen']);
  });

  test('a place out of range behind a wall and in a mask is out of range; in range and masked it is masked', () => {
    const type: Entry<'types'> = { id: 'near', name: 'Near', ranges: [row('tangential', 2.5, 1, 6)] };
    const look = lookFrom({ type, detector: { masks: [{ from: -10, to: 10 }] } });
    expect([look(5.1, 0), look(4.9, 0), look(4.9, 0.7)]).toEqual(['range', 'masked', 'hidden by A']);
    // The edge of the range belongs to it.
    expect([look(2, -3), look(2, 2.9999)]).toEqual(['seen', 'seen']);
    // Without rows for a motion nothing is seen.
    expect(look(2, 1, 1, 'stated', 'radial')).toBe('range');
  });

  test('a rectangle lies in axes turned with the detector', () => {
    const type: Entry<'types'> = {
      id: 'long',
      name: 'Long',
      ranges: [{ motion: 'tangential', mounting: 2.5, plane: 1, length: 4, width: 1 }],
    };
    expect(['seen', 'range']).toEqual([lookFrom({ type })(3.9, 0.4), lookFrom({ type })(2, 0.6)]);
    const turned = lookFrom({ type, detector: { turn: 90 } });
    expect([turned(2.4, 1.9), turned(2.6, 0), turned(2, 2.1)]).toEqual(['seen', 'range', 'range']);
  });
});

describe('masks', () => {
  const masked = (mask: NonNullable<Entry<'detectors'>['masks']>[number], turn = 0) =>
    lookFrom({ detector: { masks: [mask], turn } });

  test('run counter-clockwise, through 360° as well, their borders in them', () => {
    const look = masked({ from: 350, to: 370 });
    expect([look(3, 0), look(3, 0.17), look(3, -0.17), look(3, 0.18), look(3, -0.18), look(1, 0)]).toEqual([
      'masked',
      'masked',
      'masked',
      'seen',
      'seen',
      'seen',
    ]);
    const other = masked({ from: 10, to: 350 });
    expect([other(3, 0), other(3, 0.18), other(1, 0), other(3, -0.18)]).toEqual(['seen', 'masked', 'masked', 'masked']);
  });

  test('turn with the detector', () => {
    const look = masked({ from: 80, to: 100 }, 90);
    expect([look(1, 0), look(2, 1), look(3, 0)]).toEqual(['masked', 'seen', 'seen']);
  });

  test('lie between two nadir angles, and a whole ring has no gap', () => {
    const look = masked({ from: 90, to: 450, inner: 30, outer: 45 });
    // 1.5 m below the lens 30° to 45° is 0.866 to 1.5 m out.
    for (const [dx, dy] of [
      [1, 0],
      [0, 1],
      [-0.6, 0.8],
      [0, -1],
    ] as XY[]) {
      expect([look(2 + 0.86 * dx, 0.86 * dy), look(2 + 1.49 * dx, 1.49 * dy), look(2 + 1.51 * dx, 1.51 * dy)]).toEqual([
        'seen',
        'masked',
        'seen',
      ]);
    }
  });

  test('at the foot every azimuth counts, where the mask reaches down to it', () => {
    expect([masked({ from: 0, to: 5 })(2, 0), masked({ from: 0, to: 5 })(2 - 0.0009, 0)]).toEqual(['masked', 'masked']);
    expect(masked({ from: 0, to: 5 })(2 - 0.0011, 0)).toBe('seen');
    expect(masked({ from: 0, to: 5, inner: 1 })(2, 0)).toBe('seen');
  });
});

describe('furniture and luminaires', () => {
  test('block inside their outline between base and top; touching a face, an edge or a corner does not', () => {
    const look = lookFrom({ furniture: [{ outline: rect(2.5, -0.5, 3, 0.5), base: 0, top: 1.75 }] });
    // The line to (3.5, 0) falls to 1.75 m over the middle of the top: it enters there.
    expect(look(3.5, 0)).toBe('hidden by F0');
    expect(look(2.4, 0)).toBe('seen');
    // On the near face, and along a side.
    expect([look(2.5, 0), look(2.5, 0.5), look(2, 2)]).toEqual(['seen', 'seen', 'seen']);
    // Down onto the top, then just into it.
    expect([look(2.7, 0, 1.75), look(2.7, 0, 1.74)]).toEqual(['seen', 'hidden by F0']);
  });

  test('what lies at or above the lens casts no shadow; what hangs lower does, whatever hangs above it', () => {
    const piece = { outline: rect(2.5, -0.5, 2.6, 0.5), top: 2.7 };
    expect(lookFrom({ furniture: [{ ...piece, base: 2.5 }] })(3, 0)).toBe('seen');
    expect(lookFrom({ furniture: [{ ...piece, base: 1 }] })(3, 0)).toBe('hidden by F0');
    // From 2.5 m at the foot to 1 m at 1.9 m distance the line is above 2.0 m within 0.63 m.
    expect(lookFrom({ furniture: [{ ...piece, base: 0, top: 2 }] })(3.9, 0)).toBe('seen');
    expect(lookFrom({ furniture: [{ ...piece, base: 0, top: 2.03 }] })(3.9, 0)).toBe('hidden by F0');
  });

  test('a piece met first is named, wherever it stands in the file', () => {
    const near = { outline: rect(2.3, -1, 2.4, 1), top: 2.4 };
    const far = { outline: rect(3.3, -1, 3.4, 1), top: 2.4 };
    expect(lookFrom({ furniture: [far, near] })(3.8, 0)).toBe('hidden by F1');
    expect(lookFrom({ furniture: [near, far] })(3.8, 0)).toBe('hidden by F0');
  });

  test('a bay of a piece that is not convex is open', () => {
    const outline: XY[] = [
      [2.5, -1],
      [3.5, -1],
      [3.5, 1],
      [2.5, 1],
      [2.5, 0.8],
      [3.3, 0.8],
      [3.3, -0.8],
      [2.5, -0.8],
    ];
    const look = lookFrom({ furniture: [{ outline, top: 2.4 }] });
    expect([look(3.2, 0), look(3.2, 0.7), look(3.4, 0), look(3.8, 0)]).toEqual([
      'seen',
      'seen',
      'hidden by F0',
      'hidden by F0',
    ]);
  });

  test('luminaires block like furniture, turned', () => {
    const luminaire: Entry<'luminaires'> = {
      id: 'L',
      name: '',
      at: [3, 0],
      size: [1, 0.1],
      turn: 90,
      base: 1.6,
      top: 2.3,
    };
    expect(lookFrom({ luminaires: [luminaire] })(3.8, 0)).toBe('hidden by L');
    expect(lookFrom({ luminaires: [luminaire] })(3.8, 0.95)).toBe('seen');
    expect(lookFrom({ luminaires: [{ ...luminaire, turn: 0 }] })(3.8, 0.95)).toBe('seen');
  });
});

describe('openings', () => {
  const door = (rest: Partial<Entry<'openings'>> = {}): Omit<Entry<'openings'>, 'id'> => ({
    kind: 'door',
    from: [4, -1],
    to: [4, 1],
    head: 2.1,
    ...rest,
  });
  // The line to (6, 0) at 0.5 m crosses the wall half-way, at 1.5 m.
  const through = (openings: readonly Omit<Entry<'openings'>, 'id'>[], doors: Doors = 'stated') =>
    lookFrom({ openings })(6, 0, 0.5, doors);

  test('a passage is always open, a window never, a door by its state, left out: closed', () => {
    const each = (rest: Partial<Entry<'openings'>>) =>
      (['stated', 'open'] as const).map((doors) => through([door(rest)], doors));
    expect(each({ kind: 'passage' })).toEqual(['seen', 'seen']);
    expect(each({ kind: 'window' })).toEqual(['hidden by A', 'hidden by A']);
    expect(each({ state: 'open' })).toEqual(['seen', 'seen']);
    expect(each({ state: 'closed' })).toEqual(['hidden by A', 'seen']);
    expect(each({})).toEqual(['hidden by A', 'seen']);
  });

  test('opens between sill and head, both included', () => {
    const open = (rest: Partial<Entry<'openings'>>) => through([door({ kind: 'passage', ...rest })]);
    expect([open({ head: 1.5 }), open({ head: 1.4999 })]).toEqual(['seen', 'hidden by A']);
    expect([open({ sill: 1.5 }), open({ sill: 1.5001 })]).toEqual(['seen', 'hidden by A']);
    // A passage without a head reaches up to the lower of the two ceilings.
    expect(lookFrom({ openings: [{ kind: 'passage', from: [4, -1], to: [4, 1] }] })(6, 0, 2.2)).toBe('seen');
  });

  test('opens between its ends, both included, and overlapping ones add up', () => {
    // To (6, y) the wall is crossed at y / 2.
    const look = lookFrom({ openings: [door({ kind: 'passage' })] });
    expect([look(6, 1.99, 0.5), look(6, 2, 0.5), look(6, 2.01, 0.5)]).toEqual(['seen', 'seen', 'hidden by A']);
    const low = door({ kind: 'passage', head: 1.2 });
    const high = door({ kind: 'passage', sill: 1.2, head: 2.1 });
    expect([through([low]), through([high]), through([low, high])]).toEqual(['hidden by A', 'seen', 'seen']);
    const left = door({ kind: 'passage', to: [4, 0.2] });
    const right = door({ kind: 'passage', from: [4, -0.2] });
    const both = lookFrom({ openings: [left, right] });
    expect([both(6, -1.9, 0.5), both(6, 0, 0.5), both(6, 1.9, 0.5)]).toEqual(['seen', 'seen', 'seen']);
  });

  test('opens walls within half its depth and within 30° of its own direction', () => {
    const shifted = (x: number, depth: number) =>
      through([door({ kind: 'passage', from: [x, -1], to: [x, 1], depth })]);
    expect([shifted(4.2, 0.4), shifted(4.21, 0.4), shifted(3.81, 0.4), shifted(4.21, 0.5)]).toEqual([
      'seen',
      'hidden by A',
      'seen',
      'seen',
    ]);
    const turned = (degrees: number) => {
      const [s, c] = [Math.sin((degrees * Math.PI) / 180), Math.cos((degrees * Math.PI) / 180)];
      return through([door({ kind: 'passage', from: [4 + s, -c], to: [4 - s, c], depth: 2 })]);
    };
    expect([turned(29.9), turned(-29.9), turned(30.1), turned(90)]).toEqual([
      'seen',
      'seen',
      'hidden by A',
      'hidden by A',
    ]);
  });
});

describe('seams', () => {
  test('no sight line slips between two wall edges that share an end, nor through two pieces with a common face', () => {
    const scene = compileScene(
      buildFloor({
        rooms: [
          {
            id: 'A',
            name: 'A',
            outline: [
              [0, 0],
              [4, 0],
              [4, 1.3],
              [4, 3],
              [0, 3],
            ],
            ceiling: 2.8,
          },
          {
            id: 'B',
            name: 'B',
            outline: [
              [4, 0],
              [8, 0],
              [8, 3],
              [4, 3],
              [4, 1.7],
            ],
            ceiling: 2.8,
          },
        ],
        furniture: [
          {
            id: 'F0',
            kind: 'other',
            name: '',
            outline: [
              [1, 0],
              [1.4, 0],
              [1.4, 2.1],
              [1, 1.9],
            ],
            top: 2.4,
          },
          {
            id: 'F1',
            kind: 'other',
            name: '',
            outline: [
              [1, 1.9],
              [1.4, 2.1],
              [1.4, 3],
              [1, 3],
            ],
            top: 2.4,
          },
        ],
        types: [FAR_TYPE],
        detectors: [
          { id: 'D0', name: 'D0', type: 'far', at: [3, 1.3] },
          { id: 'D1', name: 'D1', type: 'far', at: [0.2, 1.5] },
        ],
      }),
    );
    const see = (detector: number, x: number, y: number) =>
      traceSight(scene, detector, { x, y, h: 1 }, 'radial', 'stated').seen;
    for (let k = 0; k <= 400; k++) {
      const step = (k - 200) * 1e-12;
      // Through the ends at (4, 1.3) and (4, 1.7), and along the common face from (1, 1.9) to (1.4, 2.1).
      expect(see(0, 5, 1.3 + step)).toBe(false);
      expect(see(0, 5, 2.1 + step)).toBe(false);
      expect(see(1, 3, 2.9 + step)).toBe(false);
    }
  });
});
