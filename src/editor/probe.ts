/** What a probed place is told: who sees it, who misses it and why, and what stands in the nearest missed line. */
import { type Coverage, probeAt } from '../core/coverage/index.ts';
import type { PlaneName } from '../core/coverage/result.ts';
import type { BlockerId, Detector, Floor, Furniture, Motion, Point, Ring } from '../core/floor/index.ts';
import { isInRing } from '../core/geometry/polygon.ts';
import { compileScene, type Sight, type Target, traceSight } from '../core/sight/index.ts';
import { indexOfId } from './things.ts';

export interface ProbeLine {
  readonly detector: Detector;
  readonly lens: readonly [number, number, number];
  readonly sight: Sight;
  /** Walking: seen, but only by someone walking past. */
  readonly pastOnly: boolean;
  readonly serving: boolean;
  /** Metres in plan. */
  readonly distance: number;
}

/** Something the section cuts: from and to in metres from the lens along the line, base and top in metres. */
export interface SectionPiece {
  readonly id: string;
  readonly name: string;
  readonly from: number;
  readonly to: number;
  readonly base: number;
  readonly top: number;
}

export interface Section {
  readonly line: ProbeLine;
  readonly target: Target;
  readonly length: number;
  readonly ceiling: number;
  readonly pieces: readonly SectionPiece[];
  /** Where the line ends, metres from the lens and above the floor; null where only its range ends. */
  readonly cut: { readonly along: number; readonly height: number } | null;
  /** The top at which its blocker would clear this line, and by how much it is too tall; null where lowering it would not do. */
  readonly clears: { readonly id: string; readonly name: string; readonly top: number; readonly byM: number } | null;
}

export interface Probe {
  readonly target: Target;
  readonly plane: PlaneName;
  /** In the order seen, hidden, masked, out of range; the nearest first. Those far out of range are left out. */
  readonly lines: readonly ProbeLine[];
  readonly section: Section | null;
  /** The piece that stands where the place is, up to its height: nobody can be there. */
  readonly taken: Furniture | null;
}

/** Lines that miss by more than this many metres are listed only when nothing else is. */
const NEAR_MISS = 0.7;
const AT_LEAST = 3;

/** Traces the place at the plane's height from every detector, doors as they stand. */
export function explainPlace(coverage: Coverage, at: Point, plane: PlaneName): Probe {
  const { floor } = coverage;
  const height = plane === 'seated' ? floor.analysis.seatedPlane : floor.analysis.walkingPlane;
  const target = { x: at[0], y: at[1], h: height };
  const taken =
    floor.furniture.find(
      (piece) => piece.base <= height && height < piece.top && isInRing(piece.outline, at[0], at[1]),
    ) ?? null;
  const lines = traceLines(coverage, target, plane).sort(inReadingOrder);
  const near = lines.filter(
    (line) => line.sight.seen || line.sight.why !== 'range' || (line.sight.shortM ?? Infinity) <= NEAR_MISS,
  );
  const shown = near.length > 0 ? near : lines.slice(0, AT_LEAST);
  const seen = lines.some((line) => line.sight.seen && line.serving);
  const missed =
    seen || taken !== null
      ? undefined
      : (shown.find((line) => !line.sight.seen && line.serving) ?? shown.find((line) => !line.sight.seen));
  return {
    target,
    plane,
    lines: shown,
    section: missed === undefined ? null : drawSection(floor, missed, target, plane),
    taken,
  };
}

function traceLines(coverage: Coverage, target: Target, plane: PlaneName): ProbeLine[] {
  const { floor } = coverage;
  const first: Motion = plane === 'seated' ? 'minor' : 'radial';
  const answers = probeAt(coverage, target, first, 'stated');
  const past = plane === 'seated' ? null : probeAt(coverage, target, 'tangential', 'stated');
  return answers.flatMap((answer, i): ProbeLine[] => {
    const index = indexOfId(floor.detectors, answer.detector);
    const detector = floor.detectors[index];
    const lens = coverage.scene.lenses[index];
    if (detector === undefined || lens === undefined || detector.status === 'remove') return [];
    const other = past?.[i]?.sight;
    const pastOnly = !answer.sight.seen && other !== undefined && other.seen;
    // Of two misses the longer range tells more: whoever walks past is seen from farther away.
    const sight =
      answer.sight.seen || other === undefined || (!other.seen && other.why === 'range') ? answer.sight : other;
    const distance = Math.hypot(target.x - lens.x, target.y - lens.y);
    return [{ detector, lens: [lens.x, lens.y, lens.h], sight, pastOnly, serving: answer.serving, distance }];
  });
}

const RANK = { hidden: 1, masked: 2, range: 3 } as const;

function rankOf({ sight }: ProbeLine): number {
  return sight.seen ? 0 : RANK[sight.why];
}

