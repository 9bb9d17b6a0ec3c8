/** What lies under a px: signs first, then bodies by the ray behind it. */
import type { Detector, Floor, Furniture, Point } from '../../../core/floor/index.ts';
import { computeRingDistance, isInRing } from '../../../core/geometry/polygon.ts';
import { crossOutline } from '../../../editor/probe.ts';
import type { ThingKind } from '../../../editor/things.ts';
import { TARGET } from '../../tokens.ts';
import type { CameraRig, Ray } from '../camera/camera-rig.ts';
import type { Grip } from '../layers/mask-layer.ts';
import { heightOfLens } from '../lens-height.ts';
import type { LocalFrame } from '../local-frame.ts';

const HIT = TARGET.handleHit / 2;

/** The mask handle under a px. */
export function pickGrip(rig: CameraRig, grips: readonly Grip[], px: number, py: number): Grip | null {
  return nearest(grips, HIT, (grip) => rig.project(grip.x, grip.y, grip.z), px, py);
}

/** The id of the detector under a px. */
export function pickDetector(floor: Floor, rig: CameraRig, frame: LocalFrame, px: number, py: number): string | null {
  const project = (detector: Detector) => {
    const [x, y] = detector.at;
    return rig.project(x - frame.x, y - frame.y, heightOfLens(detector, floor));
  };
  return nearest(floor.detectors, HIT, project, px, py)?.id ?? null;
}

const NONE: ReadonlySet<ThingKind> = new Set();

/** The id of whatever is under a px, a room at its walls; null on empty floor. Of hidden kinds nothing is met. */
export function pickThing(
  whole: Floor,
  rig: CameraRig,
  frame: LocalFrame,
  px: number,
  py: number,
  hidden: ReadonlySet<ThingKind> = NONE,
): string | null {
  const floor = hidden.size === 0 ? whole : leaveAway(whole, hidden);
  const detector = pickDetector(floor, rig, frame, px, py);
  if (detector !== null) return detector;
  const plane = floor.analysis.seatedPlane;
  const place = rig.placeAt(px, py, plane);
  const at = place && ([place[0] + frame.x, place[1] + frame.y] as const);
  const byScreen = (x: number, y: number, z: number) => rig.project(x - frame.x, y - frame.y, z);
  const source = nearest(floor.sources, HIT, (each) => byScreen(each.at[0], each.at[1], each.top), px, py);
  if (source !== null) return source.id;
  const seat = nearest(floor.workplaces, 9, (each) => byScreen(each.at[0], each.at[1], plane), px, py);
  if (seat !== null) return seat.id;
  const scale = rig.view.scale;
  if (at !== null && scale > 45) {
    const close = floor.workplaces.find((each) => Math.hypot(each.at[0] - at[0], each.at[1] - at[1]) <= each.radius);
    if (close !== undefined) return close.id;
  }
  const luminaire = pickLuminaire(floor, rig, frame, px, py);
  const piece = pickFurniture(floor, rig.rayAt(px, py), frame);
  // From above a luminaire hangs over whatever stands below it.
  if (luminaire !== null && (piece === null || rig.lean < 0.02)) return luminaire;
  if (piece !== null) return piece.id;
  const ground = rig.placeAt(px, py, 0);
  if (ground === null) return null;
  const foot: Point = [ground[0] + frame.x, ground[1] + frame.y];
  const opening = floor.openings.find((each) => holds(each, foot, 4 / scale));
  if (opening !== undefined) return opening.id;
  const zone = floor.zones.find((each) => computeRingDistance(each.outline, foot[0], foot[1]) * scale < 6);
  if (zone !== undefined) return zone.id;
  const wall = floor.rooms.find((room) =>
    [room.outline, ...room.holes].some((ring) => computeRingDistance(ring, foot[0], foot[1]) * scale < 6),
  );
  return wall?.id ?? null;
}

function leaveAway(floor: Floor, hidden: ReadonlySet<ThingKind>): Floor {
  const shown = <Item>(kind: ThingKind, items: readonly Item[]): readonly Item[] => (hidden.has(kind) ? [] : items);
  return {
    ...floor,
    rooms: shown('room', floor.rooms),
    openings: shown('opening', floor.openings),
    furniture: shown('furniture', floor.furniture),
    luminaires: shown('luminaire', floor.luminaires),
    workplaces: shown('workplace', floor.workplaces),
    zones: shown('zone', floor.zones),
    sources: shown('source', floor.sources),
    detectors: shown('detector', floor.detectors),
  };
}

function nearest<Item>(
  items: readonly Item[],
  within: number,
  project: (item: Item) => readonly [number, number] | null,
  px: number,
  py: number,
): Item | null {
  let best: Item | null = null;
  let least = within;
  for (const item of items) {
    const at = project(item);
    if (at === null) continue;
    const far = Math.hypot(at[0] - px, at[1] - py);
    if (far <= least) {
      least = far;
      best = item;
    }
  }
  return best;
}

/** In plan, and on its underside elsewhere. */
function pickLuminaire(
  { luminaires }: Floor,
  rig: CameraRig,
  frame: LocalFrame,
  px: number,
  py: number,
): string | null {
  const found = luminaires.find(({ at, size, turn, base, top }) => {
    const place = rig.placeAt(px, py, rig.lean < 0.02 ? top : base);
    if (place === null) return false;
    const [dx, dy] = [place[0] + frame.x - at[0], place[1] + frame.y - at[1]];
    const angle = (turn * Math.PI) / 180;
    const along = Math.abs(dx * Math.cos(angle) + dy * Math.sin(angle));
    const across = Math.abs(dy * Math.cos(angle) - dx * Math.sin(angle));
    return along <= size[0] / 2 && across <= size[1] / 2;
  });
  return found?.id ?? null;
}

/** The piece a ray meets first. */
function pickFurniture(floor: Floor, ray: Ray, frame: LocalFrame): Furniture | null {
  let best: Furniture | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const piece of floor.furniture) {
    const far = meetPrism(piece, ray, frame);
    if (far !== null && far < least) {
      least = far;
      best = piece;
    }
  }
  return best;
}

/** Metres along the ray to a prism; null when it passes by. */
function meetPrism({ outline, base, top }: Furniture, { origin, direction }: Ray, frame: LocalFrame): number | null {
  const x = origin.x + frame.x;
  const y = origin.y + frame.y;
  const level = Math.abs(direction.z) < 1e-9;
  if (level && (origin.z < base || origin.z > top)) return null;
  const enter = level ? 0 : Math.max(0, Math.min((base - origin.z) / direction.z, (top - origin.z) / direction.z));
  const leave = level ? 1_000 : Math.max((base - origin.z) / direction.z, (top - origin.z) / direction.z);
  if (leave <= enter) return null;
  const a: Point = [x + direction.x * enter, y + direction.y * enter];
  if (isInRing(outline, a[0], a[1])) return enter;
  const b: Point = [x + direction.x * leave, y + direction.y * leave];
  const first = crossOutline(outline, a, b)[0];
  return first === undefined ? null : enter + (leave - enter) * first[0];
}

/** Whether a place lies in an opening's part of the wall. */
function holds({ from, to, depth }: Floor['openings'][number], [x, y]: Point, slack: number): boolean {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const ux = (to[0] - from[0]) / length;
  const uy = (to[1] - from[1]) / length;
  const along = (x - from[0]) * ux + (y - from[1]) * uy;
  const across = Math.abs((y - from[1]) * ux - (x - from[0]) * uy);
  return along >= 0 && along <= length && across <= Math.min(0.2, depth / 2) + slack;
}
