/** What detectors see with every door open: for entrances, spill and places nobody should be seen in. */
import type { DetectorLayers } from '../sight/index.ts';
import { castLayers, createSurroundings, WHEN_OPEN } from '../sight/index.ts';
import type { Coverage } from './coverage.ts';

/** By layers with doors as stated: casting those anew is what follows a change of anything in sight, closed doors too. */
const known = new WeakMap<DetectorLayers, DetectorLayers>();

/** Layers with every door open. They differ only behind closed doors, so only detectors that see one are cast again. */
export function castOpenLayers(coverage: Coverage): DetectorLayers[] {
  const { scene, grid, layers } = coverage;
  const surroundings = createSurroundings(scene);
  const planes = { seated: coverage.seated.height, walking: coverage.walking.height };
  return layers.map((stated, index) => {
    if (!stated.doorInSight) return stated;
    let open = known.get(stated);
    if (open === undefined) {
      open = castLayers(scene, surroundings, scene.lenses[index]!, grid.inRoom, planes, WHEN_OPEN);
      known.set(stated, open);
    }
    return open;
  });
}
