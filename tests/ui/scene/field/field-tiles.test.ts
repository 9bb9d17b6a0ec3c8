import { expect, test } from 'vitest';
import { BLIND, createCoverage } from '../../../../src/core/coverage/index.ts';
import { resolveFloor } from '../../../../src/core/floor/index.ts';
import { computeSignedArea } from '../../../../src/core/geometry/polygon.ts';
import { writeCellWords } from '../../../../src/ui/scene/field/cell-words.ts';
import {
  cutFieldTiles,
  type FieldTiles,
  gatherTiles,
  markBusyTiles,
} from '../../../../src/ui/scene/field/field-tiles.ts';
import { gridOfWords } from '../../../../src/ui/scene/field/plane-texture.ts';
import { tagRooms } from '../../../../src/ui/scene/field/room-tags.ts';
import { frameFloor } from '../../../../src/ui/scene/local-frame.ts';
import { generateFloor } from '../../../models/generate-floor.ts';

const floor = resolveFloor(generateFloor({ areaM2: 1_000, seed: 5, detectors: 12, diameter: 9 }));
const coverage = createCoverage(floor);
const frame = frameFloor(floor);
const grid = gridOfWords(coverage, 8_192);
const tags = tagRooms(floor);
const tiles = cutFieldTiles(floor, tags, grid, frame);

function areaOf({ xy }: FieldTiles, index: Uint32Array, count: number): number {
  let twice = 0;
  for (let t = 0; t < count; t += 3) {
    const [a, b, c] = [2 * index[t]!, 2 * index[t + 1]!, 2 * index[t + 2]!];
    const turn = (xy[b]! - xy[a]!) * (xy[c + 1]! - xy[a + 1]!) - (xy[b + 1]! - xy[a + 1]!) * (xy[c]! - xy[a]!);
    expect(turn).toBeGreaterThan(-1e-4);
    twice += turn;
  }
  return twice / 2;
}

test('all tiles together are the rooms', () => {
  const rooms = floor.rooms.reduce(
    (sum, room) =>
      room.holes.reduce(
        (rest, hole) => rest - Math.abs(computeSignedArea(hole)),
        sum + Math.abs(computeSignedArea(room.outline)),
      ),
    0,
  );
  expect(rooms).toBeGreaterThan(900);
  expect(areaOf(tiles, tiles.index, tiles.index.length)).toBeCloseTo(rooms, 1);
});

test('every triangle lies in its tile', () => {
  const pitch = tiles.size * grid.cell;
  let triangles = 0;
  for (let tile = 0; tile + 1 < tiles.starts.length; tile++) {
    const x0 = grid.x0 - frame.x + (tile % tiles.across) * pitch;
    const y0 = grid.y0 - frame.y + Math.floor(tile / tiles.across) * pitch;
    for (let k = tiles.starts[tile]!; k < tiles.starts[tile + 1]!; k++) {
      const [x, y] = [tiles.xy[2 * tiles.index[k]!]!, tiles.xy[2 * tiles.index[k]! + 1]!];
      expect(x >= x0 - 1e-4 && x <= x0 + pitch + 1e-4 && y >= y0 - 1e-4 && y <= y0 + pitch + 1e-4).toBe(true);
      triangles++;
    }
  }
  expect(triangles).toBeGreaterThan(1_000);
});

test('every blind cell lies in a tile that is drawn, and seen ground is left out', () => {
  const words = new Uint32Array(grid.nx * grid.ny);
  const whole = { i0: 0, j0: 0, i1: grid.nx, j1: grid.ny };
  const room = coverage.grid.room;
  writeCellWords(
    words,
    { nx: grid.nx, ny: grid.ny, across: grid.nx, step: 1, room, tags, headings: false, field: coverage.seated },
    whole,
  );
  const busy = new Uint8Array(tiles.across * tiles.down);
  markBusyTiles(words, grid, tiles, whole, busy);
  let blind = 0;
  coverage.seated.state.forEach((state, k) => {
    if (state !== BLIND) return;
    blind++;
    const [i, j] = [k % grid.nx, Math.floor(k / grid.nx)];
    expect(busy[Math.floor(j / tiles.size) * tiles.across + Math.floor(i / tiles.size)]).toBe(1);
  });
  expect(blind).toBeGreaterThan(1_000);
  const into = new Uint32Array(tiles.index.length);
  const count = gatherTiles(tiles, busy, null, into);
  expect(count).toBeGreaterThan(0);
  expect(count).toBeLessThan(tiles.index.length);
  expect(gatherTiles(tiles, busy, new Uint8Array(busy.length).fill(1), into)).toBe(tiles.index.length);
});
