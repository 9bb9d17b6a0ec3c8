/** Where words go: a word is put down only where no other word and no mark stands. */
import { measureText, type Spot, type TextStyle, textAt } from './svg.ts';

export interface Rect {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

export interface Labels {
  /** Keeps a place clear of words. */
  block(rect: Rect): void;
  isFree(rect: Rect): boolean;
  /**
   * Puts a line of text at the first spot of the list where it is free; at the first of all when `must`, else nowhere.
   * Spots are of the kind the style's anchor says, on the base line.
   */
  put(text: string, spots: readonly Spot[], style: TextStyle, must: boolean): boolean;
  /** All that was put down, as SVG. */
  write(): string;
}

/** Side of the squares by which blocked places are looked up, mm. */
const BIN = 12;

export function createLabels(): Labels {
  const bins = new Map<string, Rect[]>();
  const texts: string[] = [];
  const forBins = function* (rect: Rect): Generator<string> {
    for (let i = Math.floor(rect.x0 / BIN); i <= Math.floor(rect.x1 / BIN); i++) {
      for (let j = Math.floor(rect.y0 / BIN); j <= Math.floor(rect.y1 / BIN); j++) yield `${i} ${j}`;
    }
  };
  const block = (rect: Rect): void => {
    for (const bin of forBins(rect)) {
      const rects = bins.get(bin);
      if (rects === undefined) bins.set(bin, [rect]);
      else rects.push(rect);
    }
  };
  const isFree = (rect: Rect): boolean => {
    for (const bin of forBins(rect)) {
      for (const other of bins.get(bin) ?? []) {
        if (rect.x0 < other.x1 && other.x0 < rect.x1 && rect.y0 < other.y1 && other.y0 < rect.y1) return false;
      }
    }
    return true;
  };
  return {
    block,
    isFree,
    put(text, spots, style, must) {
      const spot = spots.find((each) => isFree(rectOf(text, each, style))) ?? (must ? spots[0] : undefined);
      if (spot === undefined) return false;
      block(rectOf(text, spot, style));
      texts.push(textAt(spot, text, style));
      return true;
    },
    write: () => texts.join(''),
  };
}

/** The box around a line of text; a turned one is taken to stand upright. */
export function rectOf(text: string, { x, y }: Spot, style: TextStyle): Rect {
  const width = measureText(text, style);
  const start = style.anchor === 'middle' ? -width / 2 : style.anchor === 'end' ? -width : 0;
  const rise = style.size * 0.74;
  const drop = style.size * 0.22;
  if (style.turn === undefined) return { x0: x + start, y0: y - rise, x1: x + start + width, y1: y + drop };
  return { x0: x - rise, y0: y - start - width, x1: x + drop, y1: y - start };
}
