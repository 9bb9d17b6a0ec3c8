/** Reading a building model to its storeys, against the geometry engine's own opening of it and streaming of all its shapes. */
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { IfcAPI as Engine, type IfcAPI } from 'web-ifc';
import { readIfc } from '../../src/importers/ifc/read-ifc.ts';
import { draftIfc, rectangle } from '../importers/ifc/write-ifc.ts';
import type { Clock } from './clock.ts';
import { quantile } from './timing.ts';

export interface ModelRecord {
  readonly case: string;
  readonly bytes: number;
  readonly rounds: number;
  /** Bytes to storeys, milliseconds, and the engine's opening, streaming and reading of every mesh. */
  readonly lacunaMs: number;
  readonly engineMs: number;
  readonly ratio: number;
  readonly goalRatio: number;
  /** The most memory a process of its own took for it, MB; null for models that are not measured. */
  readonly peakMB: number | null;
  readonly goalMB: number;
}

const GOAL_RATIO = 1.5;
const GOAL_MB = 400;
const ROUNDS = 9;
/** Says to a second process that it reads the written model once and tells its memory. */
export const MODEL_MEMORY = 'LACUNA_BENCH_MODEL_MEMORY';

/** Models by others, where their folder is there. */
const OUTSIDE = ['AC11-Institute-Var-2-IFC.ifc', 'Duplex_A_20110907.ifc', 'LargeBuilding.ifc'];

const STOREYS = 12;
const ROOMS = 60;

/** An invented house of twelve storeys with sixty rooms each: walls with doors, desks, chairs of faces, ducts, some curved walls. */
function writeModel(): string {
  const draft = draftIfc();
  const seat = chair(draft);
  for (let floor = 1; floor <= STOREYS; floor++) {
    const storey = draft.storey(`Storey ${floor}`, floor * 3.2);
    for (let room = 0; room < ROOMS; room++) {
      const [x, y] = [(room % 10) * 6.2, Math.floor(room / 10) * 5.2];
      draft.space(`${floor}.${room}`, 'Office', [draft.block(rectangle(x, y, 6, 5), 0, 2.8)], storey);
      const front = draft.element('IFCWALL', 'Wall', [clipped(draft, rectangle(x, y + 5, 6.2, 0.2))], '$', storey);
      draft.element('IFCWALL', 'Wall', [draft.block(rectangle(x + 6, y, 0.2, 5), 0, 3)], '$', storey);
      const door = draft.element(
        'IFCDOOR',
        'Door',
        [draft.block(rectangle(x + 2, y + 5.08, 0.9, 0.04), 0, 2.1)],
        '$,2.1,0.9,$,$,$',
        storey,
      );
      draft.opening(front, [draft.block(rectangle(x + 2, y + 4.9, 0.9, 0.4), 0, 2.1)], door, storey);
      draft.element('IFCDUCTSEGMENT', 'Duct', [draft.block(rectangle(x + 1, y + 1, 4, 0.4), 2.4, 2.7)], '$,$', storey);
      if (room % 20 === 0) draft.element('IFCCOLUMN', 'Round', [curved(draft, x + 5, y + 4)], '$,$', storey);
      for (let desk = 0; desk < 4; desk++) {
        const [dx, dy] = [x + 0.4 + (desk % 2) * 2.6, y + 0.4 + (desk >> 1) * 2.2];
        draft.element('IFCFURNITURE', 'Desk', [shell(draft, dx, dy, 1.6, 0.8, 0.74)], '$,.DESK.', storey);
        const target = draft.add(
          `IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#${draft.point([dx + 0.55, dy + 0.9, 0])},1.,$)`,
        );
        draft.element('IFCFURNITURE', 'Chair', [draft.add(`IFCMAPPEDITEM(#${seat},#${target})`)], '$,.CHAIR.', storey);
      }
    }
  }
  return draft.text();
}

type Draft = ReturnType<typeof draftIfc>;

