/** Faces for the flat material: positions with a share of ink each, in arrays that grow as they are written. */
import { BufferAttribute, BufferGeometry } from 'three';

/** No height tone. */
export const NO_REACH = -1;

export class FaceWriter {
  private positions = new Float32Array(3 * 256);
  private tones = new Float32Array(2 * 256);
  private count = 0;

  /** How many corners have been written; three make a triangle. */
  get length(): number {
    return this.count;
  }

  /** Begins anew with the same arrays. */
  clear(): void {
    this.count = 0;
  }

  /** Copies all corners into longer arrays, beginning with corner `first` of those. */
  copyTo(positions: Float32Array, shades: Float32Array, reaches: Float32Array, first: number): void {
    positions.set(this.positions.subarray(0, 3 * this.count), 3 * first);
    for (let i = 0; i < this.count; i++) {
      shades[first + i] = this.tones[2 * i] as number;
      reaches[first + i] = this.tones[2 * i + 1] as number;
    }
  }

  /** @param shade share of ink, 0 to 1 @param reach (height / ceiling) ** 2.2, or `NO_REACH` */
  corner(x: number, y: number, z: number, shade: number, reach: number): void {
    const at = this.count++;
    if (3 * at + 3 > this.positions.length) this.grow();
    this.positions[3 * at] = x;
    this.positions[3 * at + 1] = y;
    this.positions[3 * at + 2] = z;
    this.tones[2 * at] = shade;
    this.tones[2 * at + 1] = reach;
  }

  /** An upright face over the plan segment a–b from z0 to z1, facing to the right of the way from a to b. */
  upright(ax: number, ay: number, bx: number, by: number, z0: number, z1: number, shade: number): void {
    this.corner(ax, ay, z0, shade, NO_REACH);
    this.corner(bx, by, z0, shade, NO_REACH);
    this.corner(bx, by, z1, shade, NO_REACH);
    this.corner(ax, ay, z0, shade, NO_REACH);
    this.corner(bx, by, z1, shade, NO_REACH);
    this.corner(ax, ay, z1, shade, NO_REACH);
  }

  /** A level convex face, corners flat x, y and counter-clockwise, facing up. */
  level(xy: readonly number[], z: number, shade: number, reach: number): void {
    for (let i = 1; i + 1 < xy.length / 2; i++) {
      for (const k of [0, i, i + 1]) this.corner(xy[2 * k] as number, xy[2 * k + 1] as number, z, shade, reach);
    }
  }

  /** Triangles of a polygon at one height; `down` turns them to face the floor. */
  triangles(
    xy: readonly number[],
    index: readonly number[],
    z: number,
    shade: number,
    reach: number,
    down = false,
  ): void {
    for (let t = 0; t < index.length; t += 3) {
      for (const k of down ? [0, 2, 1] : [0, 1, 2]) {
        const v = index[t + k] as number;
        this.corner(xy[2 * v] as number, xy[2 * v + 1] as number, z, shade, reach);
      }
    }
  }

  private grow(): void {
    const positions = new Float32Array(this.positions.length * 2);
    positions.set(this.positions);
    this.positions = positions;
    const tones = new Float32Array(this.tones.length * 2);
    tones.set(this.tones);
    this.tones = tones;
  }

  /** Makes the geometry; the writer can be thrown away. */
  finish(): BufferGeometry {
    const geometry = new BufferGeometry();
    const shades = new Float32Array(this.count);
    const reaches = new Float32Array(this.count);
    for (let i = 0; i < this.count; i++) {
      shades[i] = this.tones[2 * i] as number;
      reaches[i] = this.tones[2 * i + 1] as number;
    }
    geometry.setAttribute('position', new BufferAttribute(this.positions.slice(0, 3 * this.count), 3));
    geometry.setAttribute('shade', new BufferAttribute(shades, 1));
    geometry.setAttribute('reach', new BufferAttribute(reaches, 1));
    return geometry;
  }
}
