/** One shader for everything a plane shows: blind with its hatch by cause, amounts in five steps, seen as bare paper. */
import { DoubleSide, GLSL3, type IUniform, ShaderMaterial, type Texture, Vector2 } from 'three';
import { HATCH, LINE } from '../../tokens.ts';
import type { SharedUniforms } from '../materials/shared-uniforms.ts';
import { COLOUR, COLOUR_COUNT } from '../paint.ts';
import { PLAIN } from './cell-words.ts';
import { FIELD_HATCH } from './hatch.glsl.ts';

/** What `show` uniform values mean. */
export const SHOW_CODE = { blind: 0, count: 1, headings: 2 } as const;

export interface FieldUniforms {
  readonly [name: string]: IUniform;
  readonly cells: IUniform<Texture | null>;
  readonly lenses: IUniform<Texture | null>;
  /** Local place of the lattice's corner, metres. */
  readonly corner: IUniform<Vector2>;
  /** Edge of what one word stands for, metres. */
  readonly cell: IUniform<number>;
  readonly show: IUniform<number>;
  /** Height at which the plane is drawn, metres. */
  readonly level: IUniform<number>;
}

/** Reads `tag`, the room tag of each corner: a pixel asks only cells of its own room. */
export function createFieldMaterial(shared: SharedUniforms): ShaderMaterial & { readonly uniforms: FieldUniforms } {
  const uniforms = {
    cells: { value: null },
    lenses: { value: null },
    corner: { value: new Vector2() },
    cell: { value: 0.1 },
    show: { value: 0 },
    level: { value: 0 },
    palette: shared.palette,
    amounts: shared.amounts,
    dpr: shared.dpr,
    pxPerMetre: shared.pxPerMetre,
    spacing: { value: HATCH.spacing },
    stroke: { value: HATCH.width },
    dotRadius: { value: HATCH.dot / 2 },
    octave: { value: new Vector2(HATCH.octaveStart, HATCH.octaveSpan) },
    outline: { value: LINE.blindOutline },
  };
  const material = new ShaderMaterial({
    glslVersion: GLSL3,
    transparent: true,
    depthWrite: false,
    side: DoubleSide,
    uniforms,
    vertexShader: /* glsl */ `
      in float tag;
      uniform float level;
      out vec2 at;
      flat out uint room;
      void main() {
        at = position.xy;
        room = uint(tag + 0.5);
        gl_Position = projectionMatrix * modelViewMatrix * vec4(position.xy, level, 1.0);
      }`,
    fragmentShader: /* glsl */ `
      precision highp float;
      precision highp int;
      precision highp usampler2D;
      uniform usampler2D cells;
      uniform sampler2D lenses;
      uniform vec2 corner;
      uniform float cell;
      uniform int show;
      uniform vec3 palette[${COLOUR_COUNT}];
      uniform vec3 amounts[5];
      uniform float dpr;
      uniform float pxPerMetre;
      uniform float outline;
      in vec2 at;
      flat in uint room;
      out vec4 result;
      ${FIELD_HATCH}
      uint stateOf(uint word) { return word & 3u; }
      uint causeOf(uint word) { return (word >> 2) & 7u; }
      uint stepOf(uint word) { return show == 2 ? (word >> 8) & 7u : (word >> 5) & 7u; }
      // In the headings view a cell seen for too few headings shows how many.
      bool isBlind(uint word) { return stateOf(word) == 2u && !(show == 2 && causeOf(word) == 4u); }
      float[5] soften(vec3 w) {
        return float[5](0.25 * w.x, 0.5 * w.x + 0.25 * w.y, 0.25 * (w.x + w.z) + 0.5 * w.y, 0.25 * w.y + 0.5 * w.z, 0.25 * w.z);
      }
      void main() {
        // Metres per device px here, and how the plane runs across the screen.
        vec2 dx = dFdx(at);
        vec2 dy = dFdy(at);
        float metre = 0.5 * (length(dx) + length(dy));
        vec2 place = (at - corner) / cell;
        ivec2 home = ivec2(floor(place));
        vec2 f = place - vec2(home);
        ivec2 size = textureSize(cells, 0);
        uint middle = texelFetch(cells, clamp(home, ivec2(0), size - 1), 0).r;
        bool plain = (middle & ${PLAIN}u) != 0u && ((middle >> 15) & 31u) == room && stateOf(middle) >= 2u;

        float heaviest = 0.0;
        uint word = middle;
        float weights[6] = float[6](0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
        float share = isBlind(middle) ? 1.0 : 0.0;
        vec2 slope = vec2(0.0);
        if (plain) weights[min(stepOf(middle), 5u)] = 1.0 - share;
        else {
          // Two splines through the cells, sharp and soft: a straight edge between cells stays where it is, stairs become
          // a slope. The soft one draws; where it would swallow or invent a thin thing the sharp one does.
          vec3 x = vec3(0.5 * (1.0 - f.x) * (1.0 - f.x), 0.75 - (f.x - 0.5) * (f.x - 0.5), 0.5 * f.x * f.x);
          vec3 y = vec3(0.5 * (1.0 - f.y) * (1.0 - f.y), 0.75 - (f.y - 0.5) * (f.y - 0.5), 0.5 * f.y * f.y);
          vec3 dxs = vec3(f.x - 1.0, 1.0 - 2.0 * f.x, f.x);
          vec3 dys = vec3(f.y - 1.0, 1.0 - 2.0 * f.y, f.y);
          float wx[5] = soften(x);
          float wy[5] = soften(y);
          float sx[5] = soften(dxs);
          float sy[5] = soften(dys);
          float sharp = 0.0;
          float sharpAll = 0.0;
          vec2 sharpSlope = vec2(0.0);
          vec2 sharpAllSlope = vec2(0.0);
          float soft = 0.0;
          float softAll = 0.0;
          vec2 softSlope = vec2(0.0);
          vec2 softAllSlope = vec2(0.0);
          for (int j = 0; j < 5; j++) {
            for (int i = 0; i < 5; i++) {
              ivec2 tap = home + ivec2(i - 2, j - 2);
              if (any(lessThan(tap, ivec2(0))) || any(greaterThanEqual(tap, size))) continue;
              uint one = texelFetch(cells, tap, 0).r;
              // Outside, under furniture and in another room nothing is known: the nearest known cells decide.
              if (stateOf(one) < 2u || ((one >> 15) & 31u) != room) continue;
              bool blind = isBlind(one);
              float w = wx[i] * wy[j];
              vec2 s = vec2(sx[i] * wy[j], wx[i] * sy[j]);
              softAll += w;
              softAllSlope += s;
              if (blind) { soft += w; softSlope += s; }
              else weights[min(stepOf(one), 5u)] += w;
              if (blind && w > heaviest) { heaviest = w; word = one; }
              if (i == 0 || j == 0 || i == 4 || j == 4) continue;
              float v = x[i - 1] * y[j - 1];
              vec2 t = vec2(dxs[i - 1] * y[j - 1], x[i - 1] * dys[j - 1]);
              sharpAll += v;
              sharpAllSlope += t;
              if (blind) { sharp += v; sharpSlope += t; }
            }
          }
          if (softAll < 1e-3) discard;
          share = soft / softAll;
          slope = (softSlope - share * softAllSlope) / (softAll * cell);
          if (sharpAll > 1e-3) {
            float other = sharp / sharpAll;
            float trust = smoothstep(0.12, 0.26, abs(other - share));
            slope = mix(slope, (sharpSlope - other * sharpAllSlope) / (sharpAll * cell), trust);
            share = mix(share, other, trust);
          }
        }
        float perPx = length(vec2(dot(slope, dx), dot(slope, dy))) * dpr;
        // CSS px from the edge of the blind area, above 0 inside.
        float depth = (share - 0.5) / max(perPx, 1e-4);

        vec4 sum = vec4(0.0);
        if (show != 0) sum = vec4(amountAt(weights, cell / metre), 1.0);
        float inside = clamp(depth * dpr + 0.5, 0.0, 1.0);
        if (inside > 0.0) {
          float breadth = float((word >> 11) & 15u);
          bool narrow = breadth < 15.0 && breadth * cell * pxPerMetre < spacing;
          float ink = narrow ? 1.0 : hatchOf(causeOf(word), word >> 21, at, metre);
          vec3 ground = mix(palette[${COLOUR.tint}], palette[${COLOUR.accent}], ink);
          sum = vec4(mix(sum.rgb, ground, sum.a > 0.0 ? inside : 1.0), max(sum.a, inside * mix(0.94, 1.0, ink)));
        }
        float edge = clamp((0.5 * outline - abs(depth)) * dpr + 0.5, 0.0, 1.0);
        if (edge > 0.0) {
          float a = edge + sum.a * (1.0 - edge);
          sum = vec4((palette[${COLOUR.accent}] * edge + sum.rgb * sum.a * (1.0 - edge)) / a, a);
        }
        if (sum.a < 0.004) discard;
        result = sum;
      }`,
  });
  return material as ShaderMaterial & { readonly uniforms: FieldUniforms };
}
