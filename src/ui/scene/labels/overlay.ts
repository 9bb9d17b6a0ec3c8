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
}

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
    if (!before) this.shown.set(key, { ...entry, text });
    if (before?.text.text !== text.text || before.text.name !== text.name) {
      entry.name.textContent = text.name === undefined ? '' : `${text.name} `;
      entry.rest.data = text.text;
    }
    const className = `scene-word ${text.className ?? ''}`.trimEnd();
    if (entry.element.className !== className) entry.element.className = className;
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

  private create(): Omit<Shown, 'text'> {
    const element = document.createElement('div');
    const name = document.createElement('b');
    const rest = document.createTextNode('');
    element.append(name, rest);
    this.element.append(element);
    return { element, name, rest };
  }

  /** Moves the texts to their places on the screen, if anything has moved. */
  follow(rig: CameraRig): void {
    if (!this.stale && this.version === rig.version) return;
    this.stale = false;
    this.version = rig.version;
    for (const { element, text } of this.shown.values()) {
      const at = rig.project(text.x, text.y, text.z);
      element.style.visibility = at === null ? 'hidden' : 'visible';
      if (at === null) continue;
      const x = Math.round(at[0] + text.dx);
      const y = Math.round(at[1] + text.dy);
      element.style.transform = `translate(${x}px, ${y}px) translate(${SHIFT[text.align]}, -50%)`;
    }
  }
}
