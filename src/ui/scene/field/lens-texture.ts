/** Where the lenses are, for the hatch: four floats a detector (x, y, height, 0), local metres. */
import { DataTexture, FloatType, NearestFilter, RGBAFormat } from 'three';
import type { Floor } from '../../../core/floor/index.ts';
import { heightOfLens } from '../lens-height.ts';
import type { LocalFrame } from '../local-frame.ts';

export function createLensTexture(count: number): DataTexture {
  const texture = new DataTexture(
    new Float32Array(4 * Math.max(1, count)),
    Math.max(1, count),
    1,
    RGBAFormat,
    FloatType,
  );
  texture.minFilter = NearestFilter;
  texture.magFilter = NearestFilter;
  texture.generateMipmaps = false;
  return texture;
}

/** Writes every lens of the floor; the texture has a place for each. */
export function writeLenses(texture: DataTexture, floor: Floor, frame: LocalFrame): void {
  const data = texture.image.data as Float32Array;
  floor.detectors.forEach((detector, i) => {
    data[4 * i] = detector.at[0] - frame.x;
    data[4 * i + 1] = detector.at[1] - frame.y;
    data[4 * i + 2] = heightOfLens(detector, floor);
  });
  texture.needsUpdate = true;
}
