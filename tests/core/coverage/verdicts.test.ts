/** Verdicts of random floors, reached again from plain sight lines and from the rules. */
import { afterAll, describe, expect, test } from 'vitest';
import { crosses } from '../../../src/core/coverage/headings.ts';
import type { Coverage } from '../../../src/core/coverage/index.ts';
import { BLIND, CAUSES, check, createCoverage, judgeCoverage, SEEN } from '../../../src/core/coverage/index.ts';
import { castOpenLayers } from '../../../src/core/coverage/open-doors.ts';
import type { Doors, Floor, Motion, Point, Source } from '../../../src/core/floor/index.ts';
import { findRoomAt, resolveFloor } from '../../../src/core/floor/index.ts';
import { isInRing } from '../../../src/core/geometry/polygon.ts';
import { findCut, hasCell, MOTIONS, traceSight } from '../../../src/core/sight/index.ts';
import { createRandom } from '../../models/random.ts';
import { randomFloor } from '../../models/random-floor.ts';
import { listServing } from './serving-by-rule.ts';

const SEEDS = Array.from({ length: 30 }, (_, k) => 1000 + k);
const floorOf = (seed: number): Floor => resolveFloor(randomFloor(seed));
const centre = ({ grid }: Coverage, k: number): Point => {
  const { x0, y0, cell, nx } = grid.lattice;
  return [x0 + ((k % nx) + 0.5) * cell, y0 + (Math.floor(k / nx) + 0.5) * cell];
};
const isUsed = (floor: Floor, index: number) => floor.detectors[index]!.status !== 'remove';
const blocksWalking = ({ base, top }: { base: number; top: number }) => base < 1.8 && top > 0.1;

const tally = { samples: 0, entrances: 0, late: 0, spill: 0, zones: 0, sources: 0, masks: 0, patches: 0 };
afterAll(() => {
  console.info(
    `verdicts: ${tally.samples} samples of workplaces, ${tally.entrances} entrances (${tally.late} not seen at once), ${tally.spill} spills, ${tally.zones} zones, ${tally.sources} sources (${tally.masks} masks), ${tally.patches} blind areas`,
  );
});

describe('workplaces', () => {
  test.each(SEEDS)('are judged from places one can be in and sight lines to them, random floor %i', (seed) => {
    const floor = floorOf(seed);
    const coverage = createCoverage(floor);
    const { scene } = coverage;
    for (const [index, workplace] of floor.workplaces.entries()) {
      const samples = coverage.samples[index]!;
      const { x0, y0, cell, nx } = samples.cells.lattice;
      const standing = workplace.posture === 'standing';
      expect(samples.heights).toEqual(standing ? [1.1, 1.25, 1.5] : [0.8, 1, 1.15]);
      const plane = samples.heights[0];
      const room = findRoomAt(floor.rooms, workplace.at);
      const chair = { ...scene.lenses[0]!, x: workplace.at[0], y: workplace.at[1], h: plane + 1e-7 };
      const isKept = (x: number, y: number) =>
        room !== undefined &&
        Math.hypot(x - chair.x, y - chair.y) <= workplace.radius + 1e-9 &&
        findRoomAt([room], [x, y]) !== undefined &&
        !floor.furniture.some((f) => f.base <= plane && plane < f.top && isInRing(f.outline, x, y)) &&
        findCut(scene, chair, { x, y, h: plane }, 'stated') === null;
      const [asked, seen, strays] = [
        [0, 0, 0],
        [0, 0, 0],
        [0, 0, 0],
      ].map((each) => [...each]) as [number[], number[], number[]];
      const serving = listServing(floor, workplace.at);
      const byZone = floor.groups.some((group) => group.serves?.some((id) => floor.zones.some((z) => z.id === id)));
      const reach = Math.ceil(workplace.radius / cell) + 2;
      const [ci, cj] = [Math.floor((chair.x - x0) / cell), Math.floor((chair.y - y0) / cell)];
      for (let j = cj - reach; j <= cj + reach; j += 3) {
        for (let i = ci - reach; i <= ci + reach; i += 3) {
          if (i < 0 || j < 0 || i >= nx || j >= samples.cells.lattice.ny) continue;
          const [x, y] = [x0 + (i + 0.5) * cell, y0 + (j + 0.5) * cell];
          const kept = hasCell(samples.cells, i, j);
          if (kept !== isKept(x, y)) strays[0]!++;
          if (!kept) continue;
          samples.heights.forEach((h, level) => {
            asked[level]!++;
            const by = byZone ? listServing(floor, [x, y]) : serving;
            if (by.some((d) => traceSight(scene, d, { x, y, h }, 'minor', 'stated').seen)) seen[level]!++;
          });
        }
      }
      tally.samples += asked[0]!;
      // A sample in a hundred may lie on an edge.
      expect(strays[0], `${workplace.id} kept`).toBeLessThanOrEqual(0.01 * (asked[0]! + 100));
      const result = coverage.workplaces[index]!;
      if (asked[0] === 0) {
        if (samples.count === 0) expect(result).toMatchObject({ share: null, level: 'none', met: false });
        continue;
      }
      const shares = seen.map((count, level) => count / asked[level]!);
      // Every ninth sample is asked: on a narrow rest of a disc that is few.
      const slack = 0.02 + 3 / Math.sqrt(asked[0]!) / 10;
      expect(Math.abs(result.share! - shares[0]!), workplace.id).toBeLessThan(slack);
      if (shares.some((share) => Math.abs(share - 0.9) < slack)) continue;
      const level = shares[0]! >= 0.9 ? 'body' : shares[1]! >= 0.9 ? 'shoulders' : shares[2]! >= 0.9 ? 'head' : 'none';
      expect(result, workplace.id).toMatchObject({ level, met: level === 'body' || level === 'shoulders' });
    }
  });
});

