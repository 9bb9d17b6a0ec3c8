/** Small drawn signs whose size is CSS px (or metres, whichever is larger), one instanced quad each. */
import { DoubleSide, GLSL3, ShaderMaterial } from 'three';
import { COLOUR, COLOUR_COUNT } from '../paint.ts';
import { when } from './glsl.ts';
import type { SharedUniforms } from './shared-uniforms.ts';

/** What a sign looks like. The numbers are what the shader switches on. */
export const GLYPH = {
  /** Ink disc with a paper dot and a paper ring. */
  detector: 0,
  /** The same with a second ring. */
  main: 1,
  /** A detector that misses the place asked about. */
  hollow: 2,
  hollowMain: 3,
  /** A ring with a paper inside: a workplace that is met, an old place (dashed). */
  ring: 4,
  /** Red disc with a cross: a workplace that is not met. */
  missed: 5,
  /** Ring with a plus. */
  source: 6,
  /** Handle on an edge. */
  square: 7,
  squareFull: 8,
  /** Handle that turns. */
  circle: 9,
  circleFull: 10,
  /** Cross on a paper disc: where a sight line ends. */
  cross: 11,
  /** The place asked about. */
  target: 12,
  /** The walker: a dot with a wedge the way it looks. */
  walker: 13,
  /** A thin ring without an inside. */
  circleOutline: 14,
  /** A detector that is to be taken away. */
  removed: 15,
  dashedRing: 16,
} as const;

/** Signs of things on the floor. */
const THINGS = [
  'detector',
  'main',
  'hollow',
  'hollowMain',
  'removed',
  'ring',
  'missed',
  'source',
  'circleOutline',
] as const satisfies readonly (keyof typeof GLYPH)[];
/** Px a metre from which they have their full size, and the least share of it. */
const FULL_SIZE = 14;
const LEAST_SIZE = 0.6;

/** How large a sign is drawn from above at so many px a metre, as the shader has it. */
export function sizeOfSign(glyph: number, pxPerMetre: number): number {
  const isThing = THINGS.some((each) => GLYPH[each] === glyph);
  return isThing ? Math.min(1, Math.max(LEAST_SIZE, pxPerMetre / FULL_SIZE)) : 1;
}

/**
 * Reads per sign its `centre` (metres), `form` (glyph, radius px, radius m, turn in radians) and `look` (colour, alpha,
 * line width px, 1 to face the viewer or 0 to lie flat).
 */
