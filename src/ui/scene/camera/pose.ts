/** Where the camera stands and how it looks. Pure: a view and two mixes in, matrices out. Local metres, z up. */
import { Matrix4, Quaternion, Vector3 } from 'three';
import { clamp } from './easing.ts';

/** What plan and model look at; both cameras share it, so the framing is held while one becomes the other. */
export interface OrbitView {
  readonly x: number;
  readonly y: number;
  /** CSS px per metre at that place. */
  readonly scale: number;
  /** Degrees the model is turned by, counter-clockwise; 0: seen from −y. */
  readonly azimuth: number;
  /** Degrees from looking straight down. */
  readonly polar: number;
}

export interface WalkView {
  readonly x: number;
  readonly y: number;
  /** Degrees counter-clockwise from +x. */
  readonly heading: number;
  /** The lens is shifted, never tilted: part of half the picture's height, above 0 looks up. */
  readonly shift: number;
}

export interface Screen {
  /** CSS px. */
  readonly width: number;
  readonly height: number;
}

export interface Pose {
  readonly position: Vector3;
  readonly turn: Quaternion;
  /** Degrees from the lowest to the highest line of the picture; 0: no perspective. */
  readonly fov: number;
  readonly shift: number;
  /** Px per metre at the place looked at. */
  readonly scale: number;
  /** From the eye to the place looked at, metres. */
  readonly distance: number;
}

const MODEL_FOV = 27;
const PLAN_FOV = 1;
const WALK_FOV = 58;
const EYE = 1.62;
/** Height of the camera over a plan, above everything a file may hold. */
const PLAN_HEIGHT = 60;

/** The pose of plan (lean 0), model (lean 1) or between. */
export function poseOrbit(view: OrbitView, lean: number, screen: Screen): Pose {
  const polar = (view.polar * lean * Math.PI) / 180;
  const azimuth = (view.azimuth * lean * Math.PI) / 180;
  const toEye = new Vector3(Math.sin(polar) * Math.sin(azimuth), -Math.sin(polar) * Math.cos(azimuth), Math.cos(polar));
  const right = new Vector3(Math.cos(azimuth), Math.sin(azimuth), 0);
  const up = new Vector3().crossVectors(toEye, right);
  // Degrees grow by equal factors: seen from the floor, the eye comes down evenly.
  const fov = lean <= 0 ? 0 : PLAN_FOV * (MODEL_FOV / PLAN_FOV) ** lean;
  // What leans back needs a little more room than it did lying flat.
  const scale = view.scale * (1 - 0.12 * lean);
  const distance = fov === 0 ? PLAN_HEIGHT : screen.height / 2 / scale / Math.tan((fov * Math.PI) / 360);
  return {
    position: new Vector3(view.x, view.y, 0).addScaledVector(toEye, distance),
    turn: new Quaternion().setFromRotationMatrix(new Matrix4().makeBasis(right, up, toEye)),
    fov,
    shift: 0,
    scale,
    distance,
  };
}

/** The pose of somebody who stands and looks level. */
export function poseWalk(view: WalkView, screen: Screen): Pose {
  const heading = (view.heading * Math.PI) / 180;
  const back = new Vector3(-Math.cos(heading), -Math.sin(heading), 0);
  const up = new Vector3(0, 0, 1);
  const right = new Vector3().crossVectors(up, back);
  const distance = 6;
  return {
    position: new Vector3(view.x, view.y, EYE),
    turn: new Quaternion().setFromRotationMatrix(new Matrix4().makeBasis(right, up, back)),
    fov: WALK_FOV,
    shift: view.shift,
    scale: screen.height / 2 / distance / Math.tan((WALK_FOV * Math.PI) / 360),
    distance,
  };
}

/** A pose on the way from one to another. */
export function mixPoses(a: Pose, b: Pose, t: number): Pose {
  if (t <= 0) return a;
  if (t >= 1) return b;
  const mix = (p: number, q: number) => p + (q - p) * t;
  return {
    position: a.position.clone().lerp(b.position, t),
    turn: a.turn.clone().slerp(b.turn, t),
    fov: mix(Math.max(PLAN_FOV, a.fov), b.fov),
    shift: mix(a.shift, b.shift),
    scale: a.scale * (b.scale / a.scale) ** t,
    distance: mix(a.distance, b.distance),
  };
}

/** Writes the projection of a pose; `radius` is how far from the place looked at anything can be, metres. */
export function projectPose(pose: Pose, screen: Screen, radius: number, into: Matrix4): void {
  const aspect = screen.width / screen.height;
  if (pose.fov === 0) {
    const halfWidth = screen.width / 2 / pose.scale;
    const halfHeight = screen.height / 2 / pose.scale;
    into.makeOrthographic(-halfWidth, halfWidth, halfHeight, -halfHeight, 0.1, PLAN_HEIGHT + 1);
    return;
  }
  const near = clamp(pose.distance - radius, 0.05, 1e6);
  const far = pose.distance + radius;
  const top = near * Math.tan((pose.fov * Math.PI) / 360);
  const offset = pose.shift * top;
  into.makePerspective(-top * aspect, top * aspect, top + offset, -top + offset, near, far);
}
