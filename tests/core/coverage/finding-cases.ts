/** Small floors that bring about each finding, and the same floors cured. */
import { expect } from 'vitest';
import type { Finding } from '../../../src/core/coverage/index.ts';
import { check } from '../../../src/core/coverage/index.ts';
import type { FloorFile } from '../../../src/core/floor/index.ts';
import { type Changeable, type Entry, readFloor, rect, row } from '../sight/build-floor.ts';

export type File = Changeable<FloorFile>;
export type Change = (file: File) => void;

/** A room with a door, a detector that sees all of it and a workplace: nothing is wrong with it. */
export function soundFile(): File {
  return structuredClone({
    format: 'lacuna/1',
    name: 'Sound',
    rooms: [{ id: 'R', name: 'Office', outline: rect(0, 0, 8, 6), ceiling: 2.8 }],
    openings: [{ id: 'V', kind: 'door', from: [0, 2.5], to: [0, 3.5] }],
    workplaces: [{ id: 'W', name: 'Desk 1', at: [4, 1.2] }],
    types: [
      {
        id: 'T',
        name: 'Type T',
        ranges: [row('minor', 2.8, 0.8, 12), row('tangential', 2.8, 1.2, 20), row('radial', 2.8, 1.2, 14)],
      },
    ],
    detectors: [{ id: 'D1', name: 'D1', type: 'T', at: [4, 3] }],
    groups: [{ id: 'G', name: 'Group', main: 'D1', serves: ['R'] }],
  } satisfies FloorFile) as File;
}

export const addPiece = (rest: Partial<Entry<'furniture'>> & Pick<Entry<'furniture'>, 'outline' | 'top'>): Change => {
  return (file) => {
    const piece: Entry<'furniture'> = { id: 'F', kind: 'screen', name: 'Screen', ...rest };
    file.furniture = [...(file.furniture ?? []), piece as Changeable<Entry<'furniture'>>];
  };
};
const addZone = (rest: Partial<Entry<'zones'>> & Pick<Entry<'zones'>, 'outline' | 'need'>): Change => {
  return (file) => {
    file.zones = [{ id: 'Z', name: 'Zone', ...rest } as Changeable<Entry<'zones'>>];
  };
};
const addSource = (source: Omit<Entry<'sources'>, 'id' | 'name'>): Change => {
  return (file) => {
    file.sources = [{ id: 'Q', name: 'Source', ...source } as Changeable<Entry<'sources'>>];
  };
};
/** A second room behind a wide passage, with or without a workplace. */
const addRoom = (seats: readonly XYSeat[] = []): Change => {
  return (file) => {
    file.rooms.push({ id: 'R2', name: 'Next room', outline: rect(8, 0, 14, 6) as [number, number][], ceiling: 2.8 });
    file.openings!.push({ id: 'P', kind: 'passage', from: [8, 1], to: [8, 5] });
    seats.forEach((at, k) => {
      file.workplaces!.push({ id: `W${k + 2}`, name: `Desk ${k + 2}`, at: [at[0], at[1]] });
    });
  };
};
/** The lens hangs beside the passage into a lower room and looks at a desk there. */
const lookThroughPassage: Change = (file) => {
  addRoom()(file);
  file.rooms[1]!.ceiling = 2.7;
  file.detectors[0]!.at = [7.6, 3];
  file.workplaces![0]!.at = [11.2, 3];
  file.groups![0]!.serves = ['R', 'R2'];
};
type XYSeat = readonly [number, number];
export const reach =
  (value: number): Change =>
  (file) => {
    file.detectors[0]!.reach = value;
  };
export const ranges =
  (...rows: Entry<'types'>['ranges'][number][]): Change =>
  (file) => {
    file.types[0]!.ranges = rows as File['types'][number]['ranges'];
  };
const serves =
  (...ids: string[]): Change =>
  (file) => {
    file.groups![0]!.serves = ids;
  };
const both =
  (...changes: readonly Change[]): Change =>
  (file) => {
    for (const change of changes) change(file);
  };
const nothing: Change = () => {};

const MINOR = row('minor', 2.8, 0.8, 12);
export const SCREEN = rect(2, 1.9, 6, 1.94);

export interface Case {
  readonly code: string;
  readonly level: Finding['level'];
  readonly about: readonly string[];
  readonly fault: Change;
  readonly cure: Change;
  /** Findings of this code; 1 when left out. */
  readonly times?: number;
}

