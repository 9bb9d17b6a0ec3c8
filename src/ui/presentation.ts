/** Whether the floor is being presented: the picture and one sentence, nothing else. No part of the document. */
import { createStore } from 'zustand/vanilla';

/** CSS px across at which a presented picture has the sizes of the page; wider ones have everything larger. */
const PLAIN_WIDTH = 1_100;

export interface Presentation {
  readonly isOn: boolean;
  /** The small plan that says where the picture is. */
  readonly hasKeyPlan: boolean;
}

export const presentation = createStore<Presentation>()(() => ({ isOn: false, hasKeyPlan: true }));

/** How many times larger than on the page lines, signs and words are drawn now. */
export function magnificationOf({ isOn }: Pick<Presentation, 'isOn'>, width: number): number {
  return isOn ? Math.max(1, width / PLAIN_WIDTH) : 1;
}
