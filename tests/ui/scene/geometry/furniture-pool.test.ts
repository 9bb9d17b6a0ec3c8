import type { InterleavedBufferAttribute } from 'three';
import { expect, test } from 'vitest';
import { type Furniture, resolveFloor } from '../../../../src/core/floor/index.ts';
import { FurniturePool, type PoolStyle } from '../../../../src/ui/scene/geometry/furniture-pool.ts';
import { frameFloor } from '../../../../src/ui/scene/local-frame.ts';
import { createLineMaterial } from '../../../../src/ui/scene/materials/line-material.ts';
import { createSharedUniforms } from '../../../../src/ui/scene/materials/shared-uniforms.ts';
import { generateFloor } from '../../../models/generate-floor.ts';

const floor = resolveFloor(generateFloor({ areaM2: 500, seed: 3 }));
const pieces = floor.furniture;
const style: PoolStyle = { ceiling: 2.8, plane: 0.8, frame: frameFloor(floor) };
const createPool = () => new FurniturePool(createLineMaterial(createSharedUniforms()), 0);

/** Everything a pool draws, corner by corner and line by line, in an order of its own. */
function listDrawn(pool: FurniturePool): string[] {
  const faces = [pool.solid, pool.glass].flatMap(({ geometry }) => {
    const at = geometry.getAttribute('position');
    if (at === undefined) return [];
    return Array.from({ length: geometry.drawRange.count / 3 }, (_, t) =>
      [0, 1, 2].map((k) => [at.getX(3 * t + k), at.getY(3 * t + k), at.getZ(3 * t + k)]).join(' '),
    );
  });
  const lines = [pool.tops, pool.sides].flatMap(({ batch }) => {
    const ends = ['a', 'b'].map((name) => batch.mesh.geometry.getAttribute(name) as InterleavedBufferAttribute);
    return Array.from({ length: batch.length }, (_, i) =>
      ends.map((end) => [end.getX(i), end.getY(i), end.getZ(i)]).join(' to '),
    );
  });
  return [...faces, ...lines].filter((each) => /[1-9]/u.test(each)).sort();
}

const shift = (piece: Furniture, by: number): Furniture => ({
  ...piece,
  outline: piece.outline.map(([x, y]) => [x + by, y] as const),
});

function drawAnew(list: readonly Furniture[]): string[] {
  const pool = createPool();
  pool.sync(list, style);
  return listDrawn(pool);
}

test('of many pieces one that is moved is drawn anew, alone', () => {
  const pool = createPool();
  expect(pieces.length).toBeGreaterThan(100);
  expect(pool.sync(pieces, style)).toBe(pieces.length);
  expect(pool.sync(pieces, style)).toBe(0);
  const moved = pieces.map((piece, i) => (i === 7 ? shift(piece, 0.5) : piece));
  expect(pool.sync(moved, style)).toBe(1);
  expect(listDrawn(pool)).toEqual(drawAnew(moved));
  expect(listDrawn(pool)).not.toEqual(drawAnew(pieces));
});

test('pieces that come, go, grow corners and change order are drawn as if for the first time', () => {
  const pool = createPool();
  pool.sync(pieces, style);
  const round = Array.from({ length: 24 }, (_, i): readonly [number, number] => [
    3 + Math.cos((i * Math.PI) / 12),
    3 + Math.sin((i * Math.PI) / 12),
  ]);
  const changed = [
    ...pieces.slice(20, 60).reverse(),
    { ...(pieces[0] as Furniture), outline: round },
    ...pieces.slice(61),
  ];
  pool.sync(changed, style);
  expect(listDrawn(pool)).toEqual(drawAnew(changed));
  pool.sync([], style);
  expect(listDrawn(pool)).toEqual([]);
  expect(pool.sync(pieces, style)).toBe(pieces.length);
  expect(listDrawn(pool)).toEqual(drawAnew(pieces));
});

test('another plane or another ceiling draws everything anew', () => {
  const pool = createPool();
  pool.sync(pieces, style);
  expect(pool.sync(pieces, { ...style, plane: 0 })).toBe(pieces.length);
  expect(pool.sync(pieces, { ...style, plane: 0, ceiling: 4 })).toBe(pieces.length);
});
