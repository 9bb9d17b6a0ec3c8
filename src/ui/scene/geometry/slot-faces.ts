import { BufferAttribute, BufferGeometry, DynamicDrawUsage } from 'three';
import type { FaceWriter } from './face-writer.ts';
import { type Slot, Slots } from './slots.ts';

/** Faces of many things in one geometry; one that changes is written into its own stretch. Counts are corners. */
export class SlotFaces extends Slots {
  readonly geometry = new BufferGeometry();
  private capacity = 0;
  private positions = new Float32Array();
  private shades = new Float32Array();
  private reaches = new Float32Array();

  /** Puts what a writer holds in the place of `old`. */
  put(old: Slot | undefined, writer: FaceWriter): Slot {
    const slot = this.take(old, writer.length);
    if (this.length > this.capacity) this.grow();
    writer.copyTo(this.positions, this.shades, this.reaches, slot.first);
    this.markStale(slot);
    return slot;
  }

  clear(): void {
    this.forget();
  }

  /** Makes what was put what is drawn. */
  flush(): void {
    this.geometry.setDrawRange(0, this.length);
  }

  protected wipe({ first, count }: Slot): void {
    this.positions.fill(0, 3 * first, 3 * (first + count));
    this.markStale({ first, count });
  }

  private markStale({ first, count }: Slot): void {
    if (count === 0) return;
    for (const attribute of Object.values(this.geometry.attributes) as BufferAttribute[]) {
      const { itemSize } = attribute;
      attribute.addUpdateRange(first * itemSize, count * itemSize);
      attribute.needsUpdate = true;
    }
  }

  private grow(): void {
    this.capacity = Math.max(1_024, 2 * this.capacity, Math.ceil(1.25 * this.length));
    const { geometry, capacity } = this;
    // Takes the old arrays off the card.
    geometry.dispose();
    const grown = (old: Float32Array, size: number): Float32Array<ArrayBuffer> => {
      const array = new Float32Array(capacity * size);
      array.set(old);
      return array;
    };
    this.positions = grown(this.positions, 3);
    this.shades = grown(this.shades, 1);
    this.reaches = grown(this.reaches, 1);
    const set = (name: string, array: Float32Array, size: number) => {
      geometry.setAttribute(name, new BufferAttribute(array, size).setUsage(DynamicDrawUsage));
    };
    set('position', this.positions, 3);
    set('shade', this.shades, 1);
    set('reach', this.reaches, 1);
  }

  dispose(): void {
    this.geometry.dispose();
  }
}
