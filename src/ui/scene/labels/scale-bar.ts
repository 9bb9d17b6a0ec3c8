/** How long a metre is in this plan: a bar at the lower left of the page. */
import type { CameraRig } from '../camera/camera-rig.ts';

const LENGTHS = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1_000];
/** The longest bar, px. */
const LONGEST = 170;

export class ScaleBar {
  private readonly element = document.createElement('div');
  private readonly bar = document.createElement('span');
  private readonly text = document.createTextNode('');
  private scale = 0;

  constructor(parent: HTMLElement) {
    this.element.className = 'scene-scale';
    this.element.append(this.bar, this.text);
    parent.append(this.element);
  }

  follow(rig: CameraRig, pxPerMetre: number): void {
    const shows = rig.lean < 0.02 && rig.walk < 0.02;
    const scale = shows ? pxPerMetre : 0;
    if (scale === this.scale) return;
    this.scale = scale;
    this.element.hidden = !shows;
    if (!shows) return;
    const length = LENGTHS.findLast((each) => each * scale <= LONGEST) ?? LENGTHS[0] ?? 1;
    this.bar.style.width = `${length * scale}px`;
    this.text.data = `${length} m`;
  }

  dispose(): void {
    this.element.remove();
  }
}
