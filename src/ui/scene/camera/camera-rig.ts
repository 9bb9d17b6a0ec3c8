/** The one camera: moves between plan, model and walk, and answers where things are on the screen. */
import { Matrix4, PerspectiveCamera, Vector3 } from 'three';
import type { Camera } from '../../../editor/store.ts';
import { MOTION } from '../../tokens.ts';
import type { LocalFrame } from '../local-frame.ts';
import type { SharedUniforms } from '../materials/shared-uniforms.ts';
import { clamp, ease, nearestTurn } from './easing.ts';
import { mixPoses, type OrbitView, poseOrbit, poseWalk, projectPose, type WalkView } from './pose.ts';

/** Height at which walls are cut in the model, metres. */
const MODEL_CUT = 0.32;
/** Space left round the floor when all of it is shown, CSS px: top, right, bottom, left. */
const ROOM_ROUND = [14, 14, 52, 14] as const;
const FIRST_MODEL = { azimuth: -32, polar: 52 } as const;

export interface Ray {
  readonly origin: Vector3;
  readonly direction: Vector3;
}

interface Move<Value> {
  readonly from: Value;
  readonly to: Value;
  readonly start: number;
  readonly time: number;
}

interface Mixes {
  readonly lean: number;
  readonly walk: number;
}

const MIXES: Readonly<Record<Camera, Mixes>> = {
  plan: { lean: 0, walk: 0 },
  model: { lean: 1, walk: 0 },
  walk: { lean: 1, walk: 1 },
};

export class CameraRig {
  /** What three draws with; its matrices are written here and nowhere else. */
  readonly camera = new PerspectiveCamera();
  view: OrbitView = { x: 0, y: 0, scale: 30, ...FIRST_MODEL };
  walker: WalkView = { x: 0, y: 0, heading: 90, shift: 0 };
  kind: Camera = 'plan';
  screen = { width: 1, height: 1 };
  /** Counts up whenever the picture of a place may have moved. */
  version = 0;
  private mixes: Mixes = MIXES.plan;
  private mixing: Move<Mixes> | null = null;
  private gliding: Move<OrbitView> | null = null;
  private radius = 40;
  private height = 3;
  private fitted = 30;
  private readonly toScreen = new Matrix4();
  private readonly toFloor = new Matrix4();
  private readonly shared: SharedUniforms;

  constructor(shared: SharedUniforms) {
    this.shared = shared;
    this.camera.matrixAutoUpdate = false;
    // Keeps the renderer's host from shaping the projection after its own ideas.
    this.camera.updateProjectionMatrix = () => {};
    Object.assign(this.camera, { manual: true });
  }

  /** Where the view is, or is going. */
  get goal(): OrbitView {
    return this.gliding?.to ?? this.view;
  }

  get lean(): number {
    return this.mixes.lean;
  }

  get walk(): number {
    return this.mixes.walk;
  }

  setScreen(width: number, height: number, dpr: number): void {
    this.screen = { width: Math.max(1, width), height: Math.max(1, height) };
    this.shared.viewport.value.set(this.screen.width, this.screen.height);
    this.shared.dpr.value = dpr;
  }

  setFloor(frame: LocalFrame): void {
    const { halfWidth, halfDepth, midX, midY } = frame;
    this.radius = (Math.hypot(halfWidth, halfDepth) + Math.hypot(midX, midY)) * 2 + frame.height + 20;
    this.height = frame.height;
  }

  /** The view that shows the whole floor. */
  viewOfAll(frame: LocalFrame): OrbitView {
    const [top, right, bottom, left] = ROOM_ROUND;
    const wall = 0.5;
    const width = Math.max(40, this.screen.width - left - right) / (2 * frame.halfWidth + wall);
    const height = Math.max(40, this.screen.height - top - bottom) / (2 * frame.halfDepth + wall);
    const scale = Math.min(width, height);
    this.fitted = scale;
    const [x, y] = [frame.midX + (right - left) / 2 / scale, frame.midY + (top - bottom) / 2 / scale];
    return { ...this.view, x, y, scale };
  }

  /** Changes the view at once. */
  setView(view: Partial<OrbitView>): void {
    this.gliding = null;
    const next = { ...this.view, ...view };
    this.view = {
      ...next,
      scale: clamp(next.scale, this.fitted * 0.3, Math.max(1_500, this.fitted)),
      polar: clamp(next.polar, 8, 84),
    };
  }

  /** Changes the view in one movement; `time` 0 cuts. */
  glide(view: Partial<OrbitView>, now: number, time: number): void {
    const from = this.view;
    this.setView(view);
    if (time > 0) {
      this.gliding = { from, to: this.view, start: now, time };
      this.view = from;
    }
  }

