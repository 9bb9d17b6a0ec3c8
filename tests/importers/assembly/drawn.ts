/** Storeys drawn by hand, as a reader would hand them over. */
import type { Point, Ring } from '../../../src/core/floor/index.ts';
import type { DrawnOpening, DrawnPiece, DrawnRoom, DrawnStorey, DrawnWall } from '../../../src/importers/storey.ts';

export const SOURCE = { name: 'hand.dxf', format: 'drawn by hand', origin: [0, 0] as Point, remarks: [] };

export function rectangle(x0: number, y0: number, x1: number, y1: number): Ring {
  return [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ];
}

export function storey(parts: Partial<DrawnStorey> = {}): DrawnStorey {
  return {
    name: 'Ground',
    elevation: 0,
    north: null,
    rooms: [],
    walls: [],
    openings: [],
    pieces: [],
    luminaires: [],
    workplaces: [],
    sources: [],
    remarks: [],
    ...parts,
  };
}

export function room(key: string, outline: Ring, rest: Partial<DrawnRoom> = {}): DrawnRoom {
  return { key, name: key, outline, holes: [], ceiling: 3, standing: 'read', ...rest };
}

export function wall(key: string, outline: Ring, base = 0, top: number | null = null): DrawnWall {
  return { kind: 'footprint', key, outline, base, top };
}

export function line(key: string, from: Point, to: Point): DrawnWall {
  return { kind: 'line', key, from, to };
}

export function opening(key: string, from: Point, to: Point, rest: Partial<DrawnOpening> = {}): DrawnOpening {
  return { key, kind: 'door', name: key, from, to, depth: null, sill: null, head: null, standing: 'read', ...rest };
}

export function piece(
  key: string,
  kind: DrawnPiece['kind'],
  outline: Ring,
  rest: Partial<DrawnPiece> = {},
): DrawnPiece {
  return { key, kind, name: key, outline, base: 0, top: 1, glass: false, standing: 'read', ...rest };
}

/** Two rooms of 4 × 4 m side by side, walls 0.2 m thick as footprints, a door in the middle wall at y 1 to 2. */
export const TWO_ROOM_WALLS: readonly DrawnWall[] = [
  wall('south', rectangle(-0.2, -0.2, 8.4, 0)),
  wall('north', rectangle(-0.2, 4, 8.4, 4.2)),
  wall('west', rectangle(-0.2, 0, 0, 4)),
  wall('east', rectangle(8.2, 0, 8.4, 4)),
  wall('middle low', rectangle(4, 0, 4.2, 1)),
  wall('middle high', rectangle(4, 2, 4.2, 4)),
];

/** The edges of a rectangle as lines of walls. */
export function lines(name: string, x0: number, y0: number, x1: number, y1: number): readonly DrawnWall[] {
  const ring = rectangle(x0, y0, x1, y1);
  return ring.map((from, i) => line(`${name} ${i}`, from, ring[(i + 1) % 4] as Point));
}
