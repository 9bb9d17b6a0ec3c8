/** Layers that the first picture does not need: what shows when a hand selects, drags, probes, draws, compares or walks. */
import { BracketLayer } from './bracket-layer.ts';
import { CurtainLayer } from './curtain-layer.ts';
import { DifferenceLayer } from './difference-layer.ts';
import { GuideLayer } from './guide-layer.ts';
import type { Layer, SceneContext } from './layer.ts';
import { MaskLayer } from './mask-layer.ts';
import { ProbeLayer } from './probe-layer.ts';
import { RangeLayer } from './range-layer.ts';
import { TrailLayer } from './trail-layer.ts';
import { UprightLayer } from './upright-layer.ts';
import { WalkLayer } from './walk-layer.ts';

/** The three that the scene asks something of, and the rest. */
export interface LaterLayers {
  readonly probe: ProbeLayer;
  readonly guides: GuideLayer;
  readonly masks: MaskLayer;
  readonly layers: readonly Layer[];
}

export function createLaterLayers(context: SceneContext): LaterLayers {
  const guides = new GuideLayer(context);
  const masks = new MaskLayer(context);
  return {
    probe: new ProbeLayer(context),
    guides,
    masks,
    layers: [
      new DifferenceLayer(context),
      new RangeLayer(context),
      masks,
      new TrailLayer(context),
      new BracketLayer(context),
      new CurtainLayer(context),
      new UprightLayer(context),
      new WalkLayer(context),
      guides,
    ],
  };
}
