/** Masks: they hide all they should, no side could be a degree narrower, and what they cost is what the check finds. */
import { describe, expect, test } from 'vitest';
import { check, createCoverage } from '../../../../src/core/coverage/index.ts';
import { proposeMask } from '../../../../src/core/coverage/sources.ts';
import { type Floor, resolveFloor, type Source } from '../../../../src/core/floor/index.ts';
import { boundPlaces, type MaskAngles, widenMask } from '../../../../src/core/planning/masks/mask-angles.ts';
import { listMaskSubjects, type MaskPlan, planMasks } from '../../../../src/core/planning/masks/plan-masks.ts';
import { compileScene, isMasked, type Lens, traceSight } from '../../../../src/core/sight/index.ts';
import { createRandom } from '../../../models/random.ts';
import { randomFloor } from '../../../models/random-floor.ts';
import { type Change, soundFile } from '../../coverage/finding-cases.ts';
import { readFloor } from '../../sight/build-floor.ts';

function withMasks(floor: Floor, plan: MaskPlan, pick: 'masks' | 'smallest' = 'masks'): Floor {
  const detectors = floor.detectors.map((detector) => {
    const added = plan.parts.filter((part) => part.detector === detector.id).flatMap((part) => part[pick]);
    return added.length === 0 ? detector : { ...detector, masks: [...detector.masks, ...added] };
  });
  return { ...floor, detectors };
}

/** Places all over the skin and the inside of a source, below the lens. */
function* placesOf(source: Pick<Source, 'at' | 'radius' | 'base' | 'top'>, lens: Pick<Lens, 'x' | 'y' | 'h'>) {
  const top = Math.min(source.top, lens.h - 1e-6);
  if (Math.hypot(source.at[0] - lens.x, source.at[1] - lens.y) <= source.radius)
    yield { x: lens.x, y: lens.y, h: source.base };
  for (let level = 0; level <= 4; level++) {
    const h = source.base + (level / 4) * (top - source.base);
    for (const part of [0, 0.5, 0.9999]) {
      for (let k = 0; k < 90; k++) {
        const a = (k * Math.PI) / 45;
        const r = part * source.radius;
        yield { x: source.at[0] + r * Math.cos(a), y: source.at[1] + r * Math.sin(a), h };
      }
    }
  }
}
const masked = (lens: Lens, mask: MaskAngles, at: { x: number; y: number; h: number }) =>
  isMasked({ ...lens, masks: [mask] }, at);

/** The mask with one side narrower by a degree; null where nothing would be left of it. */
function narrower(mask: MaskAngles, side: keyof MaskAngles, by = 1): MaskAngles | null {
  const span = (((mask.to - mask.from) % 360) + 360) % 360;
  if ((side === 'from' || side === 'to') && (span === 0 || span <= 1)) return null;
  if ((side === 'inner' || side === 'outer') && mask.outer - mask.inner <= 1) return null;
  return { ...mask, [side]: mask[side] + (side === 'from' || side === 'inner' ? by : -by) };
}
const SIDES = ['from', 'to', 'inner', 'outer'] as const;

test('the smallest mask of a source holds all of it, and a degree less on any side does not', () => {
  const random = createRandom(20);
  let checked = 0;
  for (let run = 0; run < 150; run++) {
    const lens = {
      x: 0,
      y: 0,
      h: random.between(2.2, 4),
      turn: random.between(0, 360),
      masks: [],
      removed: false,
      room: 0,
      ranges: { minor: null, tangential: null, radial: null },
    } satisfies Lens;
    const base = random.between(0, 1.8);
    const source = {
      at: [random.between(-4, 4), random.between(-4, 4)] as const,
      radius: random.between(0.05, 0.6),
      base,
      top: base + random.between(0.05, 0.3),
    };
    const mask = proposeMask(lens, source);
    const places = [...placesOf(source, lens)];
    expect(places.every((at) => masked(lens, mask, at))).toBe(true);
    for (const side of SIDES) {
      const less = narrower(mask, side);
      if (less === null) continue;
      checked += 1;
      // Sampled places stray from the true edge by less than a twentieth of a degree here.
      const grown = [...placesOf({ ...source, radius: source.radius + 0.003 }, lens)];
      expect(
        grown.some((at) => !masked(lens, less, at)),
        `${side} of ${JSON.stringify(mask)}`,
      ).toBe(true);
    }
  }
  expect(checked).toBeGreaterThan(400);
});