describe('entrances', () => {
  /** Metres to the first seen place on each of three lines, by the rule; undefined where no line can be walked. */
  function walkIn(floor: Floor, coverage: Coverage, opening: Floor['openings'][number], side: number) {
    const [fx, fy] = opening.from;
    const [dx, dy] = [opening.to[0] - fx, opening.to[1] - fy];
    const width = Math.hypot(dx, dy);
    const [nx, ny] = [(-side * dy) / width, (side * dx) / width];
    const start = (part: number): Point => [
      fx + part * dx + (nx * opening.depth) / 2,
      fy + part * dy + (ny * opening.depth) / 2,
    ];
    const inside = ([x, y]: Point, step: number): Point => [
      x + (step + (step === 0 ? 0.001 : 0)) * nx,
      y + (step + (step === 0 ? 0.001 : 0)) * ny,
    ];
    const room = [0.5, 0.25, 0.75].map((part) => findRoomAt(floor.rooms, inside(start(part), 0))).find(Boolean);
    if (!room) return undefined;
    const heading = (Math.atan2(ny, nx) * 180) / Math.PI;
    const lines = [0.25, 0.5, 0.75].flatMap((part) => {
      for (let step = 0; ; step++) {
        const at = inside(start(part), step * 0.05);
        const stops = floor.furniture.some((f) => blocksWalking(f) && isInRing(f.outline, at[0], at[1]));
        if (findRoomAt([room], at) === undefined || stops) return step === 0 ? [] : [null];
        const h = floor.analysis.walkingPlane;
        const isSeen = listServing(floor, at).some((d) => {
          const see = (motion: Motion) => traceSight(coverage.scene, d, { x: at[0], y: at[1], h }, motion, 'open').seen;
          if (see('radial')) return true;
          if (!see('tangential')) return false;
          const [vx, vy] = [at[0] - coverage.scene.lenses[d]!.x, at[1] - coverage.scene.lenses[d]!.y];
          if (Math.hypot(vx, vy) <= 0.5 + 1e-9) return true;
          return crosses(heading, (Math.atan2(vy, vx) * 180) / Math.PI, floor.analysis.crossingAngle);
        });
        if (isSeen) return [step * 0.05];
      }
    });
    const never = lines.length === 0 || lines.includes(null);
    return { id: opening.id, room: room.id, firstSeenM: never ? null : Math.max(...lines.map((each) => each ?? 0)) };
  }

  test.each(SEEDS)('are walked in along three lines, random floor %i', (seed) => {
    const floor = floorOf(seed);
    const coverage = createCoverage(floor);
    const wanted = floor.openings
      .filter(({ kind }) => kind !== 'window')
      .flatMap((opening) => [1, -1].flatMap((side) => walkIn(floor, coverage, opening, side) ?? []));
    const found = judgeCoverage(coverage).entrances;
    expect(found.map(({ id, room }) => [id, room])).toEqual(wanted.map(({ id, room }) => [id, room]));
    const seedName = floor.name;
    found.forEach(({ firstSeenM }, k) => {
      tally.entrances++;
      if (firstSeenM !== 0) tally.late++;
      if (wanted[k]!.firstSeenM === null) expect(firstSeenM, seedName).toBeNull();
      else expect(firstSeenM, seedName).toBeCloseTo(wanted[k]!.firstSeenM!, 9);
    });
  });
});

