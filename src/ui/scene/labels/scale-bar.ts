/** How long a metre, or a foot, is in this plan: a bar at the lower left of the page. */
import type { Units } from '../../../editor/tools/tool.ts';
import type { CameraRig } from '../camera/camera-rig.ts';

const FOOT = 0.3048;
/** Metres that make a round number in a unit. */
const LENGTHS: Readonly<Record<Units, readonly number[]>> = {
  metres: [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1_000],
  feet: [0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1_000, 2_000].map((feet) => feet * FOOT),
};
/** The longest bar, px. */
const LONGEST = 170;

export class ScaleBar {
  private readonly element = document.createElement('div');
  private readonly bar = document.createElement('span');
  private readonly text = document.createTextNode('');
  private scale = 0;
  private units: Units = 'metres';

  constructor(parent: HTMLElement) {
    this.element.className = 'scene-scale';
    this.element.append(this.bar, this.text);
    parent.append(this.element);
  }

  follow(rig: CameraRig, pxPerMetre: number, units: Units): void {
    const shows = rig.lean < 0.02 && rig.walk < 0.02;
    const scale = shows ? pxPerMetre : 0;
    if (scale === this.scale && units === this.units) return;
    this.scale = scale;
    this.units = units;
    this.element.hidden = !shows;
    if (!shows) return;
    const length = LENGTHS[units].findLast((each) => each * scale <= LONGEST) ?? LENGTHS[units][0] ?? 1;
    this.bar.style.width = `${length * scale}px`;
    this.text.data = units === 'feet' ? `${Math.round((length / FOOT) * 10) / 10} ft` : `${length} m`;
  }

  dispose(): void {
    this.element.remove();
  }
}
