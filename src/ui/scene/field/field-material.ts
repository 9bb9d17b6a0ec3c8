/** One shader for everything a plane shows: blind with its hatch by cause, amounts in five steps, seen as bare paper. */
import { DoubleSide, GLSL3, type IUniform, ShaderMaterial, type Texture, Vector2 } from 'three';
import { HATCH, LINE } from '../../tokens.ts';
import { when } from '../materials/glsl.ts';
import type { SharedUniforms } from '../materials/shared-uniforms.ts';
import { COLOUR, COLOUR_COUNT } from '../paint.ts';
import { EVEN, PLAIN, SHIFTS } from './cell-words.ts';
import { FIELD_HATCH } from './hatch.glsl.ts';

/** What `show` uniform values mean. */
export const SHOW_CODE = { blind: 0, count: 1, headings: 2 } as const;

export interface FieldUniforms {
  readonly [name: string]: IUniform;
  readonly cells: IUniform<Texture | null>;
  readonly lenses: IUniform<Texture | null>;
  /** The cells as they were when a gesture began; read while `remembers` is true. */
  readonly earlier: IUniform<Texture | null>;
  readonly remembers: IUniform<boolean>;
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
    earlier: { value: null },
    remembers: { value: false },
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
      uniform usampler2D earlier;
      uniform bool remembers;
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
      uint causeOf(uint word) { return (word >> ${SHIFTS.look}) & 7u; }
      uint tagOf(uint word) { return (word >> ${SHIFTS.tag}) & 15u; }
      uint stepOf(uint word) { return (word >> (show == 2 ? ${SHIFTS.step} : ${SHIFTS.look})) & 7u; }
      bool isBlind(uint word) { return stateOf(word) == 2u; }
      float softOf(uint word) {
        float q = float((word >> ${SHIFTS.soft}) & 15u) / 32.0;
        return isBlind(word) ? 0.53125 + q : q;
      }
      // A quadratic spline over one cell, and its slope: d cells from the cell's middle.
      vec2 sharpAt(float d) {
        float far = abs(d);
        float rest = max(1.5 - far, 0.0);
        return far < 0.5 ? vec2(0.75 - d * d, -2.0 * d) : vec2(0.5 * rest * rest, -sign(d) * rest);
      }
      vec4 over(vec4 below, vec3 colour, float cover) {
        float a = cover + below.a * (1.0 - cover);
        return a > 0.0 ? vec4((colour * cover + below.rgb * below.a * (1.0 - cover)) / a, a) : below;
      }
      // How much of the edge that was here before the gesture: a broken line.
      float earlierEdge(ivec2 home, vec2 f, vec2 dx, vec2 dy) {
        ivec2 last = textureSize(earlier, 0) - 1;
        float all = 0.0;
        float blind = 0.0;
        vec2 slope = vec2(0.0);
        for (int j = -1; j <= 1; j++) {
          vec2 y = sharpAt(f.y - 0.5 - float(j));
          for (int i = -1; i <= 1; i++) {
            uint one = texelFetch(earlier, clamp(home + ivec2(i, j), ivec2(0), last), 0).r;
            if (stateOf(one) < 2u || tagOf(one) != room) continue;
            vec2 x = sharpAt(f.x - 0.5 - float(i));
            all += x.x * y.x;
            if (isBlind(one)) { blind += x.x * y.x; slope += vec2(x.y * y.x, x.x * y.y); }
          }
        }
        slope /= cell;
        float perPx = length(vec2(dot(slope, dx), dot(slope, dy))) * dpr;
        if (all < 0.999 || perPx < 1e-4) return 0.0;
        float far = abs(blind - 0.5) / perPx;
        // Dashes of three px, counted along whichever axis the edge follows more closely: they do not waver with it.
        float run = (abs(slope.x) > abs(slope.y) ? at.y : at.x) * pxPerMetre;
        float dash = step(fract(run / 6.0), 0.5);
        return clamp((0.5 * outline - far) * dpr + 0.5, 0.0, 1.0) * dash;
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
        bool plain = (middle & (show == 0 ? ${EVEN}u : ${PLAIN}u)) != 0u && tagOf(middle) == room;

        // Seen ground in the blind view is bare paper: most of a good floor.
        bool bare = plain && show == 0 && !remembers && !isBlind(middle);
        result = vec4(0.0);
        ${when('!bare')} {
        uint word = middle;
        float share = isBlind(middle) ? 1.0 : 0.0;
        vec2 slope = vec2(0.0);
        uint amount = stepOf(middle);
        // Weights of the steps one to four, and of five.
        vec4 weights = vec4(equal(uvec4(amount), uvec4(1u, 2u, 3u, 4u)));
        float most = amount >= 5u ? 1.0 : 0.0;
        bool known = true;
        ${when('!plain')} {
          // A spline through the softness of the cells: a straight edge between cells stays where it is, stairs become a
          // slope.
          vec3 x = vec3(0.5 * (1.0 - f.x) * (1.0 - f.x), 0.75 - (f.x - 0.5) * (f.x - 0.5), 0.5 * f.x * f.x);
          vec3 xs = vec3(f.x - 1.0, 1.0 - 2.0 * f.x, f.x);
          vec3 all = vec3(0.0);
          vec3 blind = vec3(0.0);
          float heaviest = 0.0;
          weights = vec4(0.0);
          most = 0.0;
          for (int j = -1; j <= 1; j++) {
            vec2 y = sharpAt(f.y - 0.5 - float(j));
            for (int i = -1; i <= 1; i++) {
              ivec2 tap = home + ivec2(i, j);
              if (any(lessThan(tap, ivec2(0))) || any(greaterThanEqual(tap, size))) continue;
              uint one = texelFetch(cells, tap, 0).r;
              // Outside, under furniture and in another room nothing is known: the nearest known cells decide.
              if (stateOf(one) < 2u || tagOf(one) != room) continue;
              // Weight, and its slope in x and y.
              vec3 w = vec3(x[i + 1] * y.x, xs[i + 1] * y.x, x[i + 1] * y.y);
              all += w;
              blind += w * softOf(one);
              if (isBlind(one)) {
                if (w.x > heaviest) { heaviest = w.x; word = one; }
              } else if (show != 0) {
                uint amount_ = stepOf(one);
                weights += w.x * vec4(equal(uvec4(amount_), uvec4(1u, 2u, 3u, 4u)));
                most += amount_ >= 5u ? w.x : 0.0;
              }
            }
          }
          known = all.x > 1e-3;
          share = blind.x / max(all.x, 1e-3);
          slope = (blind.yz - share * all.yz) / (max(all.x, 1e-3) * cell);
        }
        float perPx = length(vec2(dot(slope, dx), dot(slope, dy))) * dpr;
        // CSS px from the edge of the blind area, above 0 inside.
        float depth = (share - 0.5) / max(perPx, 1e-4);
        float inside = known ? clamp(depth * dpr + 0.5, 0.0, 1.0) : 0.0;
        float edge = known ? clamp((0.5 * outline - abs(depth)) * dpr + 0.5, 0.0, 1.0) : 0.0;

        vec4 sum = vec4(0.0);
        ${when('show != 0 && known')} sum = vec4(amountAt(weights, most, cell / metre), 1.0);
        ${when('inside > 0.0')} {
          float breadth = float((word >> ${SHIFTS.breadth}) & 7u);
          bool narrow = breadth < 7.0 && breadth * cell * pxPerMetre < spacing;
          float ink = narrow ? 1.0 : hatchOf(causeOf(word), word >> ${SHIFTS.nearest}, at, metre);
          vec3 ground = mix(palette[${COLOUR.tint}], palette[${COLOUR.accent}], ink);
          sum = over(sum, ground, inside * (sum.a > 0.0 ? 1.0 : mix(0.94, 1.0, ink)));
        }
        sum = over(sum, palette[${COLOUR.accent}], edge);
        ${when('remembers')} {
          sum = over(sum, palette[${COLOUR.accent}], earlierEdge(home, f, dx, dy));
        }
        result = sum;
        }
        if (result.a < 0.004) discard;
      }`,
  });
  return material as ShaderMaterial & { readonly uniforms: FieldUniforms };
}
