import { when } from '../materials/glsl.ts';
import { NO_DETECTOR } from './cell-words.ts';

/**
 * Texture is cause. Hidden: rays that point at the lens which misses by least, as many as keep their spacing (their
 * number doubles where the gap has grown to √2, new ones taper in). Masked: arcs across the sight line. Out of range:
 * staggered dots, for no line reaches. Too few headings: short strokes along the sight line, the way one walks unseen.
 */
export const FIELD_HATCH = /* glsl */ `
      uniform float spacing;
      uniform float stroke;
      uniform float dotRadius;
      uniform vec2 octave;
      const float TURN = 6.283185307;

      float linesAt(float turns, float count, float radius) {
        return abs(fract(turns * count + 0.5) - 0.5) / count * TURN * radius;
      }
      float covered(float distance_, float width, float metre) {
        return clamp((0.5 * width - distance_) / metre + 0.5, 0.0, 1.0) * clamp(width / metre, 0.0, 1.0);
      }
      // Share of accent at a place; metre: metres per device px there.
      float hatchOf(uint cause, uint detector, vec2 place, float metre) {
        float s = spacing / pxPerMetre;
        float w = stroke / pxPerMetre;
        float ink = 0.0;
        bool dotted = cause == 3u || detector == ${NO_DETECTOR}u;
        ${when('dotted')} {
          vec2 grid = place / vec2(s, s * 0.8660254);
          float row = floor(grid.y);
          vec2 cell_ = vec2(fract(grid.x + 0.5 * mod(row, 2.0)) - 0.5, fract(grid.y) - 0.5);
          float far = length(cell_ * vec2(s, s * 0.8660254));
          ink = clamp((dotRadius / pxPerMetre - far) / metre + 0.5, 0.0, 1.0);
        }
        ${when('!dotted')} {
          vec2 from = place - texelFetch(lenses, ivec2(int(detector), 0), 0).xy;
          float r = max(length(from), 1e-4);
          ${when('cause == 2u')} ink = covered(abs(fract(r / s + 0.5) - 0.5) * s, w, metre);
          ${when('cause != 2u')} {
            float turns = atan(from.y, from.x) / TURN + 0.5;
            float o = max(log2(TURN * r / s), 0.0);
            float n = exp2(floor(o));
            ink = covered(linesAt(turns, n, r), w, metre);
            if (cause == 4u) {
              float lane = floor(turns * n + 0.5);
              float run = fract(r / (2.0 * s) + 0.5 * mod(lane, 2.0));
              ink *= clamp((0.24 - abs(run - 0.5)) * 2.0 * s / metre + 0.5, 0.0, 1.0);
            } else {
              float taper = clamp((fract(o) - octave.x) / octave.y, 0.0, 1.0);
              ink = max(ink, covered(linesAt(turns, 2.0 * n, r), w * taper, metre));
            }
          }
        }
        return ink;
      }
      // The strongest step; where the next strongest takes over, an edge one device px soft.
      vec3 amountAt(vec4 weights, float most, float pxPerCell) {
        float strongest = -1.0;
        float second = -1.0;
        vec3 colour = amounts[0];
        vec3 next = amounts[0];
        for (int k = 0; k < 5; k++) {
          float w = k == 4 ? most : weights[k];
          if (w > strongest) {
            second = strongest;
            next = colour;
            strongest = w;
            colour = amounts[k];
          } else if (w > second) {
            second = w;
            next = amounts[k];
          }
        }
        // Across a straight edge the difference of the two weights falls by 1.2 a cell.
        float far = (strongest - second) / 1.2 * pxPerCell;
        return mix(next, colour, clamp(far + 0.5, 0.5, 1.0));
      }
`;
