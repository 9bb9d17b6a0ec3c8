/** Words drawn once into a texture at the screen's own pixels, so that they stay crisp and cost nothing while one pans. */
import { CanvasTexture, LinearFilter } from 'three';
import { FONT } from '../../tokens.ts';

/** One label: lines of words, each with a weight and a colour (CSS). Text is only ever measured and painted, never parsed. */
export interface LabelText {
  readonly lines: readonly LabelLine[];
  readonly align: 'left' | 'right' | 'centre';
  /** Colour of the casing that keeps it legible on any ground; null: none. */
  readonly casing: string | null;
}

export interface LabelLine {
  readonly text: string;
  readonly weight: number;
  readonly colour: string;
  readonly size: number;
}

/** Where a label lies in the atlas, device px. */
export interface LabelSlot {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Room for the casing round a label, CSS px. */
const LABEL_PAD = 3;
const LINE_HEIGHT = 1.22;
const CASING = 3;
const LONGEST = 60;
/** Device px kept free below what is painted, for labels that come later. */
const SPARE = 256;

export class LabelAtlas {
  readonly canvas = document.createElement('canvas');
  texture: CanvasTexture;
  private readonly context: CanvasRenderingContext2D;
  private readonly largest: number;
  private slots = new Map<string, LabelSlot>();
  private known = new Set<string>();
  private scale = 1;
  /** Where the next label goes, and the height of the row it is in. */
  private next = { x: 0, y: 0, row: 0 };

  constructor(largest: number) {
    this.largest = Math.min(largest, 4096);
    const context = this.canvas.getContext('2d');
    if (context === null) throw new Error('A canvas without a 2D context.');
    this.context = context;
    this.texture = this.createTexture();
  }

  private createTexture(): CanvasTexture {
    const texture = new CanvasTexture(this.canvas);
    texture.flipY = false;
    texture.generateMipmaps = false;
    texture.minFilter = LinearFilter;
    texture.magFilter = LinearFilter;
    texture.premultiplyAlpha = true;
    return texture;
  }

  /** Whether a label was among those painted last, though it may not have fitted. */
  knows(key: string): boolean {
    return this.known.has(key);
  }

  /** Where a label lies, by its key. */
  slotOf(key: string): LabelSlot | undefined {
    return this.slots.get(key);
  }

  /** Paints labels anew, by key, at `scale` device px per CSS px. What no longer fits has no slot. */
  paint(labels: ReadonlyMap<string, LabelText>, scale: number): void {
    this.slots = new Map();
    this.known = new Set(labels.keys());
    const width = Math.min(this.largest, labels.size > 400 ? 4096 : labels.size > 100 ? 2048 : 1024);
    this.scale = scale;
    this.next = { x: 0, y: 0, row: 0 };
    for (const [key, label] of labels) this.place(key, label, width, this.largest);
    this.canvas.width = width;
    this.canvas.height = Math.min(this.largest, this.next.y + this.next.row + SPARE);
    for (const [key, slot] of this.slots) {
      const label = labels.get(key);
      if (label) this.draw(label, slot, scale);
    }
    // A texture keeps the size with which it went to the card.
    this.texture.dispose();
    this.texture = this.createTexture();
  }

  /** Paints a few labels beside the others. False: there is no room for them, and nothing is painted. */
  append(labels: ReadonlyMap<string, LabelText>): boolean {
    const { next } = this;
    const { width, height } = this.canvas;
    const fits = [...labels].every(([key, label]) => this.place(key, label, width, height));
    if (!fits) {
      for (const key of labels.keys()) this.slots.delete(key);
      this.next = next;
      return false;
    }
    for (const [key, label] of labels) {
      this.known.add(key);
      const slot = this.slots.get(key);
      if (slot) this.draw(label, slot, this.scale);
    }
    this.texture.needsUpdate = true;
    return true;
  }

  /** Finds a label its slot. False: it does not fit. */
  private place(key: string, label: LabelText, width: number, height: number): boolean {
    const size = this.measure(label, this.scale);
    let { x, y, row } = this.next;
    if (x + size.width > width) {
      x = 0;
      y += row;
      row = 0;
    }
    const fits = size.width <= width && y + size.height <= height;
    if (fits) {
      this.slots.set(key, { x, y, ...size });
      x += size.width;
      row = Math.max(row, size.height);
    }
    this.next = { x, y, row };
    return fits;
  }

  private measure(label: LabelText, scale: number): { width: number; height: number } {
    let width = 0;
    let height = 0;
    for (const line of label.lines) {
      this.context.font = fontOf(line, scale);
      width = Math.max(width, this.context.measureText(shorten(line.text)).width);
      height += line.size * LINE_HEIGHT * scale;
    }
    const pad = 2 * LABEL_PAD * scale;
    return { width: Math.ceil(width + pad), height: Math.ceil(height + pad) };
  }

  private draw({ lines, align, casing }: LabelText, slot: LabelSlot, scale: number): void {
    const { context } = this;
    const pad = LABEL_PAD * scale;
    const x = align === 'left' ? slot.x + pad : align === 'right' ? slot.x + slot.width - pad : slot.x + slot.width / 2;
    context.textAlign = align === 'centre' ? 'center' : align;
    context.textBaseline = 'alphabetic';
    context.lineJoin = 'round';
    for (const paint of casing === null ? [false] : [true, false]) {
      let y = slot.y + pad;
      for (const line of lines) {
        context.font = fontOf(line, scale);
        const baseline = Math.round(y + line.size * 0.92 * scale);
        if (paint && casing !== null) {
          context.strokeStyle = casing;
          context.lineWidth = CASING * scale;
          context.strokeText(shorten(line.text), x, baseline);
        } else {
          context.fillStyle = line.colour;
          context.fillText(shorten(line.text), x, baseline);
        }
        y += line.size * LINE_HEIGHT * scale;
      }
    }
  }

  dispose(): void {
    this.texture.dispose();
  }
}

function fontOf(line: LabelLine, scale: number): string {
  return `${line.weight} ${line.size * scale}px ${FONT.working}`;
}

/** A name can be a thousand characters long; the drawing shows its beginning. */
function shorten(text: string): string {
  return text.length > LONGEST ? `${text.slice(0, LONGEST - 1)}…` : text;
}