test('the smallest masks of some places hold every one, and a degree less on any side does not', () => {
  const random = createRandom(5);
  let several = 0;
  for (let run = 0; run < 200; run++) {
    const lens = {
      x: 1,
      y: 2,
      h: 2.8,
      turn: random.between(0, 360),
      masks: [],
      removed: false,
      room: 0,
      ranges: { minor: null, tangential: null, radial: null },
    } satisfies Lens;
    const centres = Array.from(
      { length: random.whole(1, 3) },
      () => [random.between(-6, 8), random.between(-6, 8)] as const,
    );
    const places = centres.flatMap(([cx, cy]) =>
      Array.from({ length: 12 }, () => ({
        x: cx + random.between(-0.5, 0.5),
        y: cy + random.between(-0.5, 0.5),
        h: random.pick([0.8, 1.2]),
      })),
    );
    const masks = boundPlaces(lens, places);
    several += masks.length > 1 ? 1 : 0;
    const isHidden = (all: readonly MaskAngles[]) => places.every((at) => isMasked({ ...lens, masks: [...all] }, at));
    expect(isHidden(masks)).toBe(true);
    masks.forEach((mask, k) => {
      for (const side of SIDES) {
        const less = narrower(mask, side, 1.002);
        if (less === null || mask.to - mask.from === 360) continue;
        // Rounded outwards by a thousandth of a degree at most beyond the last place.
        const others = masks.filter((_, other) => other !== k);
        const own = places.filter((at) => masked(lens, mask, at) && !others.some((each) => masked(lens, each, at)));
        expect(
          own.every((at) => masked(lens, less, at)),
          `${side} of ${JSON.stringify(mask)}`,
        ).toBe(false);
      }
    });
  }
  expect(several).toBeGreaterThan(50);
});

describe('edges of masks', () => {
  const lens = { x: 0, y: 0, h: 2.8, turn: 0 };
  test('nothing to hide needs none; the foot needs a ring; all around is the whole ring', () => {
    expect(boundPlaces(lens, [])).toEqual([]);
    expect(boundPlaces(lens, [{ x: 0, y: 0, h: 0.8 }])).toEqual([{ from: 0, to: 360, inner: 0, outer: 1 }]);
    const round = Array.from({ length: 360 }, (_, k) => ({
      x: 2 * Math.cos((k * Math.PI) / 180),
      y: 2 * Math.sin((k * Math.PI) / 180),
      h: 0.8,
    }));
    expect(boundPlaces(lens, round)).toEqual([{ from: 0, to: 360, inner: 44, outer: 46 }]);
  });

  test('a mask through 0° stays one', () => {
    const places = [-5, 5].map((a) => ({
      x: 3 * Math.cos((a * Math.PI) / 180),
      y: 3 * Math.sin((a * Math.PI) / 180),
      h: 0.8,
    }));
    const [mask, ...others] = boundPlaces(lens, places);
    expect(others).toEqual([]);
    expect(mask).toMatchObject({ from: 354, to: 6 });
    expect(widenMask(mask!)).toMatchObject({ from: 352, to: 368 });
    expect(widenMask({ from: 0, to: 358, inner: 0, outer: 89 })).toEqual({ from: 0, to: 360, inner: 0, outer: 90 });
  });
});

const heater: Change = (file) => {
  file.sources = [{ id: 'Q', name: 'Heater', kind: 'heater', at: [7, 3], radius: 0.3, base: 0.1, top: 0.7 }];
};
const plan = (subject: Parameters<typeof planMasks>[1], ...changes: readonly Change[]) => {
  const file = soundFile();
  for (const change of changes) change(file);
  const floor = readFloor(file);
  return { floor, plans: planMasks(floor, subject) };
};

describe('a plan for a source', () => {
  test('hides it by the plain sight line from all of its places', () => {
    const { floor, plans } = plan(null, heater);
    expect(plans).toHaveLength(1);
    expect(plans[0]).toMatchObject({ subject: { kind: 'source', id: 'Q' }, hides: true });
    for (const pick of ['masks', 'smallest'] as const) {
      const scene = compileScene(withMasks(floor, plans[0]!, pick));
      const seen = (state: typeof scene) =>
        [...placesOf(floor.sources[0]!, state.lenses[0]!)].filter((at) =>
          (['minor', 'tangential', 'radial'] as const).some(
            (motion) => traceSight(state, 0, at, motion, 'stated').seen,
          ),
        ).length;
      expect(seen(compileScene(floor))).toBeGreaterThan(100);
      expect(seen(scene)).toBe(0);
    }
  });

  test('costs what the check then finds, in square metres and workplaces', () => {
    const seat: Change = (file) => {
      file.workplaces!.push({ id: 'W2', name: 'Desk 2', at: [7, 3.4] });
    };
    const { floor, plans } = plan(null, heater, seat);
    const { cost, parts, remarks } = plans[0]!;
    const [before, after] = [check(floor), check(withMasks(floor, plans[0]!))];
    expect(cost.seatedM2).toBeCloseTo(before.planes.seated.seenM2 - after.planes.seated.seenM2, 6);
    expect(cost.walkingM2).toBeCloseTo(before.planes.walking.seenM2 - after.planes.walking.seenM2, 6);
    expect(cost.seatedM2).toBeGreaterThan(0);
    const lost = after.workplaces.filter(
      ({ id, met }) => !met && before.workplaces.find((each) => each.id === id)?.met,
    );
    expect(cost.workplaces).toEqual(lost.map(({ id }) => id));
    expect(cost.workplaces).toEqual(['W2']);
    expect(remarks.join(' ')).toContain('costs needs that are met');
    expect(parts[0]!.cost).toEqual(cost);
  });

  test('too near, it says that a mask does not keep warm air off, and moves no nearer than is needed', () => {
    const near: Change = (file) => {
      heater(file);
      file.sources![0]!.at = [5.5, 3];
    };
    const { floor, plans } = plan(null, near);
    expect(plans[0]!.remarks.join(' ')).toContain('D1 hangs 1.50 m from it; 2.00 m is needed');
    for (const alternative of plans[0]!.parts[0]!.alternatives) {
      if (alternative.kind !== 'move') continue;
      const [x, y] = alternative.at;
      expect(Math.hypot(x - 5.5, y - 3)).toBeGreaterThanOrEqual(2 - 1e-9);
      const moved = { ...floor, detectors: [{ ...floor.detectors[0]!, at: alternative.at }] };
      const result = check(moved);
      expect(result.sources[0]!.seenBy).toEqual([]);
      expect(result.workplacesMet).toEqual([1, 1]);
    }
  });

  test('what is locked is masked, not moved', () => {
    const locked: Change = (file) => {
      file.detectors[0]!.locked = true;
    };
    const { plans } = plan(null, heater, locked);
    expect(plans[0]!.parts[0]!.alternatives).toEqual([]);
    expect(plans[0]!.hides).toBe(true);
  });

  test('of a thing that is not there is empty', () => {
    const { plans } = plan({ kind: 'source', id: 'nothing' as never });
    expect(plans[0]).toMatchObject({ parts: [], hides: true });
  });
});

