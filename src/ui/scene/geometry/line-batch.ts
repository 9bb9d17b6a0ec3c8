import type { ShaderMaterial } from 'three';
import { InstanceBatch } from './instance-batch.ts';

/** How a line looks: px, a place in the palette, dash and gap in px (none: solid). */
export interface LineStyle {
  readonly width: number;
  readonly colour: number;
  readonly dash?: readonly number[];
  readonly alpha?: number;
}

/** Line segments whose width and dashes are px at any zoom. Coordinates are local metres. */
export class LineBatch extends InstanceBatch {
  constructor(material: ShaderMaterial, renderOrder: number) {
    super(
      material,
      renderOrder,
      [0, -1, 1, -1, 1, 1, 0, 1],
      [
        ['a', 3],
        ['b', 3],
        ['style', 4],
        ['run', 2],
      ],
    );
  }

  /** One segment. `start`: metres along its polyline at a, so that dashes run on; left out: they are counted in px from a. */
  add(ax: number, ay: number, az: number, bx: number, by: number, bz: number, style: LineStyle, start = -1): void {
    const at = this.reserve();
    const { data } = this;
    data[at] = ax;
    data[at + 1] = ay;
    data[at + 2] = az;
    data[at + 3] = bx;
    data[at + 4] = by;
    data[at + 5] = bz;
    data[at + 6] = style.width;
    data[at + 7] = style.colour;
    data[at + 8] = style.dash?.[0] ?? 0;
    data[at + 9] = style.dash?.[1] ?? 0;
    data[at + 10] = start;
    data[at + 11] = style.alpha ?? 1;
  }

  /** A polyline through plan points (flat x, y) at one height; dashes run on round its corners. */
  addPolyline(xy: ArrayLike<number>, z: number, style: LineStyle, closed = false): void {
    const corners = xy.length / 2;
    let run = 0;
    for (let i = 0; i + (closed ? 0 : 1) < corners; i++) {
      const j = (i + 1) % corners;
      const ax = xy[2 * i] as number;
      const ay = xy[2 * i + 1] as number;
      const bx = xy[2 * j] as number;
      const by = xy[2 * j + 1] as number;
      this.add(ax, ay, z, bx, by, z, style, run);
      run += Math.hypot(bx - ax, by - ay);
    }
  }
}
