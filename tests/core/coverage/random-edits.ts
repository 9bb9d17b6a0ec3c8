/** Edits of a floor file as an editor makes them: what is not touched stays the same object. */
import type { FloorFile } from '../../../src/core/floor/index.ts';
import type { Random } from '../../models/random.ts';
import type { Entry } from '../sight/build-floor.ts';

type List = 'furniture' | 'luminaires' | 'workplaces' | 'zones' | 'detectors' | 'openings' | 'groups' | 'types';
type XY = readonly [number, number];

/** Changes one entry of a list; the file stays as it is when the list is empty. */
function change<Key extends List>(
  file: FloorFile,
  random: Random,
  key: Key,
  edit: (entry: Entry<Key>) => Entry<Key>,
): FloorFile {
  const list = (file[key] ?? []) as readonly Entry<Key>[];
  if (list.length === 0) return file;
  const at = random.whole(0, list.length - 1);
  return { ...file, [key]: list.map((entry, k) => (k === at ? edit(entry) : entry)) };
}

function remove(file: FloorFile, random: Random, key: 'furniture' | 'workplaces' | 'luminaires'): FloorFile {
  const list: readonly unknown[] = file[key] ?? [];
  if (list.length === 0) return file;
  const at = random.whole(0, list.length - 1);
  return { ...file, [key]: list.filter((_, k) => k !== at) };
}

const shift = ([x, y]: XY, [dx, dy]: XY): XY => [x + dx, y + dy];
const nudge = (random: Random, reach: number): XY => [random.between(-reach, reach), random.between(-reach, reach)];

/** A place somewhere over the rooms' boxes; a reader may find it in no room. */
function place(file: FloorFile, random: Random): XY {
  const { outline } = random.pick(file.rooms);
  const [a, b, c] = [random.pick(outline), random.pick(outline), random.pick(outline)];
  const [u, v] = [random.between(0.1, 0.8), random.between(0.1, 0.8)];
  return [a[0] + u * (b[0] - a[0]) + v * (c[0] - a[0]) * 0.5, a[1] + u * (b[1] - a[1]) + v * (c[1] - a[1]) * 0.5];
}

let serial = 0;

type Edit = (file: FloorFile, random: Random) => FloorFile;

