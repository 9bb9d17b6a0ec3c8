/** Points, directions and placements of a model, in metres and in double precision. */
import { compose, type Frame, frameOf, isFiniteFrame, normalise, scale, type Vec3, WORLD } from './frame.ts';
import { listOfValues, numberOf, refOf, type StepFile, type Value } from './step-file.ts';
import type { Units } from './units.ts';

/** A model as the readers of its parts see it. */
export interface Model {
  readonly step: StepFile;
  readonly units: Units;
}

/** Why something has no place. */
export interface Unplaced {
  readonly reason: string;
}

/** Placements hang on placements; deeper than this is a ring or rubbish. */
const MAX_DEPTH = 200;

/** A point in metres; what is missing is 0. */
export function readPoint({ step, units }: Model, id: number): Vec3 {
  return toPoint(step.read(id)[0], units.length);
}

export function toPoint(coordinates: Value | undefined, unit: number): Vec3 {
  const list = listOfValues(coordinates);
  return [toCoordinate(list[0], unit), toCoordinate(list[1], unit), toCoordinate(list[2], unit)];
}

/** What is written and is no finite number stays none, so that nothing is built on it. */
function toCoordinate(value: Value | undefined, unit: number): number {
  const number = numberOf(value);
  if (number !== undefined) return number * unit;
  return value === undefined || value === null ? 0 : Number.NaN;
}

/** A direction of any length, undefined when there is none. */
export function readDirection({ step }: Model, id: number): Vec3 | undefined {
  return id === 0 ? undefined : toPoint(step.read(id)[0], 1);
}

/** IfcAxis2Placement2D, 3D or IfcAxis1Placement; the system around it when there is none. */
export function readAxes(model: Model, id: number): Frame {
  if (id === 0) return WORLD;
  const args = model.step.read(id);
  const o = readPoint(model, refOf(args[0]));
  if (model.step.typeOf(id) === 'IFCAXIS2PLACEMENT2D')
    return frameOf(o, undefined, readDirection(model, refOf(args[1])));
  return frameOf(o, readDirection(model, refOf(args[1])), readDirection(model, refOf(args[2])));
}

/** IfcCartesianTransformationOperator: axes may be mirrored and scaled. */
export function readOperator(model: Model, id: number): Frame {
  const { step } = model;
  const args = step.read(id);
  const type = step.typeOf(id);
  const factor = numberOf(args[3]) ?? 1;
  const o = readPoint(model, refOf(args[2]));
  const x = readDirection(model, refOf(args[0]));
  const y = readDirection(model, refOf(args[1]));
  const is2D = type.startsWith('IFCCARTESIANTRANSFORMATIONOPERATOR2D');
  const z = is2D ? undefined : readDirection(model, refOf(args[4]));
  const isUneven = type.endsWith('NONUNIFORM');
  const second = (isUneven ? numberOf(args[is2D ? 4 : 5]) : undefined) ?? factor;
  const third = (isUneven && !is2D ? numberOf(args[6]) : undefined) ?? factor;
  const straight = frameOf(o, z ?? WORLD.z, x);
  // The second axis only decides on which side of the first it lies.
  const isMirrored = y !== undefined && y[0] * straight.y[0] + y[1] * straight.y[1] + y[2] * straight.y[2] < 0;
  return {
    x: scale(straight.x, factor),
    y: scale(straight.y, isMirrored ? -second : second),
    z: scale(straight.z, third),
    o,
  };
}

export interface Placements {
  /** The frame of a placement in the project's world. */
  frameOf(id: number): Frame | Unplaced;
  /** Whether a placement hangs on a grid, which the geometry engine puts on the origin. */
  hangsOnGrid(id: number): boolean;
}