export function createMarkMaterial(
  shared: SharedUniforms,
  options: { readonly behind?: boolean } = {},
): ShaderMaterial {
  const p = (name: keyof typeof COLOUR) => `palette[${COLOUR[name]}]`;
  const only = (...glyphs: (keyof typeof GLYPH)[]) =>
    when(glyphs.map((glyph) => `kind == ${GLYPH[glyph]}`).join(' || '));
  return new ShaderMaterial({
    glslVersion: GLSL3,
    // A disc under the ceiling is looked at from below.
    side: DoubleSide,
    transparent: true,
    depthWrite: false,
    uniforms: {
      palette: shared.palette,
      viewport: shared.viewport,
      walk: shared.walk,
      pxPerMetre: shared.pxPerMetre,
    },
    vertexShader: /* glsl */ `
      in vec3 centre;
      in vec4 form;
      in vec4 look;
      uniform vec2 viewport;
      uniform float walk;
      uniform float pxPerMetre;
      out vec2 at;
      flat out vec4 shape;
      flat out vec4 paint;
      void main() {
        vec4 middle = projectionMatrix * modelViewMatrix * vec4(centre, 1.0);
        float metrePerPx = middle.w * 2.0 / (projectionMatrix[1][1] * viewport.y);
        int kind = int(form.x + 0.5);
        // On a floor seen from afar signs of things shrink, lest they cover one another; handles keep their size.
        bool isThing = ${THINGS.map((glyph) => `kind == ${GLYPH[glyph]}`).join(' || ')};
        float small = isThing && walk < 0.5 ? clamp(pxPerMetre / ${FULL_SIZE}.0, ${LEAST_SIZE}, 1.0) : 1.0;
        metrePerPx *= small;
        float radius = max(form.y, form.z / metrePerPx);
        // A walker's wedge reaches beyond its dot.
        float reach = radius * (kind == ${GLYPH.walker} ? 4.5 : 1.0) + 6.0;
        at = position.xy * reach;
        shape = vec4(form.x, radius, form.z, form.w);
        paint = look;
        if (walk > 0.5 && look.w < 0.5) {
          // Under a ceiling a flat disc would be a stroke: it shows as an ellipse, a little before what it hangs on.
          vec4 nearer = projectionMatrix * (modelViewMatrix * vec4(centre, 1.0) + vec4(0.0, 0.0, min(0.5, 0.1 * middle.w), 0.0));
          gl_Position = vec4(middle.xy + at * vec2(1.0, 0.5) * 2.0 / viewport * middle.w, nearer.z / nearer.w * middle.w, middle.w);
        } else if (look.w > 0.5) {
          middle.xy += at * small * 2.0 / viewport * middle.w;
          gl_Position = middle;
        } else {
          gl_Position = projectionMatrix * modelViewMatrix * vec4(centre + vec3(at * metrePerPx, 0.0), 1.0);
        }
        if (middle.w < 0.02) gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
      }`,
    fragmentShader: /* glsl */ `
      uniform vec3 palette[${COLOUR_COUNT}];
      in vec2 at;
      flat in vec4 shape;
      flat in vec4 paint;
      out vec4 result;
      float soft;
      vec4 sum = vec4(0.0);
      float disc(float r) { return clamp((r - length(at)) / soft + 0.5, 0.0, 1.0); }
      float ring(float r, float w) { return clamp((0.5 * w - abs(length(at) - r)) / soft + 0.5, 0.0, 1.0); }
      float bar(vec2 q, float reach, float w) {
        vec2 d = vec2(abs(q.x) - reach, abs(q.y) - 0.5 * w);
        return clamp(-max(d.x, d.y) / soft + 0.5, 0.0, 1.0);
      }
      float box(vec2 q, float r) { return clamp((r - max(abs(q.x), abs(q.y))) / soft + 0.5, 0.0, 1.0); }
      float cross2(vec2 q, float reach, float w) {
        vec2 d = vec2(q.x + q.y, q.y - q.x) * 0.70710678;
        return max(bar(d, reach, w), bar(d.yx, reach, w));
      }
      float dashes(float count) { return step(0.5, fract(atan(at.y, at.x) * count / 6.2831853)); }
      void put(vec3 colour, float cover) {
        float a = cover + sum.a * (1.0 - cover);
        if (a > 0.0) sum = vec4((colour * cover + sum.rgb * sum.a * (1.0 - cover)) / a, a);
      }
      void main() {
        soft = 0.5 * (length(dFdx(at)) + length(dFdy(at)));
        int kind = int(shape.x + 0.5);
        float r = shape.y;
        float c = cos(shape.w);
        float s = sin(shape.w);
        vec2 q = vec2(c * at.x + s * at.y, c * at.y - s * at.x);
        vec3 own = palette[int(paint.x + 0.5)];
        float w = paint.z;
        ${only('detector', 'main')} {
          float outer = kind == ${GLYPH.main} ? 5.5 : 2.0;
          put(${p('paper')}, disc(r + outer));
          put(own, kind == ${GLYPH.main} ? ring(r + 3.5, 1.5) : 0.0);
          put(own, disc(r));
          put(${p('paper')}, disc(r * 0.34));
        }
        ${only('hollow', 'hollowMain')} {
          float outer = kind == ${GLYPH.hollowMain} ? 5.5 : 2.0;
          put(${p('paper')}, disc(r + outer));
          put(own, kind == ${GLYPH.hollowMain} ? ring(r + 3.5, 1.25) : 0.0);
          put(own, ring(r - 0.75, 1.5));
          put(own, disc(r * 0.34));
        }
        ${only('removed')} {
          put(${p('paper')}, disc(r + 2.0));
          put(own, ring(r - 0.75, 1.5));
          put(own, cross2(at, r * 0.62, 1.5));
        }
        ${only('ring')} {
          put(${p('paper')}, disc(r));
          put(own, ring(r, w));
        }
        ${only('dashedRing')} {
          put(${p('paper')}, disc(r + 1.5) * 0.85);
          put(own, ring(r, w) * dashes(7.0));
        }
        ${only('circleOutline')} put(own, ring(r, w));
        ${only('missed')} {
          put(${p('paper')}, disc(r + 1.5));
          put(own, disc(r));
          put(${p('onAccent')}, cross2(at, r * 0.46, 1.6));
        }
        ${only('source')} {
          put(${p('paper')}, disc(r + 0.5) * 0.7);
          put(own, ring(r, w));
          put(own, max(bar(at, 4.0, w), bar(at.yx, 4.0, w)));
        }
        ${only('square', 'squareFull')} {
          put(${p('paper')}, box(q, r + 1.25));
          put(own, box(q, r));
          put(${p('paper')}, kind == ${GLYPH.square} ? box(q, r - 1.75) : 0.0);
        }
        ${only('circle', 'circleFull')} {
          put(${p('paper')}, disc(r + 1.25));
          put(own, disc(r));
          put(${p('paper')}, kind == ${GLYPH.circle} ? disc(r - 1.75) : 0.0);
        }
        ${only('cross')} {
          put(${p('paper')}, disc(r));
          put(own, cross2(at, r * 0.62, 1.75));
        }
        ${only('target')} {
          put(${p('paper')}, ring(r, 4.5) * 0.9);
          put(own, ring(r, 1.5));
          put(own, disc(2.0));
        }
        ${only('walker')} {
          float wide = abs(atan(q.y, q.x));
          float far = length(at) / (r * 4.5);
          float wedge = clamp((0.42 - wide) * length(at) / soft + 0.5, 0.0, 1.0) * step(far, 1.0);
          put(own, wedge * 0.22 * (1.0 - far * 0.6));
          put(${p('paper')}, disc(r + 1.5));
          put(own, disc(r));
        }
        float alpha = sum.a * paint.y;
        ${options.behind ? `alpha *= dashes(6.0) * ring(r - 0.75, 1.5);` : ''}
        if (alpha < 0.004) discard;
        result = vec4(sum.rgb, alpha);
      }`,
  });
}
