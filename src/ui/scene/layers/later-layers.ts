/** Layers that the first picture does not need: what shows when something is selected, dragged, compared or walked. */
import { BracketLayer } from './bracket-layer.ts';
import { CurtainLayer } from './curtain-layer.ts';
import { DifferenceLayer } from './difference-layer.ts';
import type { Layer, SceneContext } from './layer.ts';
import { TrailLayer } from './trail-layer.ts';
import { UprightLayer } from './upright-layer.ts';
import { WalkLayer } from './walk-layer.ts';

export function createLaterLayers(context: SceneContext): readonly Layer[] {
  return [
    new DifferenceLayer(context),
    new TrailLayer(context),
    new BracketLayer(context),
    new CurtainLayer(context),
    new UprightLayer(context),
    new WalkLayer(context),
  ];
}
