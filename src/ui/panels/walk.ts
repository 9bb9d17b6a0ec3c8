import type { EditorStore } from '../../editor/store.ts';

/** Moves the walker by half a metre, or turns him by 15°; `sideways`: left and right step instead of turning. */
export function walk(store: EditorStore, right: number, up: number, sideways: boolean): void {
  const { walker } = store.getState();
  if (right !== 0 && !sideways) {
    store.setState({ walker: { at: walker.at, heading: (walker.heading - 15 * right + 360) % 360 } });
    return;
  }
  const heading = ((walker.heading - 90 * right) * Math.PI) / 180;
  const length = right !== 0 ? 0.5 : 0.5 * up;
  const at: [number, number] = [walker.at[0] + length * Math.cos(heading), walker.at[1] + length * Math.sin(heading)];
  store.setState({ walker: { at, heading: walker.heading } });
}
