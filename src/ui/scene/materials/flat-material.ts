/** Faces without a lamp: each vertex says how much ink it holds, the theme says what that looks like. */
import { FrontSide, GLSL3, ShaderMaterial, type Side } from 'three';
import { RAMP_STEPS } from '../paint.ts';
import type { SharedUniforms } from './shared-uniforms.ts';

export interface FlatOptions {
  readonly side?: Side;
  /** What lies above the cut: pressed down onto it (a wall keeps its cap) or left away (a lintel has none). */
  readonly aboveCut?: 'press' | 'discard' | 'keep';
  /** 1: opaque. Below: drawn after everything opaque, without hiding it (glass). */
  readonly alpha?: number;
}

/** Reads `shade`, a share of ink, and `reach`, (height / ceiling) ** 2.2 or below 0 for none; both are added up. */
export function createFlatMaterial(shared: SharedUniforms, options: FlatOptions = {}): ShaderMaterial {
  const { side = FrontSide, aboveCut = 'keep', alpha = 1 } = options;
  return new ShaderMaterial({
    glslVersion: GLSL3,
    side,
    transparent: alpha < 1,
    depthWrite: alpha === 1,
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 4,
    uniforms: { ramp: shared.ramp, tone: shared.tone, cut: shared.cut },
    vertexShader: /* glsl */ `
      in float shade;
      in float reach;
      uniform vec3 ramp[${RAMP_STEPS}];
      uniform vec2 tone;
      uniform float cut;
      out vec3 colour;
      out float height;
      void main() {
        float share = shade + (reach >= 0.0 ? tone.x + tone.y * reach : 0.0);
        float at = clamp(share, 0.0, 1.0) * ${RAMP_STEPS - 1}.0;
        int low = int(floor(at));
        colour = mix(ramp[low], ramp[min(low + 1, ${RAMP_STEPS - 1})], at - float(low));
        vec3 place = position;
        height = place.z;
        ${aboveCut === 'press' ? 'place.z = min(place.z, cut);' : ''}
        gl_Position = projectionMatrix * modelViewMatrix * vec4(place, 1.0);
      }`,
    fragmentShader: /* glsl */ `
      uniform float cut;
      in vec3 colour;
      in float height;
      out vec4 result;
      void main() {
        ${aboveCut === 'discard' ? 'if (height > cut + 0.001) discard;' : ''}
        result = vec4(colour, ${alpha.toFixed(3)});
      }`,
  });
}

/** One colour of the palette laid over what is there: a curtain, a lit piece, the inside of a mask. */
export function createVeilMaterial(shared: SharedUniforms, colour: number, alpha: number, side: Side): ShaderMaterial {
  return new ShaderMaterial({
    glslVersion: GLSL3,
    side,
    transparent: true,
    depthWrite: false,
    uniforms: { palette: shared.palette },
    vertexShader: /* glsl */ `
      void main() { gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }`,
    fragmentShader: /* glsl */ `
      uniform vec3 palette[9];
      out vec4 result;
      void main() { result = vec4(palette[${colour}], ${alpha.toFixed(3)}); }`,
  });
}
