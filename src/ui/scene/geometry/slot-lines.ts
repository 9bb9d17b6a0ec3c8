import type { LineBatch } from './line-batch.ts';
import { type Slot, Slots } from './slots.ts';

/** Lines of many things in one batch; those of one that changes are written into their own stretch. */
export class SlotLines extends Slots {
  readonly batch: LineBatch;

  constructor(batch: LineBatch) {
    super();
    this.batch = batch;
  }

  /** Puts the lines of a batch that is not drawn in the place of `old`. */
  put(old: Slot | undefined, lines: LineBatch): Slot {
    const slot = this.take(old, lines.length);
    this.batch.overwrite(slot.first, lines);
    return slot;
  }

  clear(): void {
    this.forget();
    this.batch.clear();
  }

  /** Makes what was put what is drawn. */
  flush(): void {
    this.batch.flushChanges();
  }

  protected wipe({ first, count }: Slot): void {
    this.batch.wipe(first, count);
  }

  dispose(): void {
    this.batch.dispose();
  }
}
