/** What every part of the scene is: objects of its own, brought up to date when the state changes, freed at the end. */
import { DoubleSide, GreaterDepth, type Object3D, type ShaderMaterial } from 'three';
import type { EditorState } from '../../../editor/store.ts';
import type { Units } from '../../../editor/tools/tool.ts';
import type { CameraRig } from '../camera/camera-rig.ts';
import { createLabelMaterial } from '../labels/label-batch.ts';
import type { Overlay } from '../labels/overlay.ts';
import type { LocalFrame } from '../local-frame.ts';
import { createFlatMaterial } from '../materials/flat-material.ts';
import { createLineMaterial } from '../materials/line-material.ts';
import { createMarkMaterial } from '../materials/mark-material.ts';
import type { SharedUniforms } from '../materials/shared-uniforms.ts';

export interface Layer {
  readonly root: Object3D;
  /** Brings the objects up to date. `before` is the state drawn last; null: everything is new. */
  sync(state: EditorState, before: EditorState | null): void;
  /** Called before each frame, for what follows the camera. */
  follow?(): void;
  dispose(): void;
}

/** Materials shared by the layers. */
export interface Materials {
  readonly wall: ShaderMaterial;
  readonly lintel: ShaderMaterial;
  readonly flat: ShaderMaterial;
  readonly ceiling: ShaderMaterial;
  readonly glass: ShaderMaterial;
  /** Edges of walls: pressed down to the cut. */
  readonly cutLine: ShaderMaterial;
  /** Lines among the furniture. */
  readonly line: ShaderMaterial;
  /** Lines that lie over everything in plan, and stand in space in the model. */
  readonly drawnLine: ShaderMaterial;
  /** Lines over everything. */
  readonly overLine: ShaderMaterial;
  readonly mark: ShaderMaterial;
  /** Lenses: over everything in plan, under the ceiling elsewhere. */
  readonly lensMark: ShaderMaterial;
  readonly overMark: ShaderMaterial;
  /** Signs seen through what stands before them: broken rings. */
  readonly behindMark: ShaderMaterial;
  readonly label: ShaderMaterial;
}

export interface SceneContext {
  readonly shared: SharedUniforms;
  readonly materials: Materials;
  readonly rig: CameraRig;
  readonly overlay: Overlay;
  /** The scene's origin; another one makes everything new. */
  frame: LocalFrame;
  /** How lengths are written on the floor; another way makes everything new. */
  units: Units;
}

export function createMaterials(shared: SharedUniforms): Materials {
  const cutLine = createLineMaterial(shared);
  cutLine.defines = { CUT: 1 };
  const overLine = createLineMaterial(shared);
  overLine.depthTest = false;
  const overMark = createMarkMaterial(shared);
  overMark.depthTest = false;
  const behindMark = createMarkMaterial(shared, { behind: true });
  behindMark.depthFunc = GreaterDepth;
  return {
    wall: createFlatMaterial(shared, { side: DoubleSide, aboveCut: 'press' }),
    lintel: createFlatMaterial(shared, { side: DoubleSide, aboveCut: 'discard' }),
    flat: createFlatMaterial(shared, { side: DoubleSide }),
    ceiling: createFlatMaterial(shared),
    glass: createFlatMaterial(shared, { side: DoubleSide, alpha: 0.35 }),
    cutLine,
    line: createLineMaterial(shared),
    drawnLine: createLineMaterial(shared),
    overLine,
    mark: createMarkMaterial(shared),
    lensMark: createMarkMaterial(shared),
    overMark,
    behindMark,
    label: createLabelMaterial(shared),
  };
}

/** Drawn from the lowest upwards; faces come first because they are opaque. */
export const ORDER = {
  underlay: 1,
  grid: 2,
  glass: 5,
  field: 10,
  signs: 12,
  edges: 14,
  zones: 16,
  curtain: 18,
  tiles: 20,
  casing: 22,
  ranges: 23,
  masks: 24,
  places: 26,
  trails: 28,
  detectors: 30,
  sightCasing: 32,
  sight: 33,
  brackets: 34,
  guides: 35,
  handles: 36,
  labels: 40,
} as const;

/** Whether the floor shown differs in one of its parts. */
export function differs(
  state: EditorState,
  before: EditorState | null,
  ...keys: readonly (keyof EditorState['floor'])[]
): boolean {
  if (before === null) return true;
  const now = state.preview ?? state.floor;
  const was = before.preview ?? before.floor;
  return now !== was && keys.some((key) => now[key] !== was[key]);
}