describe('a plan for a zone and for spill', () => {
  const nobody: Change = (file) => {
    file.zones = [
      {
        id: 'Z',
        name: 'Way',
        outline: [
          [6, 4],
          [8, 4],
          [8, 6],
          [6, 6],
        ],
        need: 'nobody',
      },
    ];
  };
  test('makes the zone dark', () => {
    const { floor, plans } = plan(null, nobody);
    expect(plans.map(({ subject }) => subject)).toEqual([{ kind: 'zone', id: 'Z' }]);
    expect(check(floor).zones[0]).toMatchObject({ met: false });
    for (const pick of ['masks', 'smallest'] as const)
      expect(check(withMasks(floor, plans[0]!, pick)).zones[0]).toMatchObject({ share: 0, met: true });
  });

  test('keeps a group out of the next room', () => {
    const next: Change = (file) => {
      file.rooms.push({
        id: 'R2',
        name: 'Next',
        outline: [
          [8, 0],
          [14, 0],
          [14, 6],
          [8, 6],
        ],
        ceiling: 2.8,
      });
      file.openings!.push({ id: 'P', kind: 'passage', from: [8, 1], to: [8, 5] });
    };
    const { floor, plans } = plan(null, next);
    expect(plans.map(({ subject }) => subject)).toEqual([{ kind: 'spill', group: 'G', room: 'R2' }]);
    expect(check(floor).spill[0]!.areaM2).toBeGreaterThan(1);
    expect(check(withMasks(floor, plans[0]!, 'smallest')).spill).toEqual([]);
    expect(plans[0]).toMatchObject({ hides: true });
  });

  test('a detector that hangs in the room it does not serve is told to join another group', () => {
    const wrong: Change = (file) => {
      file.rooms.push({
        id: 'R2',
        name: 'Next',
        outline: [
          [8, 0],
          [14, 0],
          [14, 6],
          [8, 6],
        ],
        ceiling: 2.8,
      });
      file.detectors.push({ id: 'D2', name: 'D2', type: 'T', at: [11, 3] });
      file.groups![0]!.extensions = ['D2'];
    };
    expect(plan(null, wrong).plans[0]!.remarks.join()).toContain('D2 hangs in this room');
  });
});

test('on odd floors every plan hides its subject, and asking changes no verdict', () => {
  const kinds = new Map<string, number>();
  for (let seed = 1; seed <= 14; seed++) {
    const floor = resolveFloor(randomFloor(seed));
    const before = check(floor);
    const subjects = listMaskSubjects(createCoverage(floor)).slice(0, 3);
    for (const subject of subjects) {
      const [found] = planMasks(floor, subject);
      expect(found!.hides, `seed ${seed} ${JSON.stringify(subject)}`).toBe(true);
      const after = check(withMasks(floor, found!));
      if (subject.kind === 'source') expect(after.sources.find(({ id }) => id === subject.id)!.seenBy).toEqual([]);
      if (subject.kind === 'zone') expect(after.zones.find(({ id }) => id === subject.id)!.share).toBe(0);
      if (subject.kind === 'spill')
        expect(after.spill.some(({ group, room }) => group === subject.group && room === subject.room)).toBe(false);
      kinds.set(subject.kind, (kinds.get(subject.kind) ?? 0) + 1);
    }
    expect(check(floor)).toEqual(before);
  }
  expect([...kinds.keys()].sort()).toEqual(['source', 'spill', 'zone']);
});
