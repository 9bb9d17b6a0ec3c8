/** Bodies and surfaces given by their faces: shells of loops, sets of polygons and of triangles. Corners in double precision. */
import type { Mesh } from './bodies.ts';
import { readCurve } from './curves.ts';
import { type Frame, toOuter, type Vec3 } from './frame.ts';
import { type Model, readAxes, readDirection, readPoint, toPoint } from './placements.ts';
import { listOfValues, numberOf, refOf, refsOf, type Value } from './step-file.ts';

/** Faces of one item beyond which it is no piece of a floor. */
const MAX_FACES = 400_000;

/** The faces of an item, undefined when its kind is not read here. */
export function readFaces(model: Model, id: number): Mesh | undefined {
  const { step } = model;
  const args = step.read(id);
  switch (step.typeOf(id)) {
    case 'IFCFACETEDBREP':
    case 'IFCFACETEDBREPWITHVOIDS':
      return readShells(model, [refOf(args[0])]);
    case 'IFCFACEBASEDSURFACEMODEL':
    case 'IFCSHELLBASEDSURFACEMODEL':
      return readShells(model, refsOf(args[0]));
    case 'IFCOPENSHELL':
    case 'IFCCLOSEDSHELL':
    case 'IFCCONNECTEDFACESET':
      return readShells(model, [id]);
    case 'IFCPOLYGONALFACESET':
      return readPolygons(model, args);
    case 'IFCTRIANGULATEDFACESET':
    case 'IFCTRIANGULATEDIRREGULARNETWORK':
      return readTriangles(model, args);
    case 'IFCCURVEBOUNDEDPLANE':
      return readBoundedPlane(model, args);
    case 'IFCSURFACEOFLINEAREXTRUSION':
      return readExtrudedCurve(model, args);
    default:
      return undefined;
  }
}

function readShells(model: Model, shells: readonly number[]): Mesh | undefined {
  const { step } = model;
  const builder = createBuilder();
  const corners = new Map<number, number>();
  const corner = (id: number): number => {
    let known = corners.get(id);
    if (known === undefined) {
      known = builder.add(readPoint(model, id));
      corners.set(id, known);
    }
    return known;
  };
  let isSound = true;
  const readLoop = (bound: number): number[] | undefined => {
    const loop = refOf(step.read(bound)[0]);
    if (step.typeOf(loop) !== 'IFCPOLYLOOP') return undefined;
    return refsOf(step.read(loop)[0]).map(corner);
  };
  for (const shell of shells) {
    for (const face of refsOf(step.read(shell)[0])) {
      const type = step.typeOf(face);
      if (type !== 'IFCFACE' && type !== 'IFCFACESURFACE') isSound = false;
      const bounds = refsOf(step.read(face)[0]);
      // The outer bound comes first, wherever the file has it.
      const ordered = [...bounds].sort((a, b) => rank(step.typeOf(a)) - rank(step.typeOf(b)));
      const loops = ordered.map(readLoop);
      if (loops.some((loop) => loop === undefined)) isSound = false;
      else builder.face(loops.filter((loop) => loop !== undefined));
      if (!isSound || builder.isFull()) return undefined;
    }
  }
  return builder.build();
}

const rank = (type: string): number => (type === 'IFCFACEOUTERBOUND' ? 0 : 1);

function readPolygons(model: Model, args: readonly Value[]): Mesh | undefined {
  const { step } = model;
  const builder = createBuilder();
  const count = addPointList(model, refOf(args[0]), builder);
  const index = indexOf(args[3], count);
  for (const face of refsOf(args[2])) {
    const parts = step.read(face);
    const outer = listOfValues(parts[0]).map(index);
    const holes = listOfValues(parts[1]).map((hole) => listOfValues(hole).map(index));
    builder.face([outer, ...holes].map((loop) => loop.filter((corner) => corner >= 0)));
    if (builder.isFull()) return undefined;
  }
  return builder.build();
}

