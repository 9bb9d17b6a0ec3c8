/**
 * The floor as a binary glTF 2.0 scene: metres, y up as the format has it (x stays, floor's y runs to −z). Walls stand as
 * panels, cut by their openings; the blind places of both planes lie at their heights, so that any viewer shows them.
 */
import { Document, type Material, type Node, type Primitive, WebIO } from '@gltf-transform/core';
import { BLIND } from '../../core/coverage/index.ts';
import type { Floor, Point } from '../../core/floor/index.ts';
import { lensHeightOf } from '../../core/floor/index.ts';
import { triangulate } from '../../core/geometry/triangulate.ts';
import type { Lattice } from '../../core/sight/index.ts';
import { cutEdge, listGaps, listWallEdges, luminaireOutline } from '../../core/sight/index.ts';
import type { HandoverJob } from '../job.ts';
import { cleanText } from '../plan/svg.ts';

/** Linear colours with their opacity. */
const COLOURS = {
  paper: [0.9, 0.91, 0.92, 1],
  wall: [0.045, 0.06, 0.075, 1],
  piece: [0.42, 0.45, 0.48, 1],
  glass: [0.6, 0.68, 0.74, 0.35],
  luminaire: [0.95, 0.95, 0.9, 1],
  detector: [0.02, 0.03, 0.04, 1],
  blind: [0.52, 0.033, 0.012, 0.55],
} as const;

type ColourName = keyof typeof COLOURS;

const LENS_RADIUS = 0.08;
const LENS_DEPTH = 0.04;
/** Just over what it lies on, metres. */
const OVER = 0.005;

/** Makes the scene; the same floor gives the same bytes. */
export async function makeSceneGlb({ floor, coverage }: HandoverJob): Promise<Uint8Array> {
  const builder = createBuilder();
  // Far-off coordinates would lose millimetres in single precision: the scene is centred, and says by how much.
  const origin = originOf(floor);
  const local = ([x, y]: Point): Point => [x - origin[0], y - origin[1]];
  const rooms = builder.group('rooms', { origin });
  for (const room of floor.rooms) {
    const mesh = new Faces();
    mesh.flat(
      room.outline.map(local),
      room.holes.map((hole) => hole.map(local)),
      0,
    );
    rooms.add(room.name, 'paper', mesh, { id: room.id, ceiling: room.ceiling });
  }
  const walls = builder.group('walls');
  floor.rooms.forEach((room, index) => {
    walls.add(room.name, 'wall', standWalls(floor, index, local), { room: room.id });
  });
  const furniture = builder.group('furniture');
  for (const piece of floor.furniture) {
    const mesh = new Faces();
    mesh.prism(piece.outline.map(local), piece.base, piece.top);
    furniture.add(piece.name, piece.glass ? 'glass' : 'piece', mesh, { id: piece.id, kind: piece.kind });
  }
  const luminaires = builder.group('luminaires');
  for (const each of floor.luminaires) {
    const mesh = new Faces();
    mesh.prism(luminaireOutline(each.at, each.size, each.turn).map(local), each.base, each.top);
    luminaires.add(each.name, 'luminaire', mesh, { id: each.id });
  }
  const detectors = builder.group('detectors');
  for (const detector of floor.detectors) {
    const height = lensHeightOf(detector, floor);
    const mesh = new Faces();
    mesh.prism(discAt(local(detector.at)), Math.max(0, height - LENS_DEPTH), height);
    detectors.add(detector.name, 'detector', mesh, { id: detector.id, type: detector.type, status: detector.status });
  }
  for (const plane of ['seated', 'walking'] as const) {
    const field = coverage[plane];
    const mesh = new Faces();
    layBlind(mesh, field.state, coverage.grid.lattice, field.height + OVER, local);
    builder.group(`blind, ${plane}`).add(`blind, ${plane}`, 'blind', mesh, { height: field.height });
  }
  return builder.write(cleanText(floor.name));
}

/** Triangles of one thing, x east, y north, z up until they are written. */
class Faces {
  readonly xyz: number[] = [];
  readonly index: number[] = [];

  flat(outline: readonly Point[], holes: readonly (readonly Point[])[], z: number, isUp = true): void {
    const { xy, index } = triangulate(outline, holes);
    const first = this.xyz.length / 3;
    for (let k = 0; k < xy.length; k += 2) this.xyz.push(xy[k] as number, xy[k + 1] as number, z);
    for (let k = 0; k < index.length; k += 3) {
      const [a, b, c] = [index[k] as number, index[k + 1] as number, index[k + 2] as number];
      this.index.push(first + a, first + (isUp ? b : c), first + (isUp ? c : b));
    }
  }

  /** A standing rectangle from a to b, seen from its right-hand side. */
  panel([ax, ay]: Point, [bx, by]: Point, base: number, top: number): void {
    if (!(top > base)) return;
    const first = this.xyz.length / 3;
    this.xyz.push(ax, ay, base, bx, by, base, bx, by, top, ax, ay, top);
    this.index.push(first, first + 1, first + 2, first, first + 2, first + 3);
  }

  prism(ring: readonly Point[], base: number, top: number): void {
    const outline = isClockwise(ring) ? [...ring].reverse() : ring;
    this.flat(outline, [], top);
    this.flat(outline, [], base, false);
    outline.forEach((a, k) => {
      this.panel(a, outline[(k + 1) % outline.length] as Point, base, top);
    });
  }
}

