/** Floors written as DXF by an independent library and read back are the same floors. */
import { readFileSync } from 'node:fs';
import { DxfWriter, LWPolylineFlags, point2d, point3d, Units } from '@tarikjabiri/dxf';
import { expect, test } from 'vitest';
import { type Floor, parseFloor, type Ring, resolveFloor } from '../../../src/core/floor/index.ts';
import { readSource } from './write-dxf.ts';

const readModel = (name: string): Floor => {
  const parsed = parseFloor(readFileSync(`models/floors/${name}.json`, 'utf8'));
  if (!parsed.ok) throw new Error(name);
  return resolveFloor(parsed.file);
};

/** A layer called after partitions would be taken for walls, as in most drawings. */
const layerOf = (kind: string): string => ({ partition: 'A-FLOR-TPTN', hanging: 'M-DUCT' })[kind] ?? `I-${kind}`;

/** In millimetres, turned by nothing, the layers named in English. */
function writeDxf({ rooms, openings, furniture, workplaces }: Floor): Uint8Array {
  const dxf = new DxfWriter();
  dxf.setUnits(Units.Millimeters);
  const mm = (value: number): number => value * 1000;
  for (const layer of ['A-AREA', 'A-AREA-IDEN', 'A-DOOR', 'A-GLAZ', ...furniture.map(({ kind }) => layerOf(kind))])
    dxf.addLayer(layer, 7, 'Continuous');
  const outline = (ring: Ring, layerName: string): void => {
    const vertices = ring.map(([x, y]) => ({ point: point2d(mm(x), mm(y)) }));
    dxf.addLWPolyline(vertices, { flags: LWPolylineFlags.Closed, layerName });
  };
  for (const room of rooms) {
    outline(room.outline, 'A-AREA');
    for (const hole of room.holes) outline(hole, 'A-AREA');
    const [x, y] = room.outline[0] ?? [0, 0];
    const [x2, y2] = room.outline[2] ?? [0, 0];
    dxf.addText(point3d(mm(x + (x2 - x) * 0.01), mm(y + (y2 - y) * 0.01)), 50, room.name, { layerName: 'A-AREA-IDEN' });
  }
  for (const { kind, from, to, depth } of openings) {
    const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
    const turn = (Math.atan2(dy, dx) * 180) / Math.PI;
    if (kind === 'door') {
      dxf.addArc(point3d(mm(from[0]), mm(from[1])), mm(Math.hypot(dx, dy)), turn, turn + 90, { layerName: 'A-DOOR' });
      dxf.addLine(point3d(mm(from[0]), mm(from[1])), point3d(mm(from[0] - dy), mm(from[1] + dx)), {
        layerName: 'A-DOOR',
      });
    } else if (kind === 'window') {
      const [nx, ny] = [((-dy / Math.hypot(dx, dy)) * depth) / 2, ((dx / Math.hypot(dx, dy)) * depth) / 2];
      outline(
        [
          [from[0] + nx, from[1] + ny],
          [to[0] + nx, to[1] + ny],
          [to[0] - nx, to[1] - ny],
          [from[0] - nx, from[1] - ny],
        ],
        'A-GLAZ',
      );
    }
  }
  for (const { kind, outline: ring } of furniture) outline(ring, layerOf(kind));
  const chair = dxf.addBlock('CHAIR');
  chair.addCircle(point3d(0, 0), 250);
  for (const { at } of workplaces) dxf.addInsert('CHAIR', point3d(mm(at[0]), mm(at[1])));
  return new TextEncoder().encode(dxf.stringify());
}

const round = (value: number): number => Math.round(value * 1e6) / 1e6 + 0;
/** Corners in a fixed order, so that rings from any corner compare. */
const ringWords = (ring: Ring): string =>
  ring
    .map(([x, y]) => `${round(x)},${round(y)}`)
    .sort()
    .join(' ');
const sorted = (list: readonly string[]): string[] => [...list].sort();

test.each(['small-rooms', 'open-plan-office', 'archive'])(
  '%s, written and read back, has the same rooms, doors, furniture and workplaces',
  (name) => {
    const floor = readModel(name);
    const source = readSource(writeDxf(floor));
    const [storey] = source.storeys;
    expect(source.origin).toEqual([0, 0]);
    expect(storey).toBeDefined();
    if (storey === undefined) return;
    const roomWords = (room: { name: string; outline: Ring; holes: readonly Ring[] }) =>
      [room.name, ringWords(room.outline), ...sorted(room.holes.map(ringWords))].join(' | ');
    expect(sorted(storey.rooms.map(roomWords))).toEqual(sorted(floor.rooms.map(roomWords)));
    const ends =
      (kind: string) => (opening: { kind: string; from: readonly [number, number]; to: readonly [number, number] }) =>
        opening.kind === kind ? [ringWords([opening.from, opening.to])] : [];
    expect(sorted(storey.openings.flatMap(ends('door')))).toEqual(sorted(floor.openings.flatMap(ends('door'))));
    expect(sorted(storey.openings.flatMap(ends('window')))).toEqual(sorted(floor.openings.flatMap(ends('window'))));
    const named = floor.furniture.filter(({ kind }) => kind !== 'other');
    const pieceWords = ({ kind, outline }: { kind: string; outline: Ring }): string => `${kind} ${ringWords(outline)}`;
    expect(sorted(storey.pieces.map(pieceWords).filter((words) => !words.startsWith('other')))).toEqual(
      sorted(named.map(pieceWords)),
    );
    const places = (list: readonly { at: readonly [number, number] }[]) =>
      sorted(list.map(({ at }) => `${round(at[0])},${round(at[1])}`));
    expect(places(storey.workplaces)).toEqual(places(floor.workplaces));
  },
);