function readTriangles(model: Model, args: readonly Value[]): Mesh | undefined {
  const builder = createBuilder();
  const count = addPointList(model, refOf(args[0]), builder);
  const index = indexOf(args[4], count);
  for (const triangle of listOfValues(args[3])) {
    const loop = listOfValues(triangle).map(index);
    if (loop.length === 3 && loop.every((corner) => corner >= 0)) builder.face([loop]);
    if (builder.isFull()) return undefined;
  }
  return builder.build();
}

/** Corners count from 1; a list may stand between (`PnIndex`). −1 for a corner that is not there. */
function indexOf(indirect: Value | undefined, count: number): (value: Value) => number {
  // Early files of IFC4 have numbers of normals in this place: lists of three.
  const list = listOfValues(indirect).filter((value) => numberOf(value) !== undefined);
  return (value) => {
    const first = numberOf(value) ?? 0;
    const at = list.length > 0 ? (numberOf(list[first - 1]) ?? 0) : first;
    return at >= 1 && at <= count ? at - 1 : -1;
  };
}

function addPointList({ step, units }: Model, id: number, builder: Builder): number {
  const points = listOfValues(step.read(id)[0]);
  for (const point of points) builder.add(toPoint(point, units.length));
  return points.length;
}

/** A plane within curves that lie in its own system. */
function readBoundedPlane(model: Model, args: readonly Value[]): Mesh | undefined {
  const { step } = model;
  const basis = refOf(args[0]);
  if (step.typeOf(basis) !== 'IFCPLANE') return undefined;
  const frame = readAxes(model, refOf(step.read(basis)[0]));
  const builder = createBuilder();
  const loops = [refOf(args[1]), ...refsOf(args[2])].map((id) => readCurve(model, id));
  if (loops.some((loop) => loop === undefined)) return undefined;
  builder.face(
    loops
      .filter((loop) => loop !== undefined)
      .map((loop) => open(loop).map((point) => builder.add(toOuter(frame, point)))),
  );
  return builder.build();
}

function readExtrudedCurve(model: Model, args: readonly Value[]): Mesh | undefined {
  const { step, units } = model;
  const profile = refOf(args[0]);
  const curve = readCurve(model, refOf(step.read(profile)[2]));
  if (curve === undefined) return undefined;
  const frame: Frame = readAxes(model, refOf(args[1]));
  const direction = readDirection(model, refOf(args[2])) ?? [0, 0, 1];
  const depth = ((numberOf(args[3]) ?? 0) * units.length) / (Math.hypot(...direction) || 1);
  const builder = createBuilder();
  for (let i = 0; i + 1 < curve.length; i++) {
    const [a, b] = [curve[i] as Vec3, curve[i + 1] as Vec3];
    const raise = ([x, y, z]: Vec3): Vec3 => [
      x + direction[0] * depth,
      y + direction[1] * depth,
      z + direction[2] * depth,
    ];
    builder.face([[a, b, raise(b), raise(a)].map((point) => builder.add(toOuter(frame, point)))]);
  }
  return builder.build();
}

/** A closed chain without its repeated first point. */
function open(points: readonly Vec3[]): readonly Vec3[] {
  const [first, last] = [points[0], points[points.length - 1]];
  const isClosed =
    first !== undefined &&
    last !== undefined &&
    points.length > 1 &&
    first.every((value, k) => Math.abs(value - (last[k] as number)) < 1e-6);
  return isClosed ? points.slice(0, -1) : points;
}

interface Builder {
  add(point: Vec3): number;
  face(loops: readonly (readonly number[])[]): void;
  isFull(): boolean;
  build(): Mesh;
}

function createBuilder(): Builder {
  const xyz: number[] = [];
  const faces: (readonly (readonly number[])[])[] = [];
  return {
    add([x, y, z]) {
      xyz.push(x, y, z);
      return xyz.length / 3 - 1;
    },
    face(loops) {
      const sound = loops.filter((loop) => loop.length >= 3);
      if (sound.length > 0) faces.push(sound);
    },
    isFull: () => faces.length > MAX_FACES,
    build: () => ({ kind: 'mesh', xyz: Float64Array.from(xyz), faces }),
  };
}
