/** The picture under the plan, in ink on the paper: what is dark in it is ink, what is light is not there. */
import {
  BufferAttribute,
  BufferGeometry,
  DoubleSide,
  GLSL3,
  Group,
  LinearFilter,
  LinearMipmapLinearFilter,
  Mesh,
  ShaderMaterial,
  Texture,
} from 'three';
import { type EditorState, shownFloor } from '../../../editor/store.ts';
import { readUnderlay, toFloor } from '../../../editor/underlay.ts';
import { COLOUR } from '../paint.ts';
import { type Layer, ORDER, type SceneContext } from './layer.ts';

/** Metres over the floor: faces of rooms lie on it. */
const LIFT = 0.002;

export class UnderlayLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly mesh: Mesh<BufferGeometry, ShaderMaterial>;
  private texture: Texture | null = null;
  private image: unknown = null;

  constructor(context: SceneContext) {
    this.context = context;
    const material = new ShaderMaterial({
      glslVersion: GLSL3,
      side: DoubleSide,
      transparent: true,
      depthWrite: false,
      uniforms: { palette: context.shared.palette, picture: { value: null }, opacity: { value: 0.5 } },
      vertexShader: /* glsl */ `
        out vec2 place;
        void main() {
          place = uv;
          gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
        }`,
      fragmentShader: /* glsl */ `
        uniform vec3 palette[9];
        uniform sampler2D picture;
        uniform float opacity;
        in vec2 place;
        out vec4 result;
        void main() {
          vec4 seen = texture(picture, place);
          float dark = 1.0 - dot(seen.rgb, vec3(0.299, 0.587, 0.114));
          result = vec4(palette[${COLOUR.ink}], dark * seen.a * opacity);
        }`,
    });
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(new Float32Array(12), 3));
    // Pictures are kept with their upper edge first.
    geometry.setAttribute('uv', new BufferAttribute(Float32Array.of(0, 1, 1, 1, 1, 0, 0, 0), 2));
    geometry.setIndex([0, 1, 2, 0, 2, 3]);
    this.mesh = new Mesh(geometry, material);
    this.mesh.renderOrder = ORDER.underlay;
    this.mesh.frustumCulled = false;
    this.root.add(this.mesh);
  }

  sync(state: EditorState, _before: EditorState | null): void {
    const underlay = readUnderlay(shownFloor(state).notes);
    const image = underlay !== null && state.underlay?.status === 'ready' ? state.underlay.image : null;
    this.show(image);
    this.mesh.visible = image !== null;
    if (underlay === null || image === null) return;
    const { width, height, placement } = underlay;
    const { frame } = this.context;
    const position = this.mesh.geometry.getAttribute('position');
    const corners = [
      [0, 0],
      [width, 0],
      [width, height],
      [0, height],
    ] as const;
    for (const [i, [u, v]] of corners.entries()) {
      const [x, y] = toFloor(placement, u, v);
      position.setXYZ(i, x - frame.x, y - frame.y, LIFT);
    }
    position.needsUpdate = true;
    const opacity = this.mesh.material.uniforms.opacity;
    if (opacity !== undefined) opacity.value = placement.opacity;
  }

  private show(image: unknown): void {
    if (image === this.image) return;
    this.image = image;
    this.texture?.dispose();
    this.texture = null;
    if (image instanceof ImageBitmap) {
      this.texture = new Texture(image);
      this.texture.flipY = false;
      this.texture.minFilter = LinearMipmapLinearFilter;
      this.texture.magFilter = LinearFilter;
      this.texture.needsUpdate = true;
    }
    const picture = this.mesh.material.uniforms.picture;
    if (picture !== undefined) picture.value = this.texture;
  }

  follow(): void {
    this.root.visible = this.context.rig.walk < 0.5;
  }

  dispose(): void {
    this.texture?.dispose();
    this.mesh.geometry.dispose();
    this.mesh.material.dispose();
  }
}
