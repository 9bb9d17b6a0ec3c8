import { add, type Entry, type FloorDraft, tileCentre, type XY } from '../floor-draft.ts';

type DetectorRest = Omit<Entry<'detectors'>, 'id' | 'name' | 'type' | 'at'>;

/** Hangs a detector in the ceiling tile of `room` nearest to (x, y) and returns its id. */
function hang(draft: FloorDraft, room: string, type: string, x: number, y: number, rest: DetectorRest = {}): string {
  const number = draft.detectors.length + 1;
  return add(draft, 'detectors', { name: `D${number}`, type, at: tileCentre(draft, room, x, y), ...rest });
}

/** Where the tile grid does not help: over a partition, centred in a narrow room. */
function hangAt(draft: FloorDraft, type: string, at: XY, rest: DetectorRest = {}): string {
  const number = draft.detectors.length + 1;
  return add(draft, 'detectors', { name: `D${number}`, type, at, ...rest });
}

function group(
  draft: FloorDraft,
  name: string,
  detectors: readonly string[],
  rest: Omit<Entry<'groups'>, 'id' | 'name' | 'main' | 'extensions'> = {},
): string {
  const [main, ...extensions] = detectors;
  if (main === undefined) throw new Error(`group ${name}: no detector`);
  return add(draft, 'groups', { name, main, ...(extensions.length > 0 ? { extensions } : {}), ...rest });
}

const OFFICE = { switchOn: 'manual', level: 500, delay: 15, background: 20 } as const;
const MEETING = { switchOn: 'manual', level: 500, delay: 10, ventilationDelay: 15 } as const;
const TRAFFIC = { switchOn: 'automatic', level: 100, delay: 5, background: 10 } as const;
const WET = { switchOn: 'automatic', level: 200, delay: 10, ventilationDelay: 15 } as const;

export interface OfficeGroups {
  readonly offices: readonly string[];
  readonly west: string;
}

/** `booths`: ids of the zones inside the phone booths. */
export function addDetectors(draft: FloorDraft, booths: string[]): OfficeGroups {
  const southWest = [12.6, 4.2, 8.4, 16.8, 21].map((x) => hang(draft, 'west', x > 20 ? 'round-6' : 'wide-9', x, 3.3));
  southWest.push(hang(draft, 'west', 'wide-9-extension', 15.6, 7.5));
  const westWing = [
    hang(draft, 'west', 'wide-9', 3.6, 12.3),
    hang(draft, 'west', 'wide-9-extension', 3.6, 8.1),
    hang(draft, 'west', 'wide-9-extension', 3.6, 16.5),
    hang(draft, 'west', 'wide-9-extension', 3.6, 20.7),
    hang(draft, 'west', 'wide-9-extension', 9, 12.3),
    hang(draft, 'west', 'round-6', 9, 15.3),
    hang(draft, 'west', 'wide-9-extension', 9, 22.5),
  ];
  const southEast = [33, 28.8, 37.2].map((x) => hang(draft, 'east', 'wide-9', x, 3.3));
  southEast.push(hang(draft, 'east', 'wide-9-extension', 25.2, 6.9));
  const eastWing = [
    hang(draft, 'east', 'wide-9', 41.1, 12.3),
    hang(draft, 'east', 'wide-9-extension', 35.4, 12.3),
    hang(draft, 'east', 'wide-9-extension', 38.4, 8.1),
  ];
  const groups = [
    group(draft, 'Open office, south-west', southWest, { serves: ['west'], settings: OFFICE }),
    group(draft, 'Open office, west wing', westWing, { serves: ['west'], settings: OFFICE }),
    group(draft, 'Open office, south-east', southEast, { serves: ['east'], settings: OFFICE }),
    group(draft, 'Open office, east wing', eastWing, { settings: OFFICE }),
  ];
  const [west] = groups;
  if (west === undefined) throw new Error('no group in the open office');

  group(draft, 'Booths', [hangAt(draft, 'flush-5', [23.5, 1.2]), hangAt(draft, 'flush-5', [23.5, 2.8])], {
    serves: booths,
    settings: MEETING,
  });
  group(
    draft,
    'Corridor',
    [hang(draft, 'corridor', 'long-corridor', 18, 13.9), hang(draft, 'corridor', 'long-corridor', 27.6, 13.9)],
    { settings: TRAFFIC },
  );
  group(draft, 'Meeting 1', [hang(draft, 'meet-1', 'rectangle-8', 15.4, 10.9)], { settings: MEETING });
  group(draft, 'Meeting 2', [hang(draft, 'meet-2', 'round-6', 19.4, 10.9)], { settings: MEETING });
  group(draft, 'Meeting 3', [hang(draft, 'meet-3', 'round-6', 22.4, 10.9)], { settings: MEETING });
  group(
    draft,
    'Meeting 4',
    [hang(draft, 'meet-4', 'rectangle-8', 26.1, 10.9), hang(draft, 'meet-4', 'rectangle-8', 29.7, 10.9)],
    { settings: MEETING },
  );
  group(draft, 'Stair', [hang(draft, 'stair', 'round-6', 14.5, 16.2, { status: 'existing', locked: true })], {
    settings: { ...TRAFFIC, level: 150 },
  });
  group(draft, 'Lift lobby', [hang(draft, 'lobby', 'round-6', 18.4, 16.9)], { settings: TRAFFIC });
  for (const [index, x] of [21, 23.5].entries()) {
    const room = `wc-${index + 1}`;
    group(
      draft,
      `WC ${index + 1}`,
      [
        hang(draft, room, 'flush-5', x + 1.2, 15.9),
        hangAt(draft, 'flush-5', [x + 0.5, 18.9]),
        hangAt(draft, 'flush-5', [x + 1.7, 18.465]),
        hangAt(draft, 'flush-5', [x + 1.7, 20.2]),
      ],
      { settings: WET },
    );
  }
  group(draft, 'WC 3', [hang(draft, 'wc-3', 'flush-5', 27.2, 16.2)], { settings: WET });
  group(draft, 'Tea point', [hang(draft, 'tea', 'wide-9', 29.3, 20.3), hang(draft, 'tea', 'round-6', 30.2, 16.2)], {
    settings: { switchOn: 'automatic', level: 200, delay: 10 },
  });
  group(draft, 'Print and post', [hang(draft, 'print', 'round-6', 23.4, 22.5)], {
    settings: { switchOn: 'automatic', level: 300, delay: 10 },
  });
  // The old lens over the post shelf goes when the new one is in.
  hang(draft, 'print', 'round-6', 22, 23.7, { status: 'remove' });
  group(draft, 'Quiet room', [hang(draft, 'quiet', 'round-6', 15.4, 23), hang(draft, 'quiet', 'round-6', 18.4, 23)], {
    settings: OFFICE,
  });
  return { offices: groups, west };
}