function isClockwise(ring: readonly Point[]): boolean {
  const area = ring.reduce((sum, [x, y], k) => {
    const [nx, ny] = ring[(k + 1) % ring.length] as Point;
    return sum + x * ny - nx * y;
  }, 0);
  return area < 0;
}

/** The walls of one room up to its ceiling, cut where openings are: below their sills and above their heads they stay. */
function standWalls(floor: Floor, room: number, local: (at: Point) => Point): Faces {
  const faces = new Faces();
  const ceiling = floor.rooms[room]?.ceiling ?? 0;
  const gaps = listGaps(floor);
  for (const edge of listWallEdges(floor).filter((each) => each.room === room)) {
    const at = (part: number): Point =>
      local([edge.a[0] + (edge.b[0] - edge.a[0]) * part, edge.a[1] + (edge.b[1] - edge.a[1]) * part]);
    const cuts = gaps.flatMap((gap) => {
      const span = cutEdge(gap, edge);
      return span === null ? [] : [{ gap, from: span[0], to: span[1] }];
    });
    cuts.sort((a, b) => a.from - b.from);
    let done = 0;
    for (const { gap, from, to } of cuts) {
      if (from > done) faces.panel(at(done), at(from), 0, ceiling);
      const start = Math.max(from, done);
      if (to > start) {
        faces.panel(at(start), at(to), 0, Math.min(gap.sill, ceiling));
        faces.panel(at(start), at(to), gap.head, ceiling);
      }
      done = Math.max(done, to);
    }
    if (done < 1) faces.panel(at(done), at(1), 0, ceiling);
  }
  return faces;
}

function layBlind(
  faces: Faces,
  state: Uint8Array,
  { x0, y0, cell, nx, ny }: Lattice,
  z: number,
  local: (at: Point) => Point,
): void {
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; ) {
      let end = i;
      while (end < nx && state[j * nx + end] === BLIND) end++;
      if (end === i) {
        i++;
        continue;
      }
      const [left, low] = local([x0 + i * cell, y0 + j * cell]);
      const [right, high] = local([x0 + end * cell, y0 + (j + 1) * cell]);
      const first = faces.xyz.length / 3;
      faces.xyz.push(left, low, z, right, low, z, right, high, z, left, high, z);
      faces.index.push(first, first + 1, first + 2, first, first + 2, first + 3);
      i = end;
    }
  }
}

function discAt([x, y]: Point): Point[] {
  return Array.from({ length: 16 }, (_, k): Point => {
    const angle = (k / 16) * 2 * Math.PI;
    return [x + LENS_RADIUS * Math.cos(angle), y + LENS_RADIUS * Math.sin(angle)];
  });
}

/** The middle of the rooms' box, to the metre. */
function originOf(floor: Floor): Point {
  const corners = floor.rooms.flatMap((room) => room.outline);
  if (corners.length === 0) return [0, 0];
  const middle = (axis: 0 | 1) => {
    const values = corners.map((corner) => corner[axis]);
    return Math.round((values.reduce((a, b) => Math.min(a, b)) + values.reduce((a, b) => Math.max(a, b))) / 2);
  };
  return [middle(0), middle(1)];
}

interface SceneGroup {
  /** Adds a thing; one without a face is left out, as the format asks. */
  add(name: string, colour: ColourName, faces: Faces, extras: object): void;
}

function createBuilder() {
  const document = new Document();
  const buffer = document.createBuffer();
  const scene = document.createScene();
  const materials = new Map<ColourName, Material>();
  const materialOf = (name: ColourName): Material => {
    const known = materials.get(name);
    if (known !== undefined) return known;
    const colour = COLOURS[name];
    const material = document
      .createMaterial(name)
      .setBaseColorFactor([...colour])
      .setRoughnessFactor(1)
      .setMetallicFactor(0)
      .setDoubleSided(true);
    if (colour[3] < 1) material.setAlphaMode('BLEND');
    materials.set(name, material);
    return material;
  };
  const primitiveOf = (faces: Faces, colour: ColourName): Primitive => {
    const place = new Float32Array(faces.xyz.length);
    for (let k = 0; k < faces.xyz.length; k += 3) {
      place[k] = faces.xyz[k] as number;
      place[k + 1] = faces.xyz[k + 2] as number;
      place[k + 2] = -(faces.xyz[k + 1] as number);
    }
    const position = document.createAccessor().setType('VEC3').setArray(place).setBuffer(buffer);
    const indices = document
      .createAccessor()
      .setType('SCALAR')
      .setArray(new Uint32Array(faces.index))
      .setBuffer(buffer);
    return document
      .createPrimitive()
      .setAttribute('POSITION', position)
      .setIndices(indices)
      .setMaterial(materialOf(colour));
  };
  return {
    group(name: string, extras: object = {}): SceneGroup {
      const parent: Node = document.createNode(name).setExtras({ ...extras });
      scene.addChild(parent);
      return {
        add(thing, colour, faces, about) {
          if (faces.index.length === 0) return;
          const label = cleanText(thing);
          const mesh = document.createMesh(label).addPrimitive(primitiveOf(faces, colour));
          parent.addChild(
            document
              .createNode(label)
              .setMesh(mesh)
              .setExtras({ ...about }),
          );
        },
      };
    },
    async write(name: string): Promise<Uint8Array> {
      scene.setName(name);
      document.getRoot().setDefaultScene(scene);
      document.getRoot().getAsset().generator = 'Lacuna';
      return new WebIO().writeBinary(document);
    },
  };
}
