import type { ShaderMaterial } from 'three';
import { InstanceBatch } from './instance-batch.ts';

export interface MarkLook {
  /** One of `GLYPH`. */
  readonly glyph: number;
  /** A place in the palette. */
  readonly colour: number;
  /** Radius in px; the sign is never drawn smaller. */
  readonly radius: number;
  /** True radius in metres. */
  readonly metres?: number;
  readonly width?: number;
  readonly alpha?: number;
  /** Radians counter-clockwise. */
  readonly turn?: number;
  /** Turned to the viewer instead of lying flat. */
  readonly facing?: boolean;
}

/** Small signs of a size in px. Coordinates are local metres. */
export class MarkBatch extends InstanceBatch {
  constructor(material: ShaderMaterial, renderOrder: number) {
    super(
      material,
      renderOrder,
      [-1, -1, 1, -1, 1, 1, -1, 1],
      [
        ['centre', 3],
        ['form', 4],
        ['look', 4],
      ],
    );
  }

  add(x: number, y: number, z: number, look: MarkLook): void {
    const at = this.reserve();
    const { data } = this;
    data[at] = x;
    data[at + 1] = y;
    data[at + 2] = z;
    data[at + 3] = look.glyph;
    data[at + 4] = look.radius;
    data[at + 5] = look.metres ?? 0;
    data[at + 6] = look.turn ?? 0;
    data[at + 7] = look.colour;
    data[at + 8] = look.alpha ?? 1;
    data[at + 9] = look.width ?? 1.25;
    data[at + 10] = look.facing ? 1 : 0;
  }
}
