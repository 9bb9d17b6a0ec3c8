/** Profiles of swept bodies as outlines with holes, in the profile's own plane, metres. */
import { Clipper, EndType, JoinType } from 'clipper2-ts';
import type { PlanPoint, PlanRing } from '../../core/geometry/polygon.ts';
import { countSegments, readCurve } from './curves.ts';
import { type Frame, toOuter, WORLD } from './frame.ts';
import { type Model, readAxes, readOperator } from './placements.ts';
import type { Region } from './regions.ts';
import { numberOf, refOf, refsOf, type Value } from './step-file.ts';

const MAX_DEPTH = 16;
const TURN = 2 * Math.PI;

/** The outlines of a profile, undefined when its kind is not read. */
export function readProfile(model: Model, id: number, depth = 0): readonly Region[] | undefined {
  const { step } = model;
  const args = step.read(id);
  if (depth > MAX_DEPTH) return undefined;
  switch (step.typeOf(id)) {
    case 'IFCARBITRARYCLOSEDPROFILEDEF':
    case 'IFCARBITRARYPROFILEDEFWITHVOIDS': {
      const outer = readRing(model, refOf(args[2]));
      const holes = refsOf(args[3]).map((hole) => readRing(model, hole));
      if (outer === undefined || holes.some((hole) => hole === undefined)) return undefined;
      return [{ outer, holes: holes.filter((hole) => hole !== undefined) }];
    }
    case 'IFCCENTERLINEPROFILEDEF': {
      const line = readRing(model, refOf(args[2]));
      const width = (numberOf(args[3]) ?? 0) * model.units.length;
      return line === undefined || !(width > 0) ? undefined : thicken(line, width);
    }
    case 'IFCCOMPOSITEPROFILEDEF': {
      const parts = refsOf(args[2]).map((part) => readProfile(model, part, depth + 1));
      return parts.every((part) => part !== undefined) ? parts.flat() : undefined;
    }
    case 'IFCDERIVEDPROFILEDEF':
    case 'IFCMIRROREDPROFILEDEF': {
      const parent = readProfile(model, refOf(args[2]), depth + 1);
      const mirror: Frame = { ...WORLD, x: [-1, 0, 0] };
      const frame = refOf(args[3]) > 0 ? readOperator(model, refOf(args[3])) : mirror;
      return parent && moveRegions(parent, frame);
    }
    default: {
      const region = readParametric(model, step.typeOf(id), args);
      return region && moveRegions([region], readAxes(model, refOf(args[2])));
    }
  }
}

function readRing(model: Model, id: number): PlanRing | undefined {
  const points = readCurve(model, id);
  return points && points.length >= 2 ? points.map(([x, y]) => [x, y] as const) : undefined;
}

function moveRegions(regions: readonly Region[], frame: Frame): readonly Region[] {
  if (frame === WORLD) return regions;
  const move = (ring: PlanRing): PlanRing =>
    ring.map(([x, y]) => {
      const [u, v] = toOuter(frame, [x, y, 0]);
      return [u, v];
    });
  return regions.map(({ outer, holes }) => ({ outer: move(outer), holes: holes.map(move) }));
}

function thicken(line: PlanRing, width: number): Region[] {
  const path = line.map(([x, y]) => ({ x, y }));
  const rings = Clipper.inflatePathsD([path], width / 2, JoinType.Miter, EndType.Butt, 2, 6);
  return rings.map((ring) => ({ outer: ring.map(({ x, y }) => [x, y] as const), holes: [] }));
}

