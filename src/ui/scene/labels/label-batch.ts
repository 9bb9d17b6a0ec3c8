/** Labels as one draw call: quads of the atlas pinned to places of the floor, a whole px each. */
import {
  type CanvasTexture,
  CustomBlending,
  GLSL3,
  OneFactor,
  OneMinusSrcAlphaFactor,
  ShaderMaterial,
  Vector2,
} from 'three';
import { InstanceBatch } from '../geometry/instance-batch.ts';
import type { SharedUniforms } from '../materials/shared-uniforms.ts';
import type { LabelSlot } from './label-atlas.ts';

export interface LabelPlace {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  /** CSS px from the place to the label's anchor, x to the right, y up. */
  readonly dx: number;
  readonly dy: number;
  /** Which point of the label is pinned: 0 left or bottom, 0.5 middle, 1 right or top. */
  readonly anchorX: number;
  readonly anchorY: number;
  /** Radians counter-clockwise, in plan. */
  readonly turn: number;
  /** Shown from this many px per metre on. */
  readonly from: number;
  /** Written on the plan alone; left out: in the model and on the walk as well. */
  readonly flat: boolean;
}

export function createLabelMaterial(shared: SharedUniforms): ShaderMaterial {
  return new ShaderMaterial({
    glslVersion: GLSL3,
    transparent: true,
    depthWrite: false,
    blending: CustomBlending,
    blendSrc: OneFactor,
    blendDst: OneMinusSrcAlphaFactor,
    uniforms: {
      atlas: { value: null as CanvasTexture | null },
      atlasSize: { value: new Vector2(1, 1) },
      viewport: shared.viewport,
      dpr: shared.dpr,
      pxPerMetre: shared.pxPerMetre,
      lean: shared.lean,
      walk: shared.walk,
    },
    vertexShader: /* glsl */ `
      in vec4 place;
      in vec4 shift;
      in vec4 slot;
      in vec2 turned;
      uniform vec2 viewport;
      uniform vec2 atlasSize;
      uniform float dpr;
      uniform float pxPerMetre;
      uniform float lean;
      uniform float walk;
      out vec2 uv_;
      void main() {
        vec4 middle = projectionMatrix * modelViewMatrix * vec4(place.xyz, 1.0);
        vec2 device = viewport * dpr;
        vec2 pinned = (middle.xy / middle.w * 0.5 + 0.5) * device;
        // Under a ceiling a name hangs below its thing, where the ceiling does not cover it.
        pinned += vec2(shift.x, walk > 0.5 ? -abs(shift.y) : shift.y) * dpr;
        vec2 corner = vec2(position.x, position.y);
        vec2 offset = (corner - shift.zw) * slot.zw;
        if (abs(turned.x) < 0.01) pinned = floor(pinned - shift.zw * slot.zw + 0.5) + corner * slot.zw;
        else {
          float c = cos(turned.x);
          float s = sin(turned.x);
          pinned += vec2(c * offset.x - s * offset.y, s * offset.x + c * offset.y);
        }
        uv_ = (slot.xy + vec2(corner.x, 1.0 - corner.y) * slot.zw) / atlasSize;
        bool away = middle.w < 0.02 || pxPerMetre < place.w || abs(middle.x) > middle.w * 1.3 || abs(middle.y) > middle.w * 1.3;
        if (turned.y > 0.5 && lean > 0.02) away = true;
        // On a walk only what is near is named, and nothing behind a wall.
        if (walk > 0.5 && middle.w > 14.0) away = true;
        float depth = walk > 0.5 ? middle.z / middle.w - 0.001 : -0.999;
        gl_Position = away ? vec4(2.0, 2.0, 2.0, 1.0) : vec4(pinned / device * 2.0 - 1.0, depth, 1.0);
      }`,
    fragmentShader: /* glsl */ `
      uniform sampler2D atlas;
      in vec2 uv_;
      out vec4 result;
      void main() {
        result = texture(atlas, uv_);
        if (result.a < 0.01) discard;
      }`,
  });
}

export class LabelBatch extends InstanceBatch {
  constructor(material: ShaderMaterial, renderOrder: number) {
    super(
      material,
      renderOrder,
      [0, 0, 1, 0, 1, 1, 0, 1],
      [
        ['place', 4],
        ['shift', 4],
        ['slot', 4],
        ['turned', 2],
      ],
    );
  }

  add(place: LabelPlace, slot: LabelSlot): void {
    const at = this.reserve();
    const { data } = this;
    data[at] = place.x;
    data[at + 1] = place.y;
    data[at + 2] = place.z;
    data[at + 3] = place.from;
    data[at + 4] = place.dx;
    data[at + 5] = place.dy;
    data[at + 6] = place.anchorX;
    data[at + 7] = place.anchorY;
    data[at + 8] = slot.x;
    data[at + 9] = slot.y;
    data[at + 10] = slot.width;
    data[at + 11] = slot.height;
    data[at + 12] = place.turn;
    data[at + 13] = place.flat ? 1 : 0;
  }
}
