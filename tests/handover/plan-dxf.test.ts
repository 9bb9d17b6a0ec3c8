/** The plan as DXF, read back by three readers that know nothing of one another. */
import { readFileSync } from 'node:fs';
import { Parser as StreamReader } from '@dxfjs/parser';
import { parseString } from 'dxf';
import DxfParser from 'dxf-parser';
import { describe, expect, test } from 'vitest';
import { parseFloor } from '../../src/core/floor/index.ts';
import { drawPlanDxf } from '../../src/handover/drawing/plan-dxf.ts';
import { createJob } from '../../src/handover/job.ts';
import { buildFloor, rect, row } from '../core/sight/build-floor.ts';

const office = parseFloor(readFileSync(new URL('../../models/floors/open-plan-office.json', import.meta.url), 'utf8'));
if (!office.ok) throw new Error('The office floor is faulty.');
const { floor } = office;
const text = drawPlanDxf(createJob(floor));

/** What every reader is asked for: entities by layer, and the corners of closed lines. */
interface Read {
  readonly units: unknown;
  readonly count: (layer: string, type: string) => number;
  readonly rings: (layer: string) => (readonly (readonly [number, number])[])[];
}

type Vertex = { readonly x: number; readonly y: number };
const corners = (vertices: readonly Vertex[]) => vertices.map(({ x, y }) => [x, y] as const);

const READERS: Readonly<Record<string, () => Promise<Read>>> = {
  dxf: async () => {
    const { header, entities } = parseString(text);
    return {
      units: header.insUnits,
      count: (layer, type) => entities.filter((each) => each.layer === layer && each.type === type).length,
      rings: (layer) =>
        entities
          .filter((each) => each.layer === layer && each.type === 'LWPOLYLINE')
          .map((each) => corners(each.vertices as Vertex[])),
    };
  },
  'dxf-parser': async () => {
    const read = new DxfParser().parseSync(text);
    if (read === null) throw new Error('Nothing was read.');
    return {
      units: read.header.$INSUNITS,
      count: (layer, type) => read.entities.filter((each) => each.layer === layer && each.type === type).length,
      rings: (layer) =>
        read.entities
          .filter((each) => each.layer === layer && each.type === 'LWPOLYLINE')
          .map((each) => corners((each as unknown as { vertices: Vertex[] }).vertices)),
    };
  },
  '@dxfjs/parser': async () => {
    const read = await new StreamReader().parse(text);
    const { entities } = read;
    const lists: Readonly<Record<string, readonly { readonly layerName?: string }[]>> = {
      LINE: entities.lines,
      CIRCLE: entities.circles,
      LWPOLYLINE: entities.lwPolylines,
      TEXT: entities.texts,
    };
    return {
      units: undefined,
      count: (layer, type) => (lists[type] ?? []).filter((each) => each.layerName === layer).length,
      rings: (layer) =>
        entities.lwPolylines
          .filter((each) => each.layerName === layer)
          .map((each) => corners(each.vertices as Vertex[])),
    };
  },
};

describe.each(Object.keys(READERS))('read by %s', (name) => {
  const read = READERS[name]!();

  test('metres, and as many things on each layer as the floor has', async () => {
    const { units, count } = await read;
    if (name !== '@dxfjs/parser') expect(units).toBe(6);
    expect(count('ROOM', 'LWPOLYLINE')).toBe(floor.rooms.reduce((sum, room) => sum + 1 + room.holes.length, 0));
    expect(count('FURNITURE', 'LWPOLYLINE')).toBe(floor.furniture.length);
    expect(count('LUMINAIRE', 'LWPOLYLINE')).toBe(floor.luminaires.length);
    expect(count('WORKPLACE', 'CIRCLE')).toBe(floor.workplaces.length);
    expect(count('DETECTOR', 'CIRCLE')).toBe(floor.detectors.length);
    expect(count('DETECTOR', 'TEXT')).toBe(floor.detectors.length);
    expect(count('MASK', 'LWPOLYLINE')).toBe(floor.detectors.reduce((sum, each) => sum + each.masks.length, 0));
    expect(count('WALL', 'LINE')).toBeGreaterThan(floor.rooms.length * 3);
  });

  test('outlines corner by corner, in metres', async () => {
    const { rings } = await read;
    const furniture = rings('FURNITURE');
    floor.furniture.forEach((piece, k) => {
      piece.outline.forEach(([x, y], c) => {
        expect(furniture[k]?.[c]?.[0]).toBeCloseTo(x, 6);
        expect(furniture[k]?.[c]?.[1]).toBeCloseTo(y, 6);
      });
    });
  });
});

test('the same floor gives the same text', () => {
  expect(drawPlanDxf(createJob(floor))).toBe(text);
});

test('names stay text: line breaks, commands of the format and markup are no more than letters', () => {
  const hostile = buildFloor({
    rooms: [{ id: 'R', name: 'A\n0\nEOF\n%%u <b>=1+1</b> ^J', outline: rect(0, 0, 6, 4), ceiling: 3 }],
    types: [{ id: 'T', name: 'T', ranges: [row('minor', 3, 0.8, 6)] }],
    detectors: [{ id: 'D', name: 'مكتب 😀', type: 'T', at: [3, 2], masks: [{ from: 0, to: 360 }] }],
  });
  const { entities } = parseString(drawPlanDxf(createJob(hostile)));
  const words = entities.filter((each) => each.type === 'TEXT').map((each) => String(each.string));
  expect(words.some((each) => each.includes('<b>=1+1</b>'))).toBe(true);
  expect(words.every((each) => !each.includes('%%') && !each.includes('^'))).toBe(true);
  expect(entities.filter((each) => each.layer === 'DETECTOR' && each.type === 'CIRCLE')).toHaveLength(1);
});
