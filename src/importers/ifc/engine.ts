/**
 * The geometry engine (web-ifc), for what is not read by hand: bodies with curved faces, cut by one another, swept along curves.
 * It is opened only when something needs it. Its meshes have y up and metres; here z is up.
 */
import type { Mesh } from './bodies.ts';
import { type Frame, toOuter, type Vec3 } from './frame.ts';

interface IfcVector<T> {
  get(index: number): T;
  size(): number;
}

interface IfcPlacedGeometry {
  readonly geometryExpressID: number;
  readonly flatTransformation: readonly number[];
}

interface IfcFlatMesh {
  readonly geometries: IfcVector<IfcPlacedGeometry>;
  readonly expressID: number;
}

interface IfcGeometryData {
  GetVertexData(): number;
  GetVertexDataSize(): number;
  GetIndexData(): number;
  GetIndexDataSize(): number;
  delete(): void;
}

/** What is used of web-ifc's `IfcAPI` (0.0.78), already initialised. */
export interface IfcApi {
  OpenModel(data: Uint8Array, settings?: { COORDINATE_TO_ORIGIN?: boolean }): number;
  CloseModel(model: number): void;
  StreamMeshes(model: number, ids: number[], onMesh: (mesh: IfcFlatMesh) => void): void;
  GetGeometry(model: number, id: number): IfcGeometryData;
  GetVertexArray(pointer: number, size: number): Float32Array;
  GetIndexArray(pointer: number, size: number): Uint32Array;
}

/** Hears after each batch how far it is (0 to 1), and the meshes that came of the batch. */
export type OnBatch = (share: number, fresh: EngineMeshes['meshes']) => void;

/** Lets an engine that is somewhere else mesh products; never rejects. It may be given up while it is at it. */
export interface RemoteEngine {
  mesh(bytes: Uint8Array, ids: readonly number[], onBatch: OnBatch): Promise<EngineMeshes>;
}

/** The engine, a way to it that is only gone when it is needed, or one that is kept at arm's length. */
export type IfcApiSource = IfcApi | (() => Promise<IfcApi>) | RemoteEngine;

export interface EngineMeshes {
  /** Faces by the id of the product, in the engine's world: metres, z up. */
  readonly meshes: ReadonlyMap<number, readonly Mesh[]>;
  /** Why some have none. */
  readonly failure: string | undefined;
}

/** Products handed over at once: after each batch progress is told. */
const BATCH = 64;
/** The first of three numbers of a position in six of a vertex (position and normal). */
const STRIDE = 6;

/** Lets the engine mesh products. Never throws: what it fails at is missing and said. */
export async function meshByEngine(
  bytes: Uint8Array,
  source: IfcApiSource,
  ids: readonly number[],
  onBatch: OnBatch,
): Promise<EngineMeshes> {
  if ('mesh' in source) return source.mesh(bytes, ids, onBatch);
  const meshes = new Map<number, Mesh[]>();
  let model = -1;
  let api: IfcApi | undefined;
  let failure: string | undefined;
  try {
    api = typeof source === 'function' ? await source() : source;
    model = api.OpenModel(bytes, { COORDINATE_TO_ORIGIN: false });
    if (model < 0) return { meshes, failure: 'the geometry engine could not open the file' };
    const shapes = new Map<number, Mesh>();
    for (let from = 0; from < ids.length; from += BATCH) {
      const batch = ids.slice(from, from + BATCH);
      const fresh = new Map<number, Mesh[]>();
      try {
        streamBatch(api, model, batch, shapes, fresh);
      } catch (error) {
        failure = `the geometry engine failed (${describe(error)})`;
        if (isFatal(error)) break;
      } finally {
        for (const [id, parts] of fresh) meshes.set(id, parts);
      }
      onBatch(Math.min(1, (from + BATCH) / ids.length), fresh);
    }
  } catch (error) {
    failure = `the geometry engine could not open the file (${describe(error)})`;
  }
  try {
    if (api !== undefined && model >= 0) api.CloseModel(model);
  } catch {
    // After a failure inside the engine its memory may be gone; the reading is over anyway.
  }
  return { meshes, failure };
}

function streamBatch(
  api: IfcApi,
  model: number,
  ids: number[],
  shapes: Map<number, Mesh>,
  meshes: Map<number, Mesh[]>,
): void {
  api.StreamMeshes(model, ids, (flat) => {
    const parts: Mesh[] = [];
    const count = flat.geometries.size();
    for (let i = 0; i < count; i++) {
      const placed = flat.geometries.get(i);
      let shape = shapes.get(placed.geometryExpressID);
      if (shape === undefined) {
        shape = copyShape(api, model, placed.geometryExpressID);
        shapes.set(placed.geometryExpressID, shape);
      }
      if (shape.faces.length > 0) parts.push(turnUp(shape, placed.flatTransformation));
    }
    if (parts.length > 0) meshes.set(flat.expressID, parts);
  });
}

function copyShape(api: IfcApi, model: number, id: number): Mesh {
  const geometry = api.GetGeometry(model, id);
  const vertices = api.GetVertexArray(geometry.GetVertexData(), geometry.GetVertexDataSize());
  const indices = api.GetIndexArray(geometry.GetIndexData(), geometry.GetIndexDataSize());
  const corners = Math.floor(vertices.length / STRIDE);
  const xyz = new Float64Array(corners * 3);
  for (let i = 0; i < corners; i++) {
    for (let k = 0; k < 3; k++) xyz[3 * i + k] = vertices[STRIDE * i + k] as number;
  }
  const faces: number[][][] = [];
  for (let i = 0; i + 2 < indices.length; i += 3) {
    faces.push([[indices[i] as number, indices[i + 1] as number, indices[i + 2] as number]]);
  }
  geometry.delete();
  return { kind: 'mesh', xyz, faces };
}

/** Places a shape by a column-major 4 × 4 matrix, and turns y up into z up: (x, y, z) becomes (x, −z, y). */
function turnUp({ xyz, faces }: Mesh, m: readonly number[]): Mesh {
  const column = (k: number): Vec3 => [m[4 * k] ?? 0, m[4 * k + 1] ?? 0, m[4 * k + 2] ?? 0];
  const frame: Frame = { x: column(0), y: column(1), z: column(2), o: column(3) };
  const turned = new Float64Array(xyz.length);
  for (let i = 0; i < xyz.length; i += 3) {
    const [x, y, z] = toOuter(frame, [xyz[i] as number, xyz[i + 1] as number, xyz[i + 2] as number]);
    turned[i] = x;
    turned[i + 1] = -z;
    turned[i + 2] = y;
  }
  return { kind: 'mesh', xyz: turned, faces };
}

/** The wasm has ended itself: nothing can be asked any more. */
function isFatal(error: unknown): boolean {
  return /abort|unreachable|out of bounds|memory|call stack/iu.test(describe(error));
}

function describe(error: unknown): string {
  const text = error instanceof Error ? error.message : typeof error === 'number' ? `code ${error}` : String(error);
  return text.replace(/\s+/gu, ' ').slice(0, 120);
}
