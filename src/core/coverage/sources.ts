/** What is warm or moves and is not a person: which detectors can see it, and the mask that would hide it. */
import type { Floor, Mask, Point, Source } from '../floor/index.ts';
import { findRoomAt } from '../floor/index.ts';
import type { Lens, Scene, Surroundings, Watch } from '../sight/index.ts';
import { createSurroundings, extentAt, outerRadius, SLACK, WHEN_STATED, watchFrom } from '../sight/index.ts';
import type { Coverage } from './coverage.ts';
import type { MaskProposal, SourceResult } from './result.ts';

/** Nearest plan distance from a lens at which a source is common practice, metres (no published source). */
export const KEEP_OFF: { readonly [kind in Source['kind'] | 'luminaire']?: number } = {
  'air outlet': 1.5,
  heater: 2,
  lamp: 1,
  luminaire: 1,
};

/** A source with the detectors that hang too near it, and how near. */
export interface SourceVerdict extends SourceResult {
  readonly nearest: readonly { readonly detector: number; readonly distance: number }[];
  /** Index of the room it stands in, -1 for none. */
  readonly room: number;
}

export function judgeSources(coverage: Coverage): SourceVerdict[] {
  const { floor, scene } = coverage;
  const surroundings = createSurroundings(scene);
  const seen = floor.sources.map(() => [] as number[]);
  scene.lenses.forEach((lens, detector) => {
    const candidates = [...floor.sources.entries()].filter(([, source]) => reachesSource(lens, source));
    if (candidates.length === 0) return;
    const lowest = Math.min(...candidates.map(([, source]) => source.base));
    const watch = watchFrom(scene, surroundings, lens, lowest, WHEN_STATED);
    for (const [index, source] of candidates) if (seesAny(floor.rooms, watch, source)) seen[index]!.push(detector);
  });
  return floor.sources.map((source, index) => {
    const keepOff = KEEP_OFF[source.kind];
    const nearest = scene.lenses.flatMap((lens, detector) => {
      const distance = Math.hypot(source.at[0] - lens.x, source.at[1] - lens.y);
      return !lens.removed && keepOff !== undefined && distance < keepOff - SLACK ? [{ detector, distance }] : [];
    });
    return {
      id: source.id,
      seenBy: seen[index]!.map((detector) => floor.detectors[detector]!.id),
      near: nearest.length > 0,
      masks: seen[index]!.map(
        (detector): MaskProposal => ({
          detector: floor.detectors[detector]!.id,
          ...proposeMask(scene.lenses[detector]!, source),
        }),
      ),
      nearest,
      room: roomIndexAt(floor.rooms, source.at),
    };
  });
}

/** Can a lens see any of a source? */
export function seesSource(scene: Scene, surroundings: Surroundings, lens: Lens, source: Source): boolean {
  if (!reachesSource(lens, source)) return false;
  return seesAny(scene.floor.rooms, watchFrom(scene, surroundings, lens, source.base, WHEN_STATED), source);
}

function reachesSource(lens: Lens, source: Source): boolean {
  if (lens.removed) return false;
  const { minor, tangential, radial } = lens.ranges;
  const reach = Math.max(
    ...[minor, tangential, radial].map((range) => outerRadius(extentAt(range, lens.h, source.base))),
  );
  return reach > 0 && Math.hypot(source.at[0] - lens.x, source.at[1] - lens.y) <= reach + source.radius + SLACK;
}

function roomIndexAt(rooms: Floor['rooms'], at: Point): number {
  const room = findRoomAt(rooms, at);
  return room ? rooms.indexOf(room) : -1;
}

/** Samples of a source's body: rings of its disc at some heights, the nearest point to the lens among them. */
function* samplePlaces(source: Source, lens: Lens): Generator<readonly [number, number, number]> {
  const [x, y] = source.at;
  const top = Math.min(source.top, lens.h - 1e-6);
  const toward = Math.atan2(lens.y - y, lens.x - x);
  for (const part of [0, 0.5, 1]) {
    const h = source.base + part * (top - source.base);
    yield [x, y, h];
    for (const radius of [0.5, 0.999]) {
      for (let k = 0; k < 16; k++) {
        const a = toward + (k * Math.PI) / 8;
        yield [x + radius * source.radius * Math.cos(a), y + radius * source.radius * Math.sin(a), h];
      }
    }
  }
}

function seesAny(rooms: Floor['rooms'], watch: Watch, source: Source): boolean {
  for (const [x, y, h] of samplePlaces(source, watch.lens)) {
    if (watch.seesAny(x, y, h) && findRoomAt(rooms, [x, y])) return true;
  }
  return false;
}

/**
 * The smallest mask that hides a whole disc-shaped source from a lens, rounded outwards to whole degrees; azimuths in
 * the detector's own turned frame. The whole ring when the lens hangs over it.
 */
export function proposeMask(
  lens: { readonly x: number; readonly y: number; readonly h: number; readonly turn: number },
  source: { readonly at: Point; readonly radius: number; readonly base: number; readonly top: number },
): Pick<Mask, 'from' | 'to' | 'inner' | 'outer'> {
  const dx = source.at[0] - lens.x;
  const dy = source.at[1] - lens.y;
  const distance = Math.hypot(dx, dy);
  const degrees = (radians: number) => (radians * 180) / Math.PI;
  const inner = degrees(Math.atan2(Math.max(0, distance - source.radius), lens.h - source.base));
  const outer = source.top >= lens.h ? 90 : degrees(Math.atan2(distance + source.radius, lens.h - source.top));
  const nadir = { inner: Math.max(0, Math.floor(inner + SLACK)), outer: Math.min(90, Math.ceil(outer - SLACK)) };
  if (distance <= source.radius) return { from: 0, to: 360, inner: 0, outer: nadir.outer };
  const azimuth = degrees(Math.atan2(dy, dx)) - lens.turn;
  const half = degrees(Math.asin(source.radius / distance));
  const from = Math.floor(azimuth - half + SLACK);
  const to = Math.ceil(azimuth + half - SLACK);
  const turned = (angle: number) => ((angle % 360) + 360) % 360;
  return { from: turned(from), to: turned(to), ...nadir };
}
