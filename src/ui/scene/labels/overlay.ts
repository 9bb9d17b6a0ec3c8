/** The few words that follow the hand: HTML over the canvas, moved by transform, unseen by pointer and screen reader. */
import type { CameraRig } from '../camera/camera-rig.ts';

export interface OverlayText {
  /** Local place, metres. */
  readonly x: number;
  readonly y: number;
  readonly z: number;
  /** CSS px beside it, y down. */
  readonly dx: number;
  readonly dy: number;
  readonly align: 'left' | 'right' | 'centre';
  /** Said in bold before the rest. */
  readonly name?: string;
  readonly text: string;
  readonly className?: string;
}

interface Shown {
  readonly element: HTMLDivElement;
  readonly name: HTMLElement;
  readonly rest: Text;
  text: OverlayText;
  /** CSS px, once it has been measured; null since its words have changed. */
  size: readonly [width: number, height: number] | null;
}

/** Where on the screen words stand, CSS px. */
export interface Spot {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** By how many of its own heights a word gives way to those before it, the nearest first. */
const GIVES_WAY = [0, 1, -1, 2, -2, 3, -3] as const;

const SHIFT = { left: '0', right: '-100%', centre: '-50%' } as const;

export class Overlay {
  readonly element: HTMLElement;
  private readonly shown = new Map<string, Shown>();
  private stale = false;
  private version = -1;

  constructor(element: HTMLElement) {
    this.element = element;
  }

  /** Shows a text under a key, in place of the one that was there. */
  set(key: string, text: OverlayText): void {
    const before = this.shown.get(key);
    const entry = before ?? this.create();
    if (!before) this.shown.set(key, { ...entry, text, size: null });
    if (before?.text.text !== text.text || before.text.name !== text.name) {
      entry.name.textContent = text.name === undefined ? '' : `${text.name} `;
      entry.rest.data = text.text;
      (this.shown.get(key) as Shown).size = null;
    }
    const className = `scene-word ${text.className ?? ''}`.trimEnd();
    if (entry.element.className !== className) {
      entry.element.className = className;
      (this.shown.get(key) as Shown).size = null;
    }
    (this.shown.get(key) as Shown).text = text;
    this.stale = true;
  }

  /** Takes away every text whose key begins so, but those to keep. */
  clear(prefix: string, keep: ReadonlySet<string> = new Set()): void {
    for (const [key, entry] of this.shown) {
      if (!key.startsWith(prefix) || keep.has(key)) continue;
      entry.element.remove();
      this.shown.delete(key);
    }
  }

  private create(): Omit<Shown, 'text' | 'size'> {
    const element = document.createElement('div');
    const name = document.createElement('b');
    const rest = document.createTextNode('');
    element.append(name, rest);
    this.element.append(element);
    return { element, name, rest };
  }

  /**
   * Moves the texts to their places on the screen, if anything has moved.
   * @param listStanding words written on the floor that these should not lie on
   */
  follow(rig: CameraRig, listStanding: () => Spot[] = () => []): void {
    if (!this.stale && this.version === rig.version) return;
    this.stale = false;
    this.version = rig.version;
    const placed = [...this.shown.values()].map((entry) => {
      const { x, y, z, dx, dy } = entry.text;
      const at = rig.project(x, y, z);
      entry.element.style.visibility = at === null ? 'hidden' : 'visible';
      // All are measured before one is moved: a page laid out between would be laid out again for each.
      entry.size ??= [entry.element.offsetWidth, entry.element.offsetHeight];
      return { entry, at: at && ([Math.round(at[0] + dx), Math.round(at[1] + dy)] as const) };
    });
    const standing = placed.length === 0 ? [] : listStanding();
    const taken: Spot[] = [];
    for (const { entry, at } of placed) {
      if (at === null) continue;
      const { element, text, size } = entry;
      const y = at[1] + giveWay(spotOf(at, text.align, size ?? [0, 0]), taken, standing);
      element.style.transform = `translate(${at[0]}px, ${y}px) translate(${SHIFT[text.align]}, -50%)`;
    }
  }
}

function spotOf(
  [x, y]: readonly [number, number],
  align: OverlayText['align'],
  [width, height]: readonly [number, number],
): Spot {
  const left = align === 'left' ? x : align === 'right' ? x - width : x - width / 2;
  return { left, top: y - height / 2, right: left + width, bottom: y + height / 2 };
}

/**
 * How far down a word moves so as to lie on none that stands, or where there is too little room on none of its own kind;
 * 0 where it would have to go too far. Takes the place.
 */
function giveWay(spot: Spot, taken: Spot[], standing: readonly Spot[]): number {
  const height = spot.bottom - spot.top;
  const moved = (by: number): Spot => ({ ...spot, top: spot.top + by, bottom: spot.bottom + by });
  const isFreeOf = (others: readonly Spot[]) => (lines: number) =>
    !others.some((other) => meets(moved(lines * height), other));
  const lines = GIVES_WAY.find(isFreeOf([...taken, ...standing])) ?? GIVES_WAY.find(isFreeOf(taken)) ?? 0;
  taken.push(moved(lines * height));
  return Math.round(lines * height);
}

function meets(a: Spot, b: Spot): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}