  /** Goes over to another camera; `time` 0 cuts. */
  change(kind: Camera, now: number, time: number = MOTION.camera): void {
    this.kind = kind;
    const to = MIXES[kind];
    if (time === 0) {
      this.mixes = to;
      this.mixing = null;
    } else {
      this.mixing = { from: this.mixes, to, start: now, time };
    }
  }

  /** Moves on to `now` (ms) and writes the camera. True: still under way. */
  step(now: number): boolean {
    if (this.mixing) {
      const { from, to, start, time } = this.mixing;
      const t = ease((now - start) / time);
      this.mixes = { lean: from.lean + (to.lean - from.lean) * t, walk: from.walk + (to.walk - from.walk) * t };
      if (now - start >= time) {
        this.mixes = to;
        this.mixing = null;
      }
    }
    if (this.gliding) {
      const { from, to, start, time } = this.gliding;
      const t = ease((now - start) / time);
      const mix = (key: 'x' | 'y' | 'polar') => from[key] + (to[key] - from[key]) * t;
      const turn = nearestTurn(to.azimuth, from.azimuth) - from.azimuth;
      const scale = from.scale * (to.scale / from.scale) ** t;
      this.view = { x: mix('x'), y: mix('y'), polar: mix('polar'), azimuth: from.azimuth + turn * t, scale };
      if (now - start >= time) {
        this.view = to;
        this.gliding = null;
      }
    }
    this.write();
    return this.mixing !== null || this.gliding !== null;
  }

  private write(): void {
    const { camera, screen, shared } = this;
    const { lean, walk } = this.mixes;
    const pose = mixPoses(poseOrbit(this.view, lean, screen), poseWalk(this.walker, screen), walk);
    projectPose(pose, screen, this.radius, camera.projectionMatrix);
    camera.projectionMatrixInverse.copy(camera.projectionMatrix).invert();
    camera.matrix.compose(pose.position, pose.turn, new Vector3(1, 1, 1));
    camera.matrixWorldNeedsUpdate = true;
    camera.updateMatrixWorld(true);
    shared.pxPerMetre.value = pose.scale;
    shared.lean.value = Math.max(lean, walk);
    shared.walk.value = walk;
    const orbitCut = this.height + (MODEL_CUT - this.height) * lean;
    shared.cut.value = orbitCut + (this.height + 0.01 - orbitCut) * walk;
    const before = this.toScreen.clone();
    this.toScreen.multiplyMatrices(camera.projectionMatrix, camera.matrixWorldInverse);
    this.toFloor.copy(this.toScreen).invert();
    if (!before.equals(this.toScreen)) this.version++;
  }

  /** CSS px of a local place, y down; null behind the eye. */
  project(x: number, y: number, z: number): readonly [number, number] | null {
    const e = this.toScreen.elements;
    const w = e[3] * x + e[7] * y + e[11] * z + e[15];
    if (w < 0.01) return null;
    const u = (e[0] * x + e[4] * y + e[8] * z + e[12]) / w;
    const v = (e[1] * x + e[5] * y + e[9] * z + e[13]) / w;
    return [((u + 1) / 2) * this.screen.width, ((1 - v) / 2) * this.screen.height];
  }

  /** The ray behind a px. */
  rayAt(px: number, py: number): Ray {
    const u = (px / this.screen.width) * 2 - 1;
    const v = 1 - (py / this.screen.height) * 2;
    const origin = new Vector3(u, v, -1).applyMatrix4(this.toFloor);
    const far = new Vector3(u, v, 1).applyMatrix4(this.toFloor);
    return { origin, direction: far.sub(origin).normalize() };
  }

  /** Where the ray behind a px meets height z; null: nowhere before the eye. */
  placeAt(px: number, py: number, z = 0): readonly [number, number] | null {
    const { origin, direction } = this.rayAt(px, py);
    const far = (z - origin.z) / direction.z;
    if (!(far > 0) || far > 4 * this.radius + 1_000) return null;
    return [origin.x + direction.x * far, origin.y + direction.y * far];
  }

  /** Moves what is seen by px. */
  panBy(dx: number, dy: number): void {
    const { width, height } = this.screen;
    const from = this.placeAt(width / 2, height / 2);
    const to = this.placeAt(width / 2 - dx, height / 2 - dy);
    if (from && to) this.setView({ x: this.view.x + to[0] - from[0], y: this.view.y + to[1] - from[1] });
  }

  /** Zooms by a factor so that the place under a px stays under it. */
  zoomAt(px: number, py: number, factor: number): void {
    const before = this.placeAt(px, py);
    this.setView({ scale: this.view.scale * factor });
    this.write();
    const after = this.placeAt(px, py);
    if (before && after) {
      this.setView({ x: this.view.x + before[0] - after[0], y: this.view.y + before[1] - after[1] });
    }
  }
}
