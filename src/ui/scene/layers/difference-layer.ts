/** The difference between two states of a floor, in place of the heat map: red where it has gone blind. */
import { BufferAttribute, BufferGeometry, DoubleSide, GLSL3, Group, Mesh, ShaderMaterial } from 'three';
import { BLIND_NOW, BLIND_STILL, type Difference, SAME, SEEN_NOW } from '../../../core/planning/question/difference.ts';
import type { EditorState } from '../../../editor/store.ts';
import type { LocalFrame } from '../local-frame.ts';
import { COLOUR, COLOUR_COUNT } from '../paint.ts';
import { type Layer, ORDER, type SceneContext } from './layer.ts';

/** Just above the paper, metres. */
const ON_FLOOR = 0.012;

export class DifferenceLayer implements Layer {
  readonly root = new Group();
  private readonly context: SceneContext;
  private readonly mesh: Mesh<BufferGeometry, ShaderMaterial>;
  private shown: Difference | null = null;

  constructor(context: SceneContext) {
    this.context = context;
    this.mesh = new Mesh(new BufferGeometry(), createDifferenceMaterial(context));
    this.mesh.renderOrder = ORDER.field;
    this.mesh.frustumCulled = false;
    this.mesh.visible = false;
    this.root.add(this.mesh);
  }

  sync({ difference }: EditorState, before: EditorState | null): void {
    if (before !== null && difference === this.shown) return;
    this.shown = difference;
    this.mesh.visible = difference !== null;
    this.mesh.geometry.dispose();
    this.mesh.geometry = difference === null ? new BufferGeometry() : layRuns(difference, this.context.frame);
  }

  follow(): void {
    const { lean, walk } = this.context.rig;
    const height = this.shown?.height ?? 0;
    const flat = this.shown?.plane === 'seated' ? height : ON_FLOOR;
    const orbit = flat + (height - flat) * lean;
    this.mesh.position.z = orbit + (ON_FLOOR - orbit) * walk;
  }

  dispose(): void {
    this.mesh.geometry.dispose();
    this.mesh.material.dispose();
  }
}

/** A rectangle for every run of equal cells in a row. */
function layRuns({ codes, lattice }: Difference, frame: LocalFrame): BufferGeometry {
  const { x0, y0, cell, nx, ny } = lattice;
  const corners: number[] = [];
  const kinds: number[] = [];
  const index: number[] = [];
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; ) {
      const code = codes[j * nx + i] ?? SAME;
      let end = i + 1;
      while (end < nx && codes[j * nx + end] === code) end++;
      if (code !== SAME) {
        const [left, right] = [x0 + i * cell - frame.x, x0 + end * cell - frame.x];
        const [low, high] = [y0 + j * cell - frame.y, y0 + (j + 1) * cell - frame.y];
        const first = kinds.length;
        corners.push(left, low, 0, right, low, 0, right, high, 0, left, high, 0);
        kinds.push(code, code, code, code);
        index.push(first, first + 1, first + 2, first, first + 2, first + 3);
      }
      i = end;
    }
  }
  return new BufferGeometry()
    .setAttribute('position', new BufferAttribute(new Float32Array(corners), 3))
    .setAttribute('code', new BufferAttribute(new Float32Array(kinds), 1))
    .setIndex(index);
}

/** Red hatch: blind only now. Grey hatch the other way: blind before and now. Plus signs: seen only now. */
function createDifferenceMaterial({ shared }: SceneContext): ShaderMaterial {
  return new ShaderMaterial({
    glslVersion: GLSL3,
    side: DoubleSide,
    transparent: true,
    depthWrite: false,
    uniforms: { palette: shared.palette, pxPerMetre: shared.pxPerMetre },
    vertexShader: /* glsl */ `
      in float code;
      out vec2 place;
      flat out int kind;
      void main() {
        place = position.xy;
        kind = int(code + 0.5);
        gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
      }`,
    fragmentShader: /* glsl */ `
      uniform vec3 palette[${COLOUR_COUNT}];
      uniform float pxPerMetre;
      in vec2 place;
      flat in int kind;
      out vec4 result;
      float stripe(float at, float spacing, float width) {
        float far = abs(fract(at / spacing + 0.5) - 0.5) * spacing;
        return clamp(0.5 * width - far + 0.5, 0.0, 1.0);
      }
      void main() {
        vec2 px = place * pxPerMetre;
        if (kind == ${BLIND_NOW}) {
          float ink = stripe((px.x + px.y) * 0.70710678, 6.0, 1.75);
          result = vec4(mix(palette[${COLOUR.tint}], palette[${COLOUR.accent}], ink), 1.0);
        } else if (kind == ${BLIND_STILL}) {
          float ink = stripe((px.x - px.y) * 0.70710678, 8.0, 1.0);
          result = vec4(mix(palette[${COLOUR.paper}], palette[${COLOUR.ink3}], ink), 1.0);
        } else if (kind == ${SEEN_NOW}) {
          vec2 from = abs(fract(px / 12.0) - 0.5) * 12.0;
          float plus = max(step(from.x, 0.7) * step(from.y, 3.5), step(from.y, 0.7) * step(from.x, 3.5));
          result = vec4(mix(palette[${COLOUR.paper}], palette[${COLOUR.ink}], plus), 1.0);
        } else discard;
      }`,
  });
}