export const EDITS: Readonly<Record<string, Edit>> = {
  'move a detector': (file, random) =>
    change(file, random, 'detectors', (each) => ({ ...each, at: place(file, random) })),
  'nudge a detector': (file, random) =>
    change(file, random, 'detectors', (each) => ({ ...each, at: shift(each.at, nudge(random, 0.3)) })),
  'turn a detector': (file, random) =>
    change(file, random, 'detectors', (each) => ({ ...each, turn: random.between(0, 360) })),
  'mask a detector': (file, random) =>
    change(file, random, 'detectors', (each) => {
      const from = random.between(0, 360);
      return { ...each, masks: random.chance(0.3) ? [] : [{ from, to: from + random.between(10, 200) }] };
    }),
  'change the reach of a detector': (file, random) =>
    change(file, random, 'detectors', (each) => ({ ...each, reach: random.between(0.3, 1.8) })),
  'change the status of a detector': (file, random) =>
    change(file, random, 'detectors', (each) => ({ ...each, status: random.pick(['new', 'existing', 'remove']) })),
  'change the height of a detector': (file, random) =>
    change(file, random, 'detectors', (each) => ({ ...each, height: random.between(1.6, 2.4) })),
  'change the type of a detector': (file, random) =>
    change(file, random, 'detectors', (each) => ({ ...each, type: random.pick(file.types).id })),
  'add a detector': (file, random) => {
    const id = `new-${serial++}`;
    return {
      ...file,
      detectors: [...file.detectors, { id, name: id, type: random.pick(file.types).id, at: place(file, random) }],
    };
  },
  'move a piece': (file, random) => {
    const by = nudge(random, 1);
    return change(file, random, 'furniture', (each) => ({ ...each, outline: each.outline.map((p) => shift(p, by)) }));
  },
  'raise a piece': (file, random) =>
    change(file, random, 'furniture', (each) => ({ ...each, top: (each.base ?? 0) + random.between(0.2, 2.4) })),
  'remove a piece': (file, random) => remove(file, random, 'furniture'),
  'add a piece': (file, random) => {
    const [x, y] = place(file, random);
    const [w, h] = [random.between(0.1, 1.5), random.between(0.1, 1.5)];
    const outline: XY[] = [
      [x, y],
      [x + w, y],
      [x + w, y + h],
      [x, y + h],
    ];
    const piece = {
      id: `new-${serial++}`,
      kind: 'cabinet',
      name: 'New',
      outline,
      top: random.between(0.5, 2.2),
    } as const;
    return { ...file, furniture: [...(file.furniture ?? []), piece] };
  },
  'move a luminaire': (file, random) =>
    change(file, random, 'luminaires', (each) => ({ ...each, at: shift(each.at, nudge(random, 1)) })),
  'move a workplace': (file, random) =>
    change(file, random, 'workplaces', (each) => ({ ...each, at: shift(each.at, nudge(random, 1)) })),
  'change a workplace': (file, random) =>
    change(file, random, 'workplaces', (each) => ({
      ...each,
      radius: random.between(0.2, 0.8),
      posture: random.pick(['seated', 'standing']),
    })),
  'remove a workplace': (file, random) => remove(file, random, 'workplaces'),
  'add a workplace': (file, random) => ({
    ...file,
    workplaces: [...(file.workplaces ?? []), { id: `new-${serial++}`, name: 'New', at: place(file, random) }],
  }),
  'move a zone': (file, random) => {
    const by = nudge(random, 1.5);
    return change(file, random, 'zones', (each) => ({ ...each, outline: each.outline.map((p) => shift(p, by)) }));
  },
  "move a room's corner": (file, random) => {
    const at = random.whole(0, file.rooms.length - 1);
    const by = nudge(random, 0.4);
    return {
      ...file,
      rooms: file.rooms.map((room, k) => {
        const corner = random.whole(0, room.outline.length - 1);
        return k === at ? { ...room, outline: room.outline.map((p, v) => (v === corner ? shift(p, by) : p)) } : room;
      }),
    };
  },
  'open or close a door': (file, random) =>
    change(file, random, 'openings', (each) =>
      each.kind === 'door' ? { ...each, state: random.pick(['open', 'closed']) } : each,
    ),
  'move an opening': (file, random) => {
    const by = nudge(random, 0.3);
    return change(file, random, 'openings', (each) => ({
      ...each,
      from: shift(each.from, by),
      to: shift(each.to, by),
    }));
  },
  'change what a group serves': (file, random) =>
    change(file, random, 'groups', (each) => ({
      ...each,
      serves: [random.pick([...file.rooms.map(({ id }) => id), ...(file.zones ?? []).map(({ id }) => id)])],
    })),
  'change the share of headings': (file, random) => ({
    ...file,
    analysis: { ...file.analysis, headings: random.pick([0.5, 0.75]), crossingAngle: random.pick([20, 45, 60]) },
  }),
  'rename a detector': (file, random) =>
    change(file, random, 'detectors', (each) => ({ ...each, name: `Renamed ${serial++}` })),
  'give a detector another id': (file, random) => {
    const { id } = random.pick(file.detectors);
    // Groups name detectors by their ids: only one that is in none can be given another.
    if ((file.groups ?? []).some((group) => [group.main, ...(group.extensions ?? [])].includes(id))) return file;
    const fresh = `new-${serial++}`;
    return { ...file, detectors: file.detectors.map((each) => (each.id === id ? { ...each, id: fresh } : each)) };
  },
  'reorder the detectors': (file) => ({ ...file, detectors: [...file.detectors].reverse() }),
  'reorder the furniture': (file) => ({ ...file, furniture: [...(file.furniture ?? [])].reverse() }),
  'rename a piece': (file, random) =>
    change(file, random, 'furniture', (each) => ({ ...each, name: `Renamed ${serial++}` })),
  'rename the floor': (file) => ({ ...file, name: `Floor ${serial++}` }),
};