export const CASES: readonly Case[] = [
  {
    code: 'workplace-hidden',
    level: 'fail',
    about: ['W', 'F'],
    fault: addPiece({ outline: SCREEN, top: 2.2 }),
    cure: addPiece({ outline: SCREEN, top: 1 }),
  },
  { code: 'workplace-out-of-range', level: 'fail', about: ['W'], fault: reach(0.3), cure: nothing },
  {
    code: 'workplace-masked',
    level: 'fail',
    about: ['W', 'D1'],
    fault: (file) => {
      file.detectors[0]!.masks = [{ from: 240, to: 300 }];
    },
    cure: (file) => {
      file.detectors[0]!.masks = [{ from: 60, to: 120 }];
    },
  },
  {
    code: 'workplace-unreachable',
    level: 'fail',
    about: ['W'],
    fault: addPiece({ outline: rect(3, 0.2, 5, 2.2), top: 1 }),
    cure: addPiece({ outline: rect(3, 0.2, 5, 2.2), top: 0.7 }),
  },
  {
    code: 'wrong-group',
    level: 'fail',
    about: ['W2', 'G'],
    fault: addRoom([[9, 3]]),
    cure: both(addRoom([[9, 3]]), serves('R', 'R2')),
  },
  { code: 'range-margin', level: 'warn', about: ['W'], fault: reach(0.4), cure: reach(0.55) },
  {
    code: 'outside-table',
    level: 'fail',
    about: ['D1'],
    fault: ranges(row('minor', 2.6, 0.8, 12), row('radial', 2.8, 1.2, 14)),
    cure: ranges(row('minor', 2.7, 0.8, 12), row('radial', 2.8, 1.2, 14)),
  },
  {
    code: 'late-entrance',
    level: 'warn',
    about: ['V', 'R'],
    fault: ranges(MINOR, row('radial', 2.8, 1.2, 4.4)),
    cure: ranges(MINOR, row('radial', 2.8, 1.2, 5.8)),
  },
  {
    code: 'late-entrance',
    level: 'fail',
    about: ['V', 'R'],
    // Straight at a detector that sees only what crosses its sight lines.
    fault: ranges(MINOR, row('tangential', 2.8, 1.2, 20)),
    cure: ranges(MINOR, row('tangential', 2.8, 1.2, 20), row('radial', 2.8, 1.2, 14)),
  },
  {
    code: 'end-on',
    level: 'warn',
    about: ['Z'],
    fault: both(
      addZone({ outline: rect(0, 2.5, 8, 3.5), need: 'walking', heading: 0 }),
      ranges(MINOR, row('tangential', 2.8, 1.2, 20)),
    ),
    cure: addZone({ outline: rect(0, 2.5, 8, 3.5), need: 'walking', heading: 0 }),
  },
  {
    code: 'end-on',
    level: 'fail',
    about: ['R'],
    // A room three times as long as wide is walked lengthways.
    fault: both(ranges(MINOR, row('tangential', 2.8, 1.2, 20)), (file) => {
      file.rooms[0]!.outline = rect(0, 0, 18, 6) as [number, number][];
    }),
    cure: both(ranges(MINOR, row('tangential', 2.8, 1.2, 20)), (file) => {
      file.rooms[0]!.outline = rect(0, 0, 17.9, 6) as [number, number][];
    }),
  },
  {
    code: 'heat-near',
    level: 'warn',
    about: ['Q', 'D1'],
    // Out of every range, but within 1.5 m.
    fault: addSource({ kind: 'air outlet', at: [5.4, 3], base: 2.75, top: 2.8 }),
    cure: addSource({ kind: 'air outlet', at: [5.6, 3], base: 2.75, top: 2.8 }),
  },
  {
    code: 'heat-near',
    level: 'warn',
    about: ['Q', 'D1'],
    // Far enough, but seen: the proposed mask cures it.
    fault: addSource({ kind: 'heater', at: [7.5, 3], base: 0.1, top: 0.7 }),
    cure: both(addSource({ kind: 'heater', at: [7.5, 3], base: 0.1, top: 0.7 }), (file) => {
      const { detector, ...mask } = check(readFloor(structuredClone(file))).sources[0]!.masks[0]!;
      expect(detector).toBe('D1');
      file.detectors[0]!.masks = [mask];
    }),
  },
  {
    code: 'heat-near',
    level: 'warn',
    about: ['L', 'D1'],
    fault: (file) => {
      file.luminaires = [{ id: 'L', name: 'Pendant', at: [4.9, 3], size: [0.2, 0.2], base: 2.7, top: 2.75 }];
    },
    cure: (file) => {
      file.luminaires = [{ id: 'L', name: 'Panel', at: [4.9, 3], size: [0.2, 0.2], base: 2.8, top: 2.85 }];
    },
  },
  { code: 'spill', level: 'warn', about: ['G', 'R2'], fault: addRoom(), cure: both(addRoom(), serves('R', 'R2')) },
  {
    code: 'zone-blind',
    level: 'fail',
    about: ['Z'],
    fault: both(addZone({ outline: rect(1, 1, 7, 5), need: 'seated' }), reach(0.4)),
    cure: addZone({ outline: rect(1, 1, 7, 5), need: 'seated' }),
  },
  {
    code: 'zone-empty',
    level: 'note',
    about: ['Z'],
    fault: addZone({ outline: rect(20, 1, 22, 5), need: 'seated' }),
    cure: addZone({ outline: rect(2, 1, 4, 5), need: 'seated' }),
  },
  {
    code: 'nobody-seen',
    level: 'fail',
    about: ['Z'],
    fault: addZone({ outline: rect(6, 0, 8, 2), need: 'nobody' }),
    cure: both(addZone({ outline: rect(6, 0, 8, 2), need: 'nobody' }), (file) => {
      file.detectors[0]!.masks = [{ from: 280, to: 350 }];
    }),
  },
  {
    code: 'nobody-seen',
    level: 'fail',
    about: ['Z'],
    // Behind a closed door, which people open.
    fault: both(addZone({ outline: rect(10, 2, 12, 4), need: 'nobody' }), addRoom(), (file) => {
      file.openings![1] = { id: 'P', kind: 'door', from: [8, 2.5], to: [8, 3.5], state: 'closed' };
    }),
    cure: both(addZone({ outline: rect(10, 2, 12, 4), need: 'nobody' }), addRoom(), (file) => {
      file.openings![1] = { id: 'P', kind: 'window', from: [8, 2.5], to: [8, 3.5] };
    }),
  },
  {
    code: 'assumed-input',
    level: 'warn',
    about: ['F', 'W'],
    fault: addPiece({ outline: SCREEN, top: 1.4, from: 'assumed' }),
    cure: addPiece({ outline: SCREEN, top: 1.4, from: 'measured' }),
  },
  {
    code: 'assumed-input',
    level: 'warn',
    about: ['R', 'W'],
    // 0.2 m higher the lens hangs above its table.
    fault: (file) => {
      file.rooms[0]!.ceilingFrom = 'assumed';
    },
    cure: both(ranges(MINOR, row('minor', 3, 0.8, 12), row('radial', 2.8, 1.2, 14)), (file) => {
      file.rooms[0]!.ceilingFrom = 'assumed';
    }),
  },
  {
    code: 'assumed-input',
    level: 'warn',
    about: ['R2', 'W'],
    // The lens stays where it is, but the passage it looks through is as high as the lower ceiling.
    fault: both(lookThroughPassage, (file) => {
      file.rooms[1]!.ceilingFrom = 'assumed';
    }),
    cure: lookThroughPassage,
  },
  {
    code: 'serves-unknown',
    level: 'note',
    about: ['G'],
    fault: both(addRoom(), (file) => {
      file.detectors.push({ id: 'D2', name: 'D2', type: 'T', at: [11, 3] });
      file.groups![0] = { id: 'G', name: 'Group', main: 'D1', extensions: ['D2'] };
    }),
    cure: both(addRoom(), (file) => {
      file.detectors.push({ id: 'D2', name: 'D2', type: 'T', at: [11, 3] });
      file.groups![0] = { id: 'G', name: 'Group', main: 'D1', extensions: ['D2'], serves: ['R', 'R2'] };
    }),
  },
  {
    code: 'opening-cuts-nothing',
    level: 'warn',
    about: ['V'],
    fault: (file) => {
      file.openings![0]!.from = [1, 2.5];
      file.openings![0]!.to = [1, 3.5];
    },
    cure: (file) => {
      file.openings![0]!.from = [0.19, 2.5];
      file.openings![0]!.to = [0.19, 3.5];
    },
  },
  {
    code: 'opening-cuts-nothing',
    level: 'warn',
    about: ['V'],
    // Across the wall, not along it.
    fault: (file) => {
      file.openings![0]!.from = [-0.5, 3];
      file.openings![0]!.to = [0.5, 3];
    },
    cure: nothing,
  },
  {
    code: 'hung-near-lens',
    level: 'warn',
    about: ['D1', 'F'],
    fault: addPiece({ kind: 'hanging', name: 'Baffle', outline: rect(4.9, 2, 5.1, 4), base: 2.4, top: 2.7 }),
    cure: addPiece({ kind: 'hanging', name: 'Baffle', outline: rect(5.1, 2, 5.3, 4), base: 2.4, top: 2.7 }),
  },
  {
    code: 'group-limit',
    level: 'fail',
    about: ['G'],
    // T71 of the facts (common practice, no source): with a main 10 extensions are carried, 11 are not.
    fault: extend(11),
    cure: extend(10),
  },
  {
    code: 'emergency-in-group',
    level: 'fail',
    about: ['L', 'G'],
    fault: emergency('G'),
    cure: emergency(null),
  },
  {
    code: 'blind-area',
    level: 'warn',
    about: ['R', 'F'],
    fault: addPiece({ kind: 'shelving', name: 'Shelf', outline: rect(6, 0, 6.4, 6), top: 2.6 }),
    cure: addPiece({ kind: 'shelving', name: 'Shelf', outline: rect(6, 0, 6.4, 6), top: 0.7 }),
    // For seated and for walking people.
    times: 2,
  },
];

function extend(count: number): Change {
  return (file) => {
    file.types[0]!.extensionLimit = 10;
    file.groups![0]!.extensions = Array.from({ length: count }, (_, k) => {
      const id = `E${k}`;
      file.detectors.push({ id, name: id, type: 'T', at: [1 + 0.5 * k, 5] });
      return id;
    });
  };
}

function emergency(group: string | null): Change {
  return (file) => {
    file.luminaires = [
      {
        id: 'L',
        name: 'Escape light',
        at: [7, 5],
        size: [0.3, 0.3],
        base: 2.8,
        top: 2.85,
        emergency: true,
        ...(group === null ? {} : { group }),
      },
    ];
  };
}
