import { addOpening, type FloorDraft, type XY } from './floor-draft.ts';
import type { Random } from './random.ts';

/**
 * Rooms on a grid of three by three tiles of uneven size: tiles are joined to bars, L and U shapes or a ring about the
 * middle, some are left out, and the whole is turned and moved.
 */
export interface RandomRooms {
  /** A point in some tile of some room, at least 5 mm from the tile's edges. */
  pointInside(random: Random): XY;
}

type Tile = readonly [column: number, row: number];

/** Which tiles make a room, as digits of a 3 × 3 picture read from the top; 0 is left out. */
const LAYOUTS: readonly string[] = [
  '112 132 144', // Z-like joins
  '111 121 111', // a ring about a room
  '111 101 111', // a ring about a shaft
  '100 100 122', // L beside a bar
  '101 121 111', // U with a bay
  '123 123 123', // three bars
  '110 112 002', // two corners
  '111 222 333',
  '122 112 311', // interlocked
  '111 111 111',
  '120 122 111',
];

const BOTTOM_UP = 2;

function readTiles(layout: string): Map<string, Tile[]> {
  const rooms = new Map<string, Tile[]>();
  layout.split(' ').forEach((line, fromTop) => {
    [...line].forEach((digit, column) => {
      if (digit !== '0') rooms.set(digit, [...(rooms.get(digit) ?? []), [column, BOTTOM_UP - fromTop]]);
    });
  });
  return rooms;
}

/** Closed walks along the border of a set of tiles, corners as grid points, the tiles on the left hand. */
function traceBorder(tiles: readonly Tile[]): Tile[][] {
  const has = (column: number, row: number): boolean => tiles.some(([c, r]) => c === column && r === row);
  const next = new Map<string, Tile[]>();
  const put = (from: Tile, to: Tile): void => {
    next.set(from.join(), [...(next.get(from.join()) ?? []), to]);
  };
  for (const [c, r] of tiles) {
    if (!has(c, r - 1)) put([c, r], [c + 1, r]);
    if (!has(c + 1, r)) put([c + 1, r], [c + 1, r + 1]);
    if (!has(c, r + 1)) put([c + 1, r + 1], [c, r + 1]);
    if (!has(c - 1, r)) put([c, r + 1], [c, r]);
  }
  const rings: Tile[][] = [];
  for (const key of next.keys()) {
    const ring: Tile[] = [];
    let at = key;
    for (;;) {
      const to = next.get(at)?.pop();
      if (to === undefined) break;
      ring.push(to);
      at = to.join();
    }
    if (ring.length > 0) rings.push(ring);
  }
  return rings;
}

const signedArea = (ring: readonly XY[]): number =>
  ring.reduce((sum, [x, y], index) => {
    const [nx, ny] = ring[(index + 1) % ring.length] ?? [0, 0];
    return sum + (x * ny - nx * y) / 2;
  }, 0);

/** Drops the grid points that lie in the middle of a straight wall. */
function dropStraight(ring: readonly Tile[]): Tile[] {
  return ring.filter(([c, r], index) => {
    const [pc, pr] = ring[(index + ring.length - 1) % ring.length] ?? [0, 0];
    const [nc, nr] = ring[(index + 1) % ring.length] ?? [0, 0];
    return (c - pc) * (nr - r) !== (r - pr) * (nc - c);
  });
}

export function addRandomRooms(draft: FloorDraft, random: Random): RandomRooms {
  const cuts = (): readonly [number, number, number, number] => {
    const whole = random.chance(0.3);
    const step = (): number => (whole ? random.whole(2, 4) : random.between(1.1, 3.4));
    const [a, b, c] = [step(), step(), step()];
    return [0, a, a + b, a + b + c];
  };
  const [xs, ys] = [cuts(), cuts()];
  const turn = random.pick([0, 0, random.between(0, 360)]) * (Math.PI / 180);
  const move: XY = random.pick([[0, 0] as XY, [random.between(-80, 80), random.between(-80, 80)] as XY]);
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const place = (x: number, y: number): XY => [move[0] + x * c - y * s, move[1] + x * s + y * c];
  const corner = ([column, row]: Tile): XY => place(xs[column] ?? 0, ys[row] ?? 0);

  const rooms = readTiles(random.pick(LAYOUTS));
  const straight = random.chance(0.6);
  const baseCeiling = random.between(2.4, 3.6);
  for (const [digit, tiles] of rooms) {
    const rings = traceBorder(tiles).map((ring) => (straight ? dropStraight(ring) : ring).map(corner));
    const outline = rings.find((ring) => signedArea(ring) > 0);
    if (outline === undefined) throw new Error(`room ${digit} has no outline`);
    const holes = rings.filter((ring) => ring !== outline);
    draft.rooms.push({
      id: `R${digit}`,
      name: `Room ${digit}`,
      outline: random.chance(0.5) ? outline : [...outline].reverse(),
      ...(holes.length > 0 ? { holes } : {}),
      ceiling: random.chance(0.7) ? baseCeiling : baseCeiling + random.between(0, 0.5),
      ceilingFrom: random.pick(['measured', 'drawn', 'assumed']),
    });
  }
  addOpenings(draft, random, xs, ys, place);

  const tiles = [...rooms.values()].flat();
  return {
    pointInside: (source) => {
      const [column, row] = source.pick(tiles);
      const inset = 0.005;
      const x = source.between((xs[column] ?? 0) + inset, (xs[column + 1] ?? 0) - inset);
      const y = source.between((ys[row] ?? 0) + inset, (ys[row + 1] ?? 0) - inset);
      return place(x, y);
    },
  };
}

/** Openings of every kind in grid lines, where there may be a wall or not. */
function addOpenings(
  draft: FloorDraft,
  random: Random,
  xs: readonly number[],
  ys: readonly number[],
  place: (x: number, y: number) => XY,
): void {
  for (let index = random.whole(0, 7); index > 0; index -= 1) {
    const kind = random.pick(['door', 'door', 'door', 'window', 'passage'] as const);
    const along = random.chance(0.5);
    const line = random.pick(along ? ys : xs);
    const tile = random.whole(0, 2);
    const [lo, hi] = along ? [xs[tile] ?? 0, xs[tile + 1] ?? 1] : [ys[tile] ?? 0, ys[tile + 1] ?? 1];
    const width = random.between(0.3, 1);
    const from = lo + random.between(0, hi - lo - width);
    const off = random.pick([0, 0, random.between(-0.08, 0.08)]);
    const end = (distance: number): XY => (along ? place(distance, line + off) : place(line + off, distance));
    const sill = random.pick([0, 0, random.between(0.2, 1)]);
    const head = random.chance(0.5) ? { head: random.between(1.6, 2.6) } : {};
    addOpening(draft, kind, end(from), end(from + width), {
      depth: random.pick([0.4, 0.2, random.between(0.2, 0.6)]),
      sill,
      ...head,
      ...(kind === 'door' && random.chance(0.7) ? { state: random.pick(['open', 'closed']) } : {}),
    });
  }
}