/** Does any detector of a list see the cell for some of the motions? */
const sees = (
  layers: Coverage['layers'],
  detectors: readonly number[],
  motions: readonly Motion[],
  i: number,
  j: number,
) => detectors.some((d) => motions.some((m) => layers[d]![m] !== null && hasCell(layers[d]![m]!.seen, i, j)));

describe('zones, spill, detectors and rooms', () => {
  test.each(SEEDS)(
    'are counted from cells, random floor %i',
    (seed) => {
      const floor = floorOf(seed);
      const coverage = createCoverage(floor);
      const { grid, seated, walking, serving } = coverage;
      const { cell, nx } = grid.lattice;
      const open = castOpenLayers(coverage);
      const result = judgeCoverage(coverage);
      const cells = Array.from({ length: grid.room.length }, (_, k) => ({ k, i: k % nx, j: Math.floor(k / nx) }));
      const used = [...floor.detectors.keys()].filter((index) => isUsed(floor, index));

      floor.zones.forEach((zone, z) => {
        tally.zones++;
        const field = zone.need === 'seated' ? seated : walking;
        const inside = cells.filter(
          ({ k }) => field.state[k]! >= BLIND && isInRing(zone.outline, ...centre(coverage, k)),
        );
        const members = (id: string) => {
          const group = floor.groups.find((each) => each.id === id)!;
          return [group.main, ...group.extensions].map((each) => floor.detectors.findIndex((d) => d.id === each));
        };
        const watching = zone.groups ? zone.groups.flatMap(members).filter((d) => isUsed(floor, d)) : used;
        const seen = inside.filter(({ k, i, j }) => {
          if (zone.need === 'nobody') return sees(open, watching, MOTIONS, i, j);
          if (zone.need === 'seated' || zone.heading === undefined) return field.state[k] === SEEN;
          const [x, y] = centre(coverage, k);
          return listServing(floor, [x, y]).some((d) => {
            if (sees(coverage.layers, [d], ['radial'], i, j)) return true;
            if (!sees(coverage.layers, [d], ['tangential'], i, j)) return false;
            const [vx, vy] = [x - coverage.scene.lenses[d]!.x, y - coverage.scene.lenses[d]!.y];
            if (Math.hypot(vx, vy) <= 0.5 + 1e-9) return true;
            return crosses(zone.heading!, (Math.atan2(vy, vx) * 180) / Math.PI, floor.analysis.crossingAngle);
          });
        });
        const share = inside.length === 0 ? null : seen.length / inside.length;
        expect(result.zones[z]!.share, zone.id).toBe(share);
        const met = share === null || (zone.need === 'nobody' ? share === 0 : share >= 0.95);
        expect(result.zones[z]!.met, zone.id).toBe(met);
      });

      const served = (group: (typeof serving.groups)[number], room: number) =>
        group.rooms.includes(room) ||
        group.zones.some((zone) =>
          cells.some(({ k }) => grid.room[k] === room && isInRing(floor.zones[zone]!.outline, ...centre(coverage, k))),
        );
      const spill = serving.groups.flatMap((group) =>
        floor.rooms.flatMap((room, r) => {
          if (served(group, r)) return [];
          const count = cells.filter(
            ({ k, i, j }) =>
              grid.room[k] === r &&
              ((seated.state[k]! >= BLIND && sees(open, group.detectors, ['minor'], i, j)) ||
                (walking.state[k]! >= BLIND && sees(open, group.detectors, ['tangential', 'radial'], i, j))),
          ).length;
          return count > 0 ? [{ group: group.key, room: room.id, areaM2: expect.closeTo(count * cell ** 2, 9) }] : [];
        }),
      );
      tally.spill += spill.length;
      expect(result.spill).toEqual(spill);

      floor.detectors.forEach((_, d) => {
        const serves = cells.filter(
          ({ k }) => grid.room[k]! >= 0 && listServing(floor, centre(coverage, k)).includes(d),
        );
        const seatedCells = serves.filter(
          ({ k, i, j }) => seated.state[k]! >= BLIND && sees(coverage.layers, [d], ['minor'], i, j),
        );
        const walkingCells = serves.filter(
          ({ k, i, j }) => walking.state[k]! >= BLIND && sees(coverage.layers, [d], ['tangential', 'radial'], i, j),
        );
        const alone = seatedCells.filter(({ k }) => seated.count[k] === 1);
        const { seatedM2, walkingM2, aloneM2 } = result.detectors[d]!;
        expect([seatedM2, walkingM2, aloneM2]).toEqual(
          [seatedCells, walkingCells, alone].map((list) => expect.closeTo(list.length * cell ** 2, 9)),
        );
      });

      floor.rooms.forEach((room, r) => {
        const shareOf = (field: typeof seated) => {
          const all = cells.filter(({ k }) => grid.room[k] === r && field.state[k]! >= BLIND);
          return all.length === 0 ? null : all.filter(({ k }) => field.state[k] === SEEN).length / all.length;
        };
        expect(result.rooms[r]).toEqual({ id: room.id, seated: shareOf(seated), walking: shareOf(walking) });
      });
    },
    30_000,
  );
});

