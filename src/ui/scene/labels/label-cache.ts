/** Labels kept for as long as the thing they are on is the same object: what an edit leaves alone is not worked out anew. */
import type { Label } from './floor-labels.ts';

export class LabelCache {
  private kept = new WeakMap<object, { readonly stamp: string | number; readonly labels: readonly Label[] }>();

  /** @param stamp everything else the labels depend on */
  get(item: object, stamp: string | number, make: () => readonly Label[]): readonly Label[] {
    const before = this.kept.get(item);
    if (before?.stamp === stamp) return before.labels;
    const labels = make();
    this.kept.set(item, { stamp, labels });
    return labels;
  }

  forget(item: object): void {
    this.kept.delete(item);
  }

  /** Another theme, another origin. */
  clear(): void {
    this.kept = new WeakMap();
  }
}
