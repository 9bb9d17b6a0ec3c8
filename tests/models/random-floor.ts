/** Small odd floors for property tests: every seed gives a valid file, and no two look alike. */
import type { FloorFile } from '../../src/core/floor/schema.ts';
import { add, createDraft, type Entry, type FloorDraft, finishDraft, type XY } from './floor-draft.ts';
import { createRandom, type Random } from './random.ts';
import { isInside, type Placement, randomOutline, ringClearance } from './random-outlines.ts';
import { addRandomRooms, type RandomRooms } from './random-rooms.ts';

function addTypes(draft: FloorDraft, random: Random): void {
  const mountings = [random.between(1.8, 2.4), random.between(2.45, 3), random.between(3.1, 5)];
  for (let index = 0; index < 3; index += 1) {
    const rectangular = random.chance(0.4);
    const ranges: Entry<'types'>['ranges'][number][] = [];
    for (const [motion, scale] of [
      ['minor', 1],
      ['tangential', 1.9],
      ['radial', 1.3],
    ] as const) {
      if (random.chance(0.06)) continue;
      const plane =
        motion === 'minor'
          ? random.pick([0, 0.8, random.between(0.4, 1.1)])
          : random.pick([0, 1.2, random.between(0.8, 1.5)]);
      const rows = random.whole(1, 3);
      for (let row = 0; row < rows; row += 1) {
        const size = scale * random.between(3.5, 11);
        const mounting = mountings[row] ?? 2.8;
        if (rectangular) ranges.push({ motion, mounting, plane, length: size, width: size * random.between(0.15, 1) });
        else ranges.push({ motion, mounting, plane, diameter: size });
      }
    }
    draft.types.push({
      id: `T${index + 1}`,
      name: `Random ${index + 1}`,
      origin: 'invented',
      drop: random.pick([0, 0.05, 0.3]),
      ranges,
    });
  }
}

function addPieces(draft: FloorDraft, random: Random, place: Placement, ceiling: number): void {
  const pieces = random.whole(4, 16);
  for (let index = 0; index < pieces; index += 1) {
    const kind = random.pick([
      'partition',
      'screen',
      'shelving',
      'cabinet',
      'desk',
      'column',
      'hanging',
      'other',
    ] as const);
    const base = kind === 'hanging' ? random.between(1.5, 2.1) : random.pick([0, 0, random.between(0.1, 0.7)]);
    const top = kind === 'column' ? ceiling : base + random.between(0.2, kind === 'hanging' ? 0.6 : 2);
    add(draft, 'furniture', {
      kind,
      name: `Piece ${index + 1}`,
      outline: randomOutline(random, place),
      base,
      top,
      glass: kind === 'partition' && random.chance(0.5),
      raised: kind === 'desk' ? random.pick([0, 0.4]) : 0,
      from: random.pick(['measured', 'drawn', 'assumed']),
    });
  }
  for (let index = random.whole(0, 5); index > 0; index -= 1) {
    const base = random.between(1.9, 2.3);
    const size: XY = [random.between(0.3, 1.6), random.between(0.08, 0.4)];
    add(draft, 'luminaires', {
      name: 'Luminaire',
      at: place.point(),
      size,
      turn: random.between(0, 360),
      base,
      top: base + random.between(0.03, 0.15),
      emergency: random.chance(0.1),
    });
  }
}

/** Outline of a luminaire, to keep a lens out of it. */
function luminaireOutline({ at, size, turn = 0 }: Entry<'luminaires'>): XY[] {
  const [c, s] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
  return (
    [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ] as const
  ).map(([a, b]) => {
    const [u, v] = [(a * size[0]) / 2, (b * size[1]) / 2];
    return [at[0] + u * c - v * s, at[1] + u * s + v * c];
  });
}

/** A lens keeps 20 mm from walls and from every piece that holds its height. */
function isClear(draft: FloorDraft, [x, y]: XY, height: number): boolean {
  const margin = 0.02;
  const walls = draft.rooms.flatMap(({ outline, holes = [] }) => [outline, ...holes]);
  if (walls.some((ring) => ringClearance(ring, x, y) < margin)) return false;
  const pieces = [
    ...draft.furniture.map(({ outline, base = 0, top }) => ({ outline, base, top })),
    ...draft.luminaires.map((luminaire) => ({
      outline: luminaireOutline(luminaire),
      base: luminaire.base,
      top: luminaire.top,
    })),
  ];
  return pieces.every(
    ({ outline, base, top }) =>
      height < base - margin ||
      height > top + margin ||
      (!isInside(outline, x, y) && ringClearance(outline, x, y) > margin),
  );
}