describe('blind areas', () => {
  test.each(SEEDS)(
    'are patches of blind cells that hold a circle of 0.5 m, random floor %i',
    (seed) => {
      const coverage = createCoverage(floorOf(seed));
      const { grid, scene } = coverage;
      const { x0, y0, cell, nx } = grid.lattice;
      const { blind } = judgeCoverage(coverage);
      for (const plane of ['seated', 'walking'] as const) {
        const field = coverage[plane];
        const motions: readonly Motion[] = plane === 'seated' ? ['minor'] : ['tangential', 'radial'];
        const patch = new Int32Array(grid.room.length).fill(-1);
        const patches: number[][] = [];
        for (let first = 0; first < patch.length; first++) {
          if (field.state[first] !== BLIND || patch[first] !== -1) continue;
          const cells = [first];
          patch[first] = patches.length;
          for (const k of cells) {
            for (const next of [k % nx > 0 ? k - 1 : -1, k % nx < nx - 1 ? k + 1 : -1, k - nx, k + nx]) {
              if (field.state[next] !== BLIND || patch[next] !== -1 || grid.room[next] !== grid.room[first]) continue;
              patch[next] = patches.length;
              cells.push(next);
            }
          }
          patches.push(cells);
        }
        /** The largest circle about a cell's centre that stays in its patch, metres. */
        const room = (k: number) => {
          for (let r = 1; ; r++) {
            let nearest = Infinity;
            for (let dj = -r; dj <= r; dj++) {
              for (let di = -r; di <= r; di++) {
                const [i, j] = [(k % nx) + di, Math.floor(k / nx) + dj];
                const inside = i >= 0 && i < nx && j >= 0 && j < grid.lattice.ny && patch[j * nx + i] === patch[k];
                if (!inside)
                  nearest = Math.min(
                    nearest,
                    Math.hypot(Math.max(0, Math.abs(di) - 0.5), Math.max(0, Math.abs(dj) - 0.5)),
                  );
              }
            }
            if (nearest <= r) return nearest * cell;
          }
        };
        const large = patches.filter((cells) => cells.some((k) => room(k) >= 0.25 - 1e-9));
        const found = blind.filter((each) => each.plane === plane);
        expect(found.map(({ areaM2 }) => areaM2)).toEqual(
          large.map((cells) => expect.closeTo(cells.length * cell ** 2, 9)).sort((a, b) => b.sample - a.sample),
        );
        for (const { at, cause, by } of found) {
          tally.patches++;
          const k = Math.floor((at[1] - y0) / cell) * nx + Math.floor((at[0] - x0) / cell);
          const cells = patches[patch[k]!]!;
          expect(room(k)).toBeCloseTo(Math.max(...cells.map(room)), 9);
          const counts = CAUSES.map((_, c) => cells.filter((each) => field.cause[each] === c).length);
          expect(counts[CAUSES.indexOf(cause)]).toBe(Math.max(...counts));
          if (cause !== 'hidden') {
            expect(by).toBeNull();
            continue;
          }
          const hiders = new Map<string, number>();
          for (const each of cells.filter((c) => field.cause[c] === 1)) {
            const [x, y] = centre(coverage, each);
            const sight = motions
              .map((m) => traceSight(scene, field.nearest[each]!, { x, y, h: field.height }, m, 'stated' as Doors))
              .find((s) => !s.seen && s.why === 'hidden');
            const name = sight && !sight.seen && sight.by;
            if (name) hiders.set(name, (hiders.get(name) ?? 0) + 1);
          }
          // An edge that two rooms share belongs to both: either may be named.
          const most = Math.max(...hiders.values());
          const isRoom = scene.floor.rooms.some(({ id }) => id === by);
          if (!isRoom) expect(hiders.get(by!) ?? 0).toBeGreaterThanOrEqual(0.97 * most - 1);
        }
      }
    },
    30_000,
  );
});