function inReadingOrder(a: ProbeLine, b: ProbeLine): number {
  const short = (line: ProbeLine): number =>
    line.sight.seen || line.sight.why !== 'range' ? 0 : (line.sight.shortM ?? 1e9);
  return (
    rankOf(a) - rankOf(b) || Number(b.serving) - Number(a.serving) || short(a) - short(b) || a.distance - b.distance
  );
}

function drawSection(floor: Floor, line: ProbeLine, target: Target, plane: PlaneName): Section {
  const [x, y] = line.lens;
  const from: Point = [x, y];
  const to: Point = [target.x, target.y];
  const pieces = [...floor.furniture, ...floor.luminaires].flatMap((piece): SectionPiece[] => {
    const outline: Ring = 'outline' in piece ? piece.outline : boxOf(piece.at, piece.size, piece.turn);
    return crossOutline(outline, from, to).map(([a, b]) => ({
      id: piece.id,
      name: piece.name,
      from: a * line.distance,
      to: b * line.distance,
      base: piece.base,
      top: piece.top,
    }));
  });
  const { sight } = line;
  const cut =
    !sight.seen && sight.why === 'hidden'
      ? { along: Math.hypot(sight.at[0] - x, sight.at[1] - y), height: sight.at[2] }
      : null;
  const room = floor.rooms.reduce((high, each) => Math.max(high, each.ceiling), line.lens[2]);
  return {
    line,
    target,
    length: line.distance,
    ceiling: Math.min(room, Math.max(line.lens[2], ...pieces.map((piece) => piece.top), target.h)),
    pieces,
    cut,
    clears: !sight.seen && sight.why === 'hidden' ? findClearTop(floor, line, target, plane, sight.by, pieces) : null,
  };
}

/** Looks for the top, whole centimetres, at which the blocker lets this line pass, and has the reference confirm it. */
function findClearTop(
  floor: Floor,
  line: ProbeLine,
  target: Target,
  plane: PlaneName,
  by: BlockerId,
  pieces: readonly SectionPiece[],
): Section['clears'] {
  const piece = floor.furniture[indexOfId(floor.furniture, by)];
  if (piece === undefined || line.distance === 0) return null;
  const farEnd = Math.max(...pieces.filter((each) => each.id === by).map((each) => each.to));
  const lowest = line.lens[2] + (target.h - line.lens[2]) * (farEnd / line.distance);
  const top = Math.floor(lowest * 100 + 1e-6) / 100;
  if (!(top > piece.base)) return null;
  const crossed = new Set(pieces.map((each) => each.id));
  // Only what the line crosses can stand in its way, besides the walls.
  const lowered: Floor = {
    ...floor,
    furniture: floor.furniture
      .filter((each) => crossed.has(each.id))
      .map((each) => (each === piece ? { ...each, top } : each)),
    luminaires: floor.luminaires.filter((each) => crossed.has(each.id)),
    detectors: [line.detector],
  };
  const scene = compileScene(lowered);
  const motions: readonly Motion[] = plane === 'seated' ? ['minor'] : ['radial', 'tangential'];
  const passes = motions.some((motion) => traceSight(scene, 0, target, motion, 'stated').seen);
  return passes ? { id: piece.id, name: piece.name, top, byM: piece.top - lowest } : null;
}

function boxOf(at: Point, [length, width]: Point, turn: number): Ring {
  const angle = (turn * Math.PI) / 180;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  return [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ].map(([u = 0, v = 0]): Point => {
    const [along, across] = [(u * length) / 2, (v * width) / 2];
    return [at[0] + along * cos - across * sin, at[1] + along * sin + across * cos];
  });
}

/** The stretches of the segment a–b (0 to 1) that lie inside an outline. */
export function crossOutline(outline: Ring, a: Point, b: Point): readonly (readonly [number, number])[] {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const cuts: number[] = [];
  let insideAtStart = false;
  outline.forEach((p, i) => {
    const q = outline[(i + 1) % outline.length] ?? p;
    if (p[1] > a[1] !== q[1] > a[1] && a[0] < p[0] + ((a[1] - p[1]) / (q[1] - p[1])) * (q[0] - p[0]))
      insideAtStart = !insideAtStart;
    const sideP = dx * (p[1] - a[1]) - dy * (p[0] - a[0]);
    const sideQ = dx * (q[1] - a[1]) - dy * (q[0] - a[0]);
    if (sideP > 0 === sideQ > 0) return;
    const part = sideP / (sideP - sideQ);
    const x = p[0] + part * (q[0] - p[0]);
    const y = p[1] + part * (q[1] - p[1]);
    const t = Math.abs(dx) > Math.abs(dy) ? (x - a[0]) / dx : (y - a[1]) / dy;
    if (t > 0 && t < 1) cuts.push(t);
  });
  cuts.sort((s, t) => s - t);
  const ends = insideAtStart ? [0, ...cuts] : cuts;
  if (ends.length % 2 === 1) ends.push(1);
  return Array.from({ length: ends.length / 2 }, (_, i): readonly [number, number] => [
    ends[2 * i] ?? 0,
    ends[2 * i + 1] ?? 1,
  ]);
}