function addDetectors(draft: FloorDraft, random: Random, rooms: RandomRooms): void {
  const wanted = random.whole(2, 7);
  for (let tries = 0; tries < 400 && draft.detectors.length < wanted; tries += 1) {
    const at = rooms.pointInside(random);
    const room = draft.rooms.find(
      ({ outline, holes = [] }) => isInside(outline, ...at) && !holes.some((hole) => isInside(hole, ...at)),
    );
    const type = random.pick(draft.types);
    if (room === undefined) continue;
    const height = random.chance(0.4) ? random.between(random.pick([1.6, 2.2]), room.ceiling) : undefined;
    if (!isClear(draft, at, height ?? room.ceiling - (type.drop ?? 0))) continue;
    const masks: Entry<'detectors'>['masks'] = Array.from({ length: random.pick([0, 0, 1, 2]) }, () => {
      const from = random.between(0, 360);
      const inner = random.pick([0, random.between(5, 50)]);
      return {
        from,
        to: from + (random.chance(0.15) ? 360 : random.between(5, 200)),
        inner,
        outer: random.pick([90, inner + random.between(5, 35)]),
      };
    });
    add(draft, 'detectors', {
      name: `D${draft.detectors.length + 1}`,
      type: type.id,
      at,
      turn: random.between(-90, 400),
      reach: random.pick([1, 1, random.between(0.4, 1.6)]),
      status: random.chance(0.1) ? 'remove' : random.pick(['new', 'new', 'existing']),
      ...(height === undefined ? {} : { height }),
      ...(masks.length > 0 ? { masks } : {}),
    });
  }
}

function addGroups(draft: FloorDraft, random: Random): void {
  const free = draft.detectors.map(({ id }) => id).filter(() => random.chance(0.85));
  while (free.length > 0) {
    const [main, ...extensions] = free.splice(0, random.whole(1, 3));
    if (main === undefined) return;
    const serves = random.chance(0.3)
      ? { serves: [random.pick([...draft.rooms.map(({ id }) => id), ...draft.zones.map(({ id }) => id)])] }
      : {};
    add(draft, 'groups', { name: `Group ${draft.groups.length + 1}`, main, extensions, ...serves });
  }
}

/** A valid small floor of odd shapes: the same seed gives the same floor. */
export function randomFloor(seed: number): FloorFile {
  const random = createRandom(seed ^ 0x5eed);
  const draft = createDraft();
  const rooms = addRandomRooms(draft, random);
  const place: Placement = { point: () => rooms.pointInside(random), size: () => random.between(0.15, 1.6) };
  addTypes(draft, random);
  addPieces(draft, random, place, Math.max(...draft.rooms.map(({ ceiling }) => ceiling)));
  for (let index = random.whole(1, 6); index > 0; index -= 1) {
    add(draft, 'workplaces', {
      name: 'Workplace',
      at: place.point(),
      radius: random.between(0.3, 0.6),
      posture: random.pick(['seated', 'seated', 'standing']),
    });
  }
  for (let index = random.whole(0, 3); index > 0; index -= 1) {
    const need = random.pick(['seated', 'walking', 'nobody'] as const);
    const outline = randomOutline(random, { point: place.point, size: () => random.between(1, 3) });
    add(draft, 'zones', {
      name: 'Zone',
      outline,
      need,
      ...(random.chance(0.5) ? { heading: random.between(0, 360) } : {}),
    });
  }
  for (let index = random.whole(0, 3); index > 0; index -= 1) {
    const base = random.between(0, 2);
    add(draft, 'sources', {
      name: 'Source',
      kind: random.pick(['heater', 'fan', 'air outlet', 'lamp', 'machine', 'other']),
      at: place.point(),
      base,
      top: base + random.between(0.05, 0.6),
      radius: random.between(0.05, 0.4),
    });
  }
  addDetectors(draft, random, rooms);
  addGroups(draft, random);
  return finishDraft(
    {
      name: `Random floor ${seed}`,
      notes: 'Invented by a seeded generator.',
      analysis: { cell: random.pick([0.1, 0.1, random.between(0.07, 0.25)]) },
    },
    draft,
  );
}
