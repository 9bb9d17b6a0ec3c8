import { beforeAll, describe, expect, test } from 'vitest';
import { createCoverage } from '../../src/core/coverage/index.ts';
import { validateFloor } from '../../src/core/floor/index.ts';
import { countCells, traceSight } from '../../src/core/sight/index.ts';
import { createRandom } from '../models/random.ts';
import { generateBenchFloor } from './bench-floors.ts';
import { buildFloorMesh } from './floor-mesh.ts';
import { dragDetector, dragPiece, dragTop } from './moves.ts';
import { createBvhCaster, createRapierCaster, type RayCaster } from './peers.ts';
import { fillBytes, listSpans, type SightLayer, type Spans, writeBytes } from './spans.ts';
import { quantile, takeTurns } from './timing.ts';
import { listPanels } from './wall-panels.ts';

const { floor } = generateBenchFloor(250);
const coverage = createCoverage(floor);
const layers = coverage.layers.flatMap(({ minor, tangential }, index): SightLayer[] =>
  [minor, tangential].flatMap((layer) =>
    layer ? [{ lens: coverage.scene.lenses[index]!, h: 0.8, seen: layer.seen, inRange: layer.inRange }] : [],
  ),
);

describe('the sight lines that are counted', () => {
  const spans: Spans = listSpans(layers);

  test('are the cells in range and in a room, layer by layer', () => {
    expect(layers).toHaveLength(6);
    layers.forEach(({ inRange }, index) => {
      let lines = 0;
      for (let span = 0; span < spans.count; span++) {
        if (spans.layer[span] === index) lines += spans.end[span]! - spans.start[span]!;
      }
      expect(lines).toBeGreaterThan(10_000);
      expect(lines).toBe(countCells(inRange));
    });
    expect(spans.sightLines).toBe(layers.reduce((sum, { inRange }) => sum + countCells(inRange), 0));
  });

  test.each([
    ['in a loop', writeBytes],
    ['with fill', fillBytes],
  ])('are a byte each, written once %s', (_, write) => {
    const bytes = new Uint8Array(spans.bytes);
    write(spans, bytes, 1);
    expect(bytes.reduce((sum, byte) => sum + byte, 0)).toBe(spans.sightLines);
  });
});

describe('the mesh', () => {
  const casters: RayCaster[] = [];
  beforeAll(async () => {
    const mesh = buildFloorMesh(floor);
    casters.push(createBvhCaster(mesh), await createRapierCaster(mesh));
  });

  test('keeps a wall between two rooms once, and cuts open doors out of it', () => {
    const inWall = listPanels(floor, 3).filter(({ a, b }) => a[1] === 8.9 && b[1] === 8.9);
    const open = floor.openings.filter(({ kind, state }) => kind === 'door' && state === 'open');
    expect(open.length).toBeGreaterThan(0);
    const length = (base: number) =>
      inWall
        .filter((panel) => panel.base <= base && base < panel.top)
        .reduce((sum, { a, b }) => sum + Math.abs(b[0] - a[0]), 0);
    const doors = open.reduce((sum, { from, to }) => sum + Math.abs(to[0] - from[0]), 0);
    expect(length(2.5)).toBeCloseTo(20, 6);
    expect(length(1)).toBeCloseTo(20 - doors, 6);
  });

  test.each([0, 1])('lets ray caster %i judge as the plain sight line does', (index) => {
    const caster = casters[index]!;
    const random = createRandom(5);
    const seen = { both: 0, neither: 0, one: 0 };
    while (seen.both + seen.neither + seen.one < 1_000) {
      const detector = random.whole(0, floor.detectors.length - 1);
      const target = { x: random.between(0, 20), y: random.between(0, 12.5), h: 0.8 };
      const sight = traceSight(coverage.scene, detector, target, 'minor', 'stated');
      if (!sight.seen && sight.why !== 'hidden') continue;
      const isClear = caster.isClear(coverage.scene.lenses[detector]!, target);
      if (isClear === sight.seen) seen[isClear ? 'both' : 'neither']++;
      else seen.one++;
    }
    expect(seen.one).toBe(0);
    expect(seen.both).toBeGreaterThan(300);
    expect(seen.neither).toBeGreaterThan(300);
  });

  test('counts along a row what it finds clear one by one', () => {
    const lens = coverage.scene.lenses[0]!;
    for (const caster of casters) {
      const clear = Array.from({ length: 100 }, (_, k) => caster.isClear(lens, { x: 0.05 + k * 0.1, y: 5.05, h: 1.2 }));
      const count = clear.filter(Boolean).length;
      expect(count).toBeGreaterThan(0);
      expect(count).toBeLessThan(100);
      expect(caster.countClear(lens, 0.05, 0.1, 100, 5.05, 1.2)).toBe(count);
    }
  });
});

describe('what is dragged', () => {
  test('stays a floor without faults, a step from the floor before', () => {
    const shelf = floor.furniture.findIndex(({ kind }) => kind === 'shelving');
    const drags = [dragDetector(floor, 1, 50), dragPiece(floor, shelf, 50), dragTop(floor, shelf, 50)];
    for (const steps of drags) {
      expect(new Set(steps).size).toBe(50);
      for (const step of steps) expect(validateFloor(structuredClone(step)).ok).toBe(true);
    }
    drags[0]!.reduce((before, step) => {
      const [ax, ay] = before.detectors[1]!.at;
      const [bx, by] = step.detectors[1]!.at;
      expect(Math.hypot(bx - ax, by - ay)).toBeCloseTo(0.1, 9);
      return step;
    }, floor);
  });
});

describe('timing', () => {
  test('takes the middle of an odd number of samples, and lies between the two middle ones of an even number', () => {
    expect(quantile([5, 1, 3], 0.5)).toBe(3);
    expect(quantile([4, 1, 3, 2], 0.5)).toBe(2.5);
    expect(quantile([10, 20], 0.95)).toBeCloseTo(19.5, 12);
    expect(() => quantile([], 0.5)).toThrow('no sample');
  });

  test('lets everybody do the work in turns and divides by the units done', () => {
    let now = 0;
    const order: string[] = [];
    const worker = (name: string, took: number, units: number) => ({
      name,
      run() {
        order.push(name);
        now += took;
        return units;
      },
    });
    const clock = { name: 'test', now: () => now };
    const timings = takeTurns([worker('a', 6, 2), worker('b', 5, 1)], { clock, rounds: 7, sampleMs: 0, warmMs: 0 });
    expect(timings.get('a')).toMatchObject({ median: 3e6, rounds: 7 });
    expect(timings.get('b')).toMatchObject({ median: 5e6, rounds: 7 });
    expect(order.slice(-14).join('')).toBe('ab'.repeat(7));
  });
});