/** Profiles given by sizes, centred on their own origin as the standard draws them; fillets and slopes left out. */
function readParametric(model: Model, type: string, args: readonly Value[]): Region | undefined {
  const size = (at: number): number => (numberOf(args[at]) ?? 0) * model.units.length;
  const [a, b, c, d] = [size(3), size(4), size(5), size(6)];
  const solid = (outer: PlanRing, ...holes: PlanRing[]): Region => ({ outer, holes });
  switch (type) {
    case 'IFCRECTANGLEPROFILEDEF':
    case 'IFCROUNDEDRECTANGLEPROFILEDEF':
      return solid(rectangle(a, b));
    case 'IFCRECTANGLEHOLLOWPROFILEDEF':
      return solid(rectangle(a, b), rectangle(a - 2 * c, b - 2 * c));
    case 'IFCCIRCLEPROFILEDEF':
      return solid(ellipse(a, a));
    case 'IFCCIRCLEHOLLOWPROFILEDEF':
      return solid(ellipse(a, a), ellipse(a - b, a - b));
    case 'IFCELLIPSEPROFILEDEF':
      return solid(ellipse(a, b));
    case 'IFCTRAPEZIUMPROFILEDEF': {
      const left = -a / 2 + d;
      return solid([
        [-a / 2, -c / 2],
        [a / 2, -c / 2],
        [left + b, c / 2],
        [left, c / 2],
      ]);
    }
    case 'IFCISHAPEPROFILEDEF':
      return solid(iShape(a, d, a, d, b, c));
    case 'IFCASYMMETRICISHAPEPROFILEDEF':
      return solid(iShape(a, d, size(8), numberOf(args[9]) === undefined ? d : size(9), b, c));
    case 'IFCTSHAPEPROFILEDEF':
      return solid([
        [-c / 2, -a / 2],
        [c / 2, -a / 2],
        [c / 2, a / 2 - d],
        [b / 2, a / 2 - d],
        [b / 2, a / 2],
        [-b / 2, a / 2],
        [-b / 2, a / 2 - d],
        [-c / 2, a / 2 - d],
      ]);
    case 'IFCLSHAPEPROFILEDEF': {
      const width = numberOf(args[4]) === undefined ? a : b;
      const [x, y] = [width / 2, a / 2];
      return solid([
        [-x, -y],
        [x, -y],
        [x, c - y],
        [c - x, c - y],
        [c - x, y],
        [-x, y],
      ]);
    }
    case 'IFCUSHAPEPROFILEDEF': {
      const [x, y] = [b / 2, a / 2];
      return solid([
        [-x, -y],
        [x, -y],
        [x, d - y],
        [c - x, d - y],
        [c - x, y - d],
        [x, y - d],
        [x, y],
        [-x, y],
      ]);
    }
    case 'IFCCSHAPEPROFILEDEF': {
      const [x, y] = [b / 2, a / 2];
      return solid([
        [-x, -y],
        [x, -y],
        [x, d - y],
        [x - c, d - y],
        [x - c, c - y],
        [c - x, c - y],
        [c - x, y - c],
        [x - c, y - c],
        [x - c, y - d],
        [x, y - d],
        [x, y],
        [-x, y],
      ]);
    }
    case 'IFCZSHAPEPROFILEDEF': {
      const [x, y, web] = [b - c / 2, a / 2, c / 2];
      return solid([
        [-web, -y],
        [x, -y],
        [x, d - y],
        [web, d - y],
        [web, y],
        [-x, y],
        [-x, y - d],
        [-web, y - d],
      ]);
    }
    default:
      return undefined;
  }
}

function rectangle(width: number, depth: number): PlanRing {
  const [x, y] = [width / 2, depth / 2];
  return [
    [-x, -y],
    [x, -y],
    [x, y],
    [-x, y],
  ];
}

function ellipse(a: number, b: number): PlanRing {
  const count = countSegments(Math.max(a, b));
  return Array.from({ length: count }, (_, i): PlanPoint => {
    const angle = (TURN * i) / count;
    return [a * Math.cos(angle), b * Math.sin(angle)];
  });
}

function iShape(
  bottom: number,
  bottomFlange: number,
  top: number,
  topFlange: number,
  depth: number,
  web: number,
): PlanRing {
  const [x, u, y, w] = [bottom / 2, top / 2, depth / 2, web / 2];
  return [
    [-x, -y],
    [x, -y],
    [x, bottomFlange - y],
    [w, bottomFlange - y],
    [w, y - topFlange],
    [u, y - topFlange],
    [u, y],
    [-u, y],
    [-u, y - topFlange],
    [-w, y - topFlange],
    [-w, bottomFlange - y],
    [-x, bottomFlange - y],
  ];
}
