/** Room for many things in one long array: each has a stretch of its own and can be written anew without the others. */

/** A stretch of instances, or of corners. */
export interface Slot {
  readonly first: number;
  readonly count: number;
}

/** Less waste than this is not worth tidying. */
const LEAST_WASTE = 4_096;

export abstract class Slots {
  private end = 0;
  private used = 0;

  /** More than half of the array is no longer used: time to lay everything out anew. */
  get isWasteful(): boolean {
    const waste = this.end - this.used;
    return waste > LEAST_WASTE && waste > this.used;
  }

  /** One past the last stretch. */
  protected get length(): number {
    return this.end;
  }

  /** The old stretch where the new contents fit it exactly, else another at the end; the old one is then wiped. */
  protected take(old: Slot | undefined, count: number): Slot {
    if (old?.count === count) return old;
    if (old !== undefined) this.free(old);
    const slot = { first: this.end, count };
    this.end += count;
    this.used += count;
    return slot;
  }

  /** Takes a thing away. */
  free(slot: Slot): void {
    this.used -= slot.count;
    if (slot.count > 0) this.wipe(slot);
  }

  protected forget(): void {
    this.end = 0;
    this.used = 0;
  }

  protected abstract wipe(slot: Slot): void;
}
