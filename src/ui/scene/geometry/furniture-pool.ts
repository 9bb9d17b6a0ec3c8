/** Every piece of furniture drawn in its own stretch of the arrays: one that is moved or resized costs what it is. */
import type { Mesh, ShaderMaterial } from 'three';
import type { Furniture } from '../../../core/floor/index.ts';
import type { LocalFrame } from '../local-frame.ts';
import { FaceWriter } from './face-writer.ts';
import { LineBatch } from './line-batch.ts';
import { drawPrismEdges, writePiece } from './prisms.ts';
import { SlotFaces } from './slot-faces.ts';
import { SlotLines } from './slot-lines.ts';
import type { Slot } from './slots.ts';

/** What all pieces are drawn by: other than before, all are drawn anew. */
export interface PoolStyle {
  /** What heights are measured against for their tone, metres. */
  readonly ceiling: number;
  /** Pieces no taller lie under the field, metres. */
  readonly plane: number;
  readonly frame: LocalFrame;
}

interface Drawn {
  piece: Furniture;
  readonly slots: Readonly<Record<Part, Slot>>;
  /** The sync that saw it last. */
  seen: number;
}

const PARTS = ['solid', 'glass', 'tops', 'sides'] as const;
type Part = (typeof PARTS)[number];

export class FurniturePool {
  readonly solid = new SlotFaces();
  readonly glass = new SlotFaces();
  readonly tops: SlotLines;
  readonly sides: SlotLines;
  private readonly drawn = new Map<string, Drawn>();
  private readonly writers = { solid: new FaceWriter(), glass: new FaceWriter() };
  private readonly lines: { readonly tops: LineBatch; readonly sides: LineBatch };
  private pieces: readonly Furniture[] = [];
  private style: PoolStyle | null = null;
  private run = 0;

  constructor(material: ShaderMaterial, order: number) {
    this.tops = new SlotLines(new LineBatch(material, order));
    this.sides = new SlotLines(new LineBatch(material, order));
    this.lines = { tops: new LineBatch(material, order), sides: new LineBatch(material, order) };
  }

  get meshes(): readonly Mesh[] {
    return [this.tops.batch.mesh, this.sides.batch.mesh];
  }

  /** Draws these pieces and no others. @returns how many were drawn anew */
  sync(pieces: readonly Furniture[], style: PoolStyle): number {
    const was = this.style;
    this.style = style;
    const same = was?.ceiling === style.ceiling && was.plane === style.plane && isSameOrigin(was.frame, style.frame);
    if (!same || PARTS.some((part) => this[part].isWasteful)) this.clear();
    else if (pieces === this.pieces) return 0;
    const anew = this.redrawInPlace(pieces, style) ?? this.redraw(pieces, style);
    this.pieces = pieces;
    for (const part of PARTS) this[part].flush();
    return anew;
  }

  /** The same pieces in the same order, some of them changed: what a gesture brings with every frame. Null: other pieces. */
  private redrawInPlace(pieces: readonly Furniture[], style: PoolStyle): number | null {
    const { pieces: was } = this;
    if (pieces.length !== was.length || this.drawn.size !== was.length) return null;
    const changed: Furniture[] = [];
    for (let i = 0; i < pieces.length; i++) {
      const piece = pieces[i] as Furniture;
      if (piece === was[i]) continue;
      if (piece.id !== was[i]?.id) return null;
      changed.push(piece);
    }
    for (const piece of changed) this.draw(piece, style, this.drawn.get(piece.id));
    return changed.length;
  }

  private redraw(pieces: readonly Furniture[], style: PoolStyle): number {
    this.run++;
    let anew = 0;
    for (const piece of pieces) {
      const drawn = this.drawn.get(piece.id);
      if (drawn?.piece === piece) drawn.seen = this.run;
      else {
        this.draw(piece, style, drawn);
        anew++;
      }
    }
    if (this.drawn.size > pieces.length) {
      for (const [id, { seen, slots }] of this.drawn) {
        if (seen === this.run) continue;
        for (const part of PARTS) this[part].free(slots[part]);
        this.drawn.delete(id);
      }
    }
    return anew;
  }

  private draw(piece: Furniture, { ceiling, plane, frame }: PoolStyle, old: Drawn | undefined): void {
    const { writers, lines } = this;
    writers.solid.clear();
    writers.glass.clear();
    lines.tops.clear();
    lines.sides.clear();
    writePiece(writers, piece, ceiling, frame);
    drawPrismEdges(lines, [piece], plane, frame);
    const slots = {
      solid: this.solid.put(old?.slots.solid, writers.solid),
      glass: this.glass.put(old?.slots.glass, writers.glass),
      tops: this.tops.put(old?.slots.tops, lines.tops),
      sides: this.sides.put(old?.slots.sides, lines.sides),
    };
    this.drawn.set(piece.id, { piece, slots, seen: this.run });
  }

  private clear(): void {
    this.drawn.clear();
    for (const part of PARTS) this[part].clear();
  }

  dispose(): void {
    for (const part of PARTS) this[part].dispose();
    for (const batch of Object.values(this.lines)) batch.dispose();
  }
}

function isSameOrigin(a: LocalFrame, b: LocalFrame): boolean {
  return a.x === b.x && a.y === b.y;
}