describe('sources', () => {
  const placesOf = (source: Source, top: number, count: number, seed: number) => {
    const random = createRandom(seed);
    return Array.from({ length: count }, () => {
      const [r, a] = [source.radius * Math.sqrt(random.next()), random.between(0, 2 * Math.PI)];
      const h = random.between(source.base, Math.max(source.base, Math.min(source.top, top)));
      return { x: source.at[0] + r * Math.cos(a), y: source.at[1] + r * Math.sin(a), h };
    });
  };

  test.each(SEEDS)('are seen, kept off and masked, random floor %i', (seed) => {
    const file = randomFloor(seed);
    const floor = resolveFloor(file);
    const coverage = createCoverage(floor);
    const { sources } = judgeCoverage(coverage);
    floor.sources.forEach((source, index) => {
      tally.sources++;
      const { seenBy, near, masks } = sources[index]!;
      expect(masks.map(({ detector }) => detector)).toEqual(seenBy);
      for (const [d, lens] of coverage.scene.lenses.entries()) {
        const places = placesOf(source, lens.h - 1e-6, 300, seed);
        const seen = places.filter((at) => MOTIONS.some((m) => traceSight(coverage.scene, d, at, m, 'stated').seen));
        // Both sample the body: a sliver that one meets and the other misses is small.
        if (!seenBy.includes(floor.detectors[d]!.id)) expect(seen.length).toBeLessThan(0.03 * places.length);
      }
      const keepOff = { 'air outlet': 1.5, heater: 2, lamp: 1, fan: 0, machine: 0, other: 0 }[source.kind];
      const distances = coverage.scene.lenses.map((lens, d) =>
        isUsed(floor, d) ? Math.hypot(source.at[0] - lens.x, source.at[1] - lens.y) : Infinity,
      );
      expect(near).toBe(Math.min(...distances) < keepOff);
      for (const mask of masks) {
        tally.masks++;
        const d = floor.detectors.findIndex(({ id }) => id === mask.detector);
        const { from, to, inner, outer } = mask;
        for (const angle of [from, to, inner, outer]) expect(Number.isInteger(angle)).toBe(true);
        const masked = resolveFloor({
          ...file,
          detectors: file.detectors.map((each, k) =>
            k === d ? { ...each, masks: [...(each.masks ?? []), { from, to, inner, outer }] } : each,
          ),
        });
        expect(check(masked).sources[index]!.seenBy).not.toContain(mask.detector);
        // No wider than it must be: two degrees less at either end leave some of the disc outside, as seen from above.
        const lens = coverage.scene.lenses[d]!;
        const half = (Math.asin(Math.min(1, source.radius / distances[d]!)) * 180) / Math.PI;
        const span = (to - from + 360) % 360;
        if (span > 0) expect(span).toBeLessThanOrEqual(2 * half + 2 + 1e-6);
        else expect(distances[d]!).toBeLessThanOrEqual(source.radius + 1e-9);
        const nadir = (Math.atan2(distances[d]! + source.radius, lens.h - source.top) * 180) / Math.PI;
        expect(outer).toBeLessThanOrEqual(source.top >= lens.h ? 90 : Math.ceil(nadir) + 1e-9);
      }
    });
  });
});
