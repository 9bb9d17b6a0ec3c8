/** Names of pieces. One that is moved or resized is named anew, the others keep their words. */
import type { Floor, Furniture } from '../../../core/floor/index.ts';
import type { Units } from '../../../editor/tools/tool.ts';
import type { Palette } from '../../tokens.ts';
import { type LocalFrame, referenceCeiling } from '../local-frame.ts';
import { type Label, labelPiece } from './floor-labels.ts';

/** Names are written on so many pieces, those on which they fit soonest. */
const MOST = 800;

export class FurnitureLabels {
  private pieces: readonly Furniture[] = [];
  private labels: (Label | null)[] = [];
  private stamp = '';

  /** Another theme, another origin. */
  clear(): void {
    this.pieces = [];
    this.labels = [];
  }

  list(floor: Floor, palette: Palette, frame: LocalFrame, units: Units): readonly Label[] {
    const ceiling = referenceCeiling(floor);
    const { seatedPlane } = floor.analysis;
    const stamp = `${ceiling} ${seatedPlane} ${units}`;
    if (stamp !== this.stamp) this.clear();
    this.stamp = stamp;
    const before = this.pieces;
    const kept = before.length === floor.furniture.length ? null : new Map(before.map((piece, i) => [piece, i]));
    this.labels = floor.furniture.map((piece, i) => {
      const at = kept === null ? (piece === before[i] ? i : undefined) : kept.get(piece);
      return at === undefined
        ? labelPiece(piece, ceiling, seatedPlane, palette, frame, units)
        : (this.labels[at] ?? null);
    });
    this.pieces = floor.furniture;
    const named = this.labels.filter((each) => each !== null);
    return named.length <= MOST ? named : named.sort((a, b) => a.place.from - b.place.from).slice(0, MOST);
  }
}