/** Placements resolved once each. */
export function createPlacements(model: Model): Placements {
  const { step } = model;
  const known = new Map<number, Frame | Unplaced>();
  const gridded = new Set<number>();

  const resolve = (id: number, depth: number): Frame | Unplaced => {
    if (id === 0) return WORLD;
    const before = known.get(id);
    if (before !== undefined) return before;
    if (depth > MAX_DEPTH) return { reason: 'its placement refers to itself in a circle' };
    // Until it is resolved it must not be asked for again.
    known.set(id, { reason: 'its placement refers to itself in a circle' });
    const frame = readPlacement(id, depth);
    const sound =
      'reason' in frame || isFiniteFrame(frame) ? frame : { reason: 'its placement has numbers that are none' };
    known.set(id, sound);
    return sound;
  };

  const readPlacement = (id: number, depth: number): Frame | Unplaced => {
    const args = step.read(id);
    switch (step.typeOf(id)) {
      case 'IFCLOCALPLACEMENT': {
        const outerId = refOf(args[0]);
        const outer = resolve(outerId, depth + 1);
        if (gridded.has(outerId)) gridded.add(id);
        return 'reason' in outer ? outer : compose(outer, readAxes(model, refOf(args[1])));
      }
      case 'IFCGRIDPLACEMENT': {
        gridded.add(id);
        // IFC4x3 names the placement around it first; before, the grid's own counts.
        const isNewer = args.length > 2;
        const crossing = readCrossing(refOf(args[isNewer ? 1 : 0]), depth);
        if ('reason' in crossing) return crossing;
        const towards = refOf(args[isNewer ? 2 : 1]);
        return placeOnGrid(crossing, towards, depth);
      }
      case 'IFCLINEARPLACEMENT': {
        const fallback = refOf(args[2]);
        const outer = resolve(refOf(args[0]), depth + 1);
        if (fallback === 0) return { reason: 'it is placed along an alignment, which is not followed' };
        return 'reason' in outer ? outer : compose(outer, readAxes(model, fallback));
      }
      case '':
        return { reason: `its placement #${id} is missing` };
      default:
        return { reason: `its placement is an ${step.typeOf(id)}, which is not read` };
    }
  };

  interface Crossing {
    readonly at: Vec3;
    readonly axes: Frame;
    readonly grid: Frame;
  }

  /** Where two grid axes cross, in the world. */
  const readCrossing = (id: number, depth: number): Crossing | Unplaced => {
    const args = step.read(id);
    const axes = listOfValues(args[0]).map(refOf);
    const offsets = listOfValues(args[1]).map((value) => (numberOf(value) ?? 0) * model.units.length);
    const [first = 0, second = 0] = axes;
    const grid = gridOf(first) || gridOf(second);
    const frame = grid === 0 ? WORLD : resolve(refOf(step.read(grid)[5]), depth + 1);
    if ('reason' in frame) return frame;
    const a = readGridLine(model, first, offsets[0] ?? 0);
    const b = readGridLine(model, second, offsets[1] ?? 0);
    if (a === undefined || b === undefined) return { reason: 'it stands on grid axes that are no straight lines' };
    const across = a.along[0] * b.along[1] - a.along[1] * b.along[0];
    if (Math.abs(across) < 1e-9) return { reason: 'it stands on two grid axes that do not cross' };
    const t = ((b.from[0] - a.from[0]) * b.along[1] - (b.from[1] - a.from[1]) * b.along[0]) / across;
    const at: Vec3 = [a.from[0] + a.along[0] * t, a.from[1] + a.along[1] * t, offsets[2] ?? 0];
    return { at, axes: frameOf(at, undefined, a.along), grid: frame };
  };

  const placeOnGrid = (crossing: Crossing, towards: number, depth: number): Frame | Unplaced => {
    const local = (ref: Vec3 | undefined): Frame => compose(crossing.grid, frameOf(crossing.at, undefined, ref));
    if (towards === 0) return compose(crossing.grid, crossing.axes);
    if (step.typeOf(towards) === 'IFCVIRTUALGRIDINTERSECTION') {
      const other = readCrossing(towards, depth + 1);
      if ('reason' in other) return other;
      return local([other.at[0] - crossing.at[0], other.at[1] - crossing.at[1], 0]);
    }
    return local(readDirection(model, towards));
  };

  let grids: Map<number, number> | undefined;
  const gridOf = (axis: number): number => {
    if (grids === undefined) {
      grids = new Map();
      for (const grid of step.listOf('IFCGRID')) {
        for (const list of step.read(grid).slice(7, 10)) {
          for (const value of listOfValues(list)) grids.set(refOf(value), grid);
        }
      }
    }
    return grids.get(axis) ?? 0;
  };

  return { frameOf: (id) => resolve(id, 0), hangsOnGrid: (id) => gridded.has(id) };
}

/** A straight grid axis in the grid's own system, moved to its left by the offset. */
function readGridLine(model: Model, axis: number, offset: number): { from: Vec3; along: Vec3 } | undefined {
  const { step } = model;
  const args = step.read(axis);
  const curve = refOf(args[1]);
  const curveArgs = step.read(curve);
  let from: Vec3 | undefined;
  let towards: Vec3 | undefined;
  if (step.typeOf(curve) === 'IFCPOLYLINE') {
    const points = listOfValues(curveArgs[0]).map((value) => readPoint(model, refOf(value)));
    from = points[0];
    const last = points[points.length - 1];
    if (from !== undefined && last !== undefined) towards = [last[0] - from[0], last[1] - from[1], 0];
  } else if (step.typeOf(curve) === 'IFCLINE') {
    from = readPoint(model, refOf(curveArgs[0]));
    towards = readDirection(model, refOf(step.read(refOf(curveArgs[1]))[0]));
  } else if (step.typeOf(curve) === 'IFCTRIMMEDCURVE') {
    const basis = step.read(refOf(curveArgs[0]));
    if (step.typeOf(refOf(curveArgs[0])) !== 'IFCLINE') return undefined;
    from = readPoint(model, refOf(basis[0]));
    towards = readDirection(model, refOf(step.read(refOf(basis[1]))[0]));
  }
  let along = towards && normalise(towards);
  if (from === undefined || along === undefined) return undefined;
  if (args[2] === '.F.') along = scale(along, -1);
  return { from: [from[0] - along[1] * offset, from[1] + along[0] * offset, 0], along };
}
