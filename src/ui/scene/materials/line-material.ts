/** Lines whose width and dashes are CSS px at any zoom, drawn as one instanced quad a segment. */
import { GLSL3, ShaderMaterial } from 'three';
import { COLOUR_COUNT } from '../paint.ts';
import type { SharedUniforms } from './shared-uniforms.ts';

/**
 * Reads per segment its ends `a` and `b` (metres), `style` (width, colour, dash, gap; px) and `run`: metres along the
 * polyline at `a` (below 0: dashes are counted in px from `a`), and alpha.
 */
export function createLineMaterial(shared: SharedUniforms): ShaderMaterial {
  return new ShaderMaterial({
    glslVersion: GLSL3,
    transparent: true,
    depthWrite: false,
    uniforms: {
      palette: shared.palette,
      viewport: shared.viewport,
      dpr: shared.dpr,
      pxPerMetre: shared.pxPerMetre,
      cut: shared.cut,
    },
    vertexShader: /* glsl */ `
      in vec3 a;
      in vec3 b;
      in vec4 style;
      in vec2 run;
      uniform vec2 viewport;
      uniform float dpr;
      uniform float pxPerMetre;
      #ifdef CUT
      uniform float cut;
      #endif
      out float across;
      out float along;
      flat out vec4 look;
      flat out float alpha;
      const float NEAR = 0.02;
      void main() {
        vec3 start = a;
        vec3 end = b;
        #ifdef CUT
        start.z = min(start.z, cut);
        end.z = min(end.z, cut);
        #endif
        vec4 from = projectionMatrix * modelViewMatrix * vec4(start, 1.0);
        vec4 to = projectionMatrix * modelViewMatrix * vec4(end, 1.0);
        // A segment that reaches behind the eye is cut there before it is divided by its depth.
        if (from.w < NEAR && to.w > NEAR) from = mix(from, to, (NEAR - from.w) / (to.w - from.w));
        else if (to.w < NEAR && from.w > NEAR) to = mix(to, from, (NEAR - to.w) / (from.w - to.w));
        vec3 first = from.xyz / from.w;
        vec3 last = to.xyz / to.w;
        vec2 step = (last.xy - first.xy) * 0.5 * viewport;
        float px = length(step);
        vec2 way = px > 1e-4 ? step / px : vec2(1.0, 0.0);
        bool dashed = style.z > 0.0;
        float half_ = 0.5 * style.x + 0.75 / dpr;
        float beyond = dashed ? 0.0 : min(0.5 * style.x, 1.0);
        float t = position.x;
        across = position.y * half_;
        vec2 offset = vec2(-way.y, way.x) * across + way * (t * 2.0 - 1.0) * beyond;
        along = run.x < 0.0 ? t * px : (run.x + t * distance(start, end)) * pxPerMetre;
        look = style;
        alpha = run.y;
        bool behind = from.w < NEAR && to.w < NEAR;
        gl_Position = behind ? vec4(2.0, 2.0, 2.0, 1.0) : vec4(mix(first, last, t) + vec3(offset * 2.0 / viewport, 0.0), 1.0);
      }`,
    fragmentShader: /* glsl */ `
      uniform vec3 palette[${COLOUR_COUNT}];
      uniform float dpr;
      in float across;
      in float along;
      flat in vec4 look;
      flat in float alpha;
      out vec4 result;
      void main() {
        float cover = clamp((0.5 * look.x - abs(across)) * dpr + 0.5, 0.0, 1.0) * min(1.0, look.x * dpr);
        if (look.z > 0.0) {
          float place = mod(along, look.z + look.w);
          cover *= clamp((0.5 * look.z - abs(place - 0.5 * look.z)) * dpr + 0.5, 0.0, 1.0);
        }
        if (cover * alpha < 0.004) discard;
        result = vec4(palette[int(look.y + 0.5)], cover * alpha);
      }`,
  });
}