function shell(draft: Draft, x: number, y: number, width: number, depth: number, height: number): number {
  const ring = rectangle(x, y, width, depth);
  const at = (z: number) => ring.map(([a, b]) => draft.point([a, b, z]));
  const [low, high] = [at(0), at(height)];
  const face = (loop: readonly number[]): number =>
    draft.add(`IFCFACE((#${draft.add(`IFCFACEOUTERBOUND(#${draft.add(`IFCPOLYLOOP(${draft.refs(loop)})`)},.T.)`)}))`);
  const sides = ring.map((_, i) => face([low[i]!, low[(i + 1) % 4]!, high[(i + 1) % 4]!, high[i]!]));
  return draft.add(
    `IFCFACETEDBREP(#${draft.add(`IFCCLOSEDSHELL(${draft.refs([face([...low].reverse()), face(high), ...sides])})`)})`,
  );
}

/** A chair of a seat, a back and legs, drawn once and placed many times. */
function chair(draft: Draft): number {
  const parts = [shell(draft, 0, 0, 0.5, 0.5, 0.45), shell(draft, 0, 0.45, 0.5, 0.05, 0.9)];
  const body = draft.add(`IFCSHAPEREPRESENTATION(#${draft.context},'Body','Brep',${draft.refs(parts)})`);
  return draft.add(`IFCREPRESENTATIONMAP(#${draft.axes([0, 0, 0])},#${body})`);
}

/** A wall cut by a roof plane that it does not reach on most of its length. */
function clipped(draft: Draft, ring: ReturnType<typeof rectangle>): number {
  const plane = draft.add(`IFCPLANE(#${draft.axes([0, 0, 3], [0, 0, 1], [1, 0, 0])})`);
  return draft.add(
    `IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#${draft.block(ring, 0, 3.4)},#${draft.add(`IFCHALFSPACESOLID(#${plane},.F.)`)})`,
  );
}

/** A round body that only the engine meshes. */
function curved(draft: Draft, x: number, y: number): number {
  const profile = draft.add('IFCRECTANGLEPROFILEDEF(.AREA.,$,$,0.3,2.8)');
  const axis = draft.add(`IFCAXIS1PLACEMENT(#${draft.point([0.15, 0, 0])},#${draft.direction([0, 1, 0])})`);
  return draft.add(
    `IFCREVOLVEDAREASOLID(#${profile},#${draft.axes([x, y, 1.4], [0, -1, 0], [1, 0, 0])},#${axis},6.283)`,
  );
}

async function startEngine(): Promise<IfcAPI> {
  const api = new Engine();
  await api.Init(undefined, true);
  api.SetLogLevel(6);
  return api;
}

/** Opens a model and takes every mesh of it. @returns how many triangles there are */
function streamAll(api: IfcAPI, bytes: Uint8Array): number {
  const model = api.OpenModel(bytes, { COORDINATE_TO_ORIGIN: false });
  let triangles = 0;
  api.StreamAllMeshes(model, (mesh) => {
    for (let i = 0; i < mesh.geometries.size(); i++) {
      const geometry = api.GetGeometry(model, mesh.geometries.get(i).geometryExpressID);
      api.GetVertexArray(geometry.GetVertexData(), geometry.GetVertexDataSize());
      triangles += api.GetIndexArray(geometry.GetIndexData(), geometry.GetIndexDataSize()).length / 3;
      geometry.delete();
    }
  });
  api.CloseModel(model);
  return triangles;
}

async function readRooms(api: IfcAPI, bytes: Uint8Array): Promise<number> {
  const read = await readIfc(bytes, { ifcApi: api });
  if (!read.ok) throw new Error(`a model was refused: ${read.reason}`);
  return read.storeys.reduce((sum, { rooms }) => sum + rooms.length, 0);
}

/** What the second process does. */
export async function tellModelMemory(): Promise<void> {
  const bytes = new TextEncoder().encode(writeModel());
  await readRooms(await startEngine(), bytes);
  console.log(String(process.resourceUsage().maxRSS / 1_024));
}

/** @throws when a model is not read as it was written */
export async function runModelCases(clock: Clock, tell: (what: string) => void): Promise<ModelRecord[]> {
  const api = await startEngine();
  const folder = resolve(process.env.LACUNA_DATA ?? '../shared/data', 'ifc');
  const written = new TextEncoder().encode(writeModel());
  const models: (readonly [name: string, bytes: Uint8Array, rooms: number | undefined])[] = [
    ['a written model of 720 rooms', written, STOREYS * ROOMS],
  ];
  for (const name of OUTSIDE) {
    const path = join(folder, name);
    if (existsSync(path)) models.push([name, new Uint8Array(readFileSync(path)), undefined]);
  }
  const records: ModelRecord[] = [];
  for (const [name, bytes, rooms] of models) {
    tell(name);
    const times = { lacuna: [] as number[], engine: [] as number[] };
    for (let round = 0; round < ROUNDS; round++) {
      let start = clock.now();
      const found = await readRooms(api, bytes);
      times.lacuna.push(clock.now() - start);
      if (rooms !== undefined && found !== rooms) throw new Error(`${name}: ${found} rooms were read, not ${rooms}`);
      start = clock.now();
      if (streamAll(api, bytes) === 0) throw new Error(`${name}: the engine found no triangle`);
      times.engine.push(clock.now() - start);
    }
    const [lacunaMs, engineMs] = [quantile(times.lacuna, 0.5), quantile(times.engine, 0.5)];
    const peakMB = rooms === undefined ? null : measurePeak();
    records.push({
      case: name,
      bytes: bytes.length,
      rounds: ROUNDS,
      lacunaMs,
      engineMs,
      ratio: lacunaMs / engineMs,
      goalRatio: GOAL_RATIO,
      peakMB,
      goalMB: GOAL_MB,
    });
  }
  return records;
}

function measurePeak(): number {
  const script = process.argv[1] as string;
  const { stdout, status } = spawnSync(process.execPath, [script], {
    env: { ...process.env, [MODEL_MEMORY]: '1' },
    encoding: 'utf8',
  });
  const peak = Number(stdout.trim());
  if (status !== 0 || !(peak > 0)) throw new Error('the memory of a reading could not be measured');
  return peak;
}
