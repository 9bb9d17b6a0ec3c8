/** The shape of a thing in the project's world: its bodies, or what stands in for them. */
import { type Body, type Extent, extentOf, footprintOf, type Prism, placeBody } from './bodies.ts';
import { readCurve } from './curves.ts';
import { compose, type Frame, WORLD } from './frame.ts';
import { type Model, type Placements, readAxes, readOperator, type Unplaced } from './placements.ts';
import { evenOdd, type Region } from './regions.ts';
import { createSolids } from './solids.ts';
import { refOf, refsOf, textOf } from './step-file.ts';

export interface Shape {
  readonly bodies: readonly Body[];
  /** Where the shape comes from: outlines without height, a box around it, nothing at all. */
  readonly form: 'body' | 'outline' | 'box' | 'none';
  /** Types of items that were not or only roughly read: the engine may know them. */
  readonly unread: readonly string[];
  readonly frame: Frame;
}

export interface Shapes {
  /** The shape of a product, or why it has no place. */
  shapeOf(id: number): Shape | Unplaced;
}

/** A body is looked for under these identifiers first; files without any are told by the type of representation. */
const BODY_NAMES = ['Body', 'Body-FallBack', 'Body-Fallback', 'Facetation', 'Tessellation', 'Surface', 'Model'];
const BODY_TYPES =
  /^(SweptSolid|AdvancedSweptSolid|Brep|AdvancedBrep|CSG|Clipping|Tessellation|SolidModel|SurfaceModel|Surface3D|SectionedSpine|MappedRepresentation|CompositeCurve3D)$/u;

export function createShapes(model: Model, placements: Placements): Shapes {
  const { step } = model;
  const readSolids = createSolids(model);

  const readProduct = (id: number): Shape | Unplaced => {
    const args = step.read(id);
    const frame = placements.frameOf(refOf(args[5]));
    if ('reason' in frame) return frame;
    const representations = refsOf(step.read(refOf(args[6]))[2]);
    const named = representations.map((representation) => {
      const parts = step.read(representation);
      return { name: textOf(parts[1]), type: textOf(parts[2]), items: refsOf(parts[3]) };
    });
    const body =
      named.find(({ name }) => name === 'Body') ??
      named.find(({ name, type }) => BODY_NAMES.includes(name) && type !== 'BoundingBox') ??
      named.find(
        ({ name, type }) =>
          BODY_TYPES.test(type) &&
          !/^(Axis|FootPrint|Plan|Box|Reference|Clearance|Profile|Lighting|Annotation)$/iu.test(name),
      );
    if (body !== undefined) {
      const { bodies, unread } = readSolids(body.items);
      const placed = bodies.map((part) => placeBody(part, frame));
      if (placed.length > 0 || unread.length > 0) return { bodies: placed, form: 'body', unread, frame };
    }
    const outline = named.find(({ name }) => /^footprint$/iu.test(name));
    if (outline !== undefined) {
      const regions = readOutline(model, outline.items, WORLD, 0);
      const flat: Prism = { kind: 'prism', regions, z0: 0, z1: 0, cuts: [] };
      if (regions.length > 0) return { bodies: [placeBody(flat, frame)], form: 'outline', unread: [], frame };
    }
    const box = named.find(({ type, name }) => type === 'BoundingBox' || name === 'Box');
    if (box !== undefined) {
      const { bodies } = readSolids(box.items);
      if (bodies.length > 0)
        return { bodies: bodies.map((part) => placeBody(part, frame)), form: 'box', unread: [], frame };
    }
    return { bodies: [], form: 'none', unread: [], frame };
  };

  return { shapeOf: readProduct };
}

/** Closed curves as outlines, those inside others as their holes. */
function readOutline(model: Model, items: readonly number[], frame: Frame, depth: number): Region[] {
  const { step } = model;
  if (depth > 8) return [];
  const rings: Region['outer'][] = [];
  const regions: Region[] = [];
  for (const item of items) {
    const args = step.read(item);
    switch (step.typeOf(item)) {
      case 'IFCGEOMETRICCURVESET':
      case 'IFCGEOMETRICSET':
        regions.push(...readOutline(model, refsOf(args[0]), frame, depth + 1));
        break;
      case 'IFCMAPPEDITEM': {
        const map = step.read(refOf(args[0]));
        const inner = compose(readOperator(model, refOf(args[1])), readAxes(model, refOf(map[0])));
        regions.push(...readOutline(model, refsOf(step.read(refOf(map[1]))[3]), compose(frame, inner), depth + 1));
        break;
      }
      case 'IFCANNOTATIONFILLAREA':
        for (const curve of [refOf(args[0]), ...refsOf(args[1])]) addRing(curve);
        break;
      default:
        addRing(item);
    }
  }
  function addRing(curve: number): void {
    const points = readCurve(model, curve);
    if (points === undefined || points.length < 3) return;
    const placed = placeBody({ kind: 'mesh', xyz: Float64Array.from(points.flat()), faces: [] }, frame);
    if (placed.kind !== 'mesh') return;
    rings.push(points.map((_, i) => [placed.xyz[3 * i] as number, placed.xyz[3 * i + 1] as number] as const));
  }
  return [...regions, ...evenOdd(rings)];
}

/** What a floor needs of a shape: outline, base and top, kept instead of the bodies. */
export interface Solid extends Extent {
  readonly regions: readonly Region[];
}

export function toSolid(bodies: readonly Body[]): Solid | undefined {
  const extent = extentOf(bodies);
  if (extent === undefined) return undefined;
  const regions = footprintOf(bodies);
  return regions.length > 0 ? { ...extent, regions } : undefined;
}
