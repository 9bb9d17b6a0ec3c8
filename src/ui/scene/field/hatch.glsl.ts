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
        if (cause == 3u || detector == 2047u) {
          vec2 grid = place / vec2(s, s * 0.8660254);
          float row = floor(grid.y);
          vec2 cell_ = vec2(fract(grid.x + 0.5 * mod(row, 2.0)) - 0.5, fract(grid.y) - 0.5);
          float far = length(cell_ * vec2(s, s * 0.8660254));
          return clamp((dotRadius / pxPerMetre - far) / metre + 0.5, 0.0, 1.0);
        }
        vec2 from = place - texelFetch(lenses, ivec2(int(detector), 0), 0).xy;
        float r = max(length(from), 1e-4);
        if (cause == 2u) return covered(abs(fract(r / s + 0.5) - 0.5) * s, w, metre);
        float turns = atan(from.y, from.x) / TURN + 0.5;
        float o = max(log2(TURN * r / s), 0.0);
        float n = exp2(floor(o));
        float main_ = covered(linesAt(turns, n, r), w, metre);
        float taper = clamp((fract(o) - octave.x) / octave.y, 0.0, 1.0);
        float fresh = covered(linesAt(turns, 2.0 * n, r), w * taper, metre);
        float rays = max(main_, fresh);
        if (cause == 4u) {
          float ring = r / (2.0 * s);
          float lane = floor(turns * n + 0.5);
          float run = fract(ring + 0.5 * mod(lane, 2.0));
          return main_ * clamp((0.24 - abs(run - 0.5)) * 2.0 * s / metre + 0.5, 0.0, 1.0);
        }
        return rays;
      }
      // The strongest step; where the next strongest takes over, an edge one device px soft.
      vec3 amountAt(float weights[6], float pxPerCell) {
        int best = 1;
        for (int k = 2; k < 6; k++) if (weights[k] > weights[best]) best = k;
        int next = 0;
        for (int k = 1; k < 6; k++) if (k != best && (next == 0 || weights[k] > weights[next])) next = k;
        // Across a straight edge the difference of the two weights falls by 1.5 a cell.
        float far = (weights[best] - weights[next]) / 1.5 * pxPerCell;
        return mix(amounts[next - 1], amounts[best - 1], clamp(far + 0.5, 0.5, 1.0));
      }
`;
