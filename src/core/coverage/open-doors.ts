/** What detectors see with every door open: for entrances, spill and places nobody should be seen in. */
import type { DetectorLayers } from '../sight/index.ts';
import { castLayers, createSurroundings, WHEN_OPEN } from '../sight/index.ts';
import type { Coverage } from './coverage.ts';

/** Layers with every door open. They differ only behind closed doors, so only detectors that see one are cast again. */
export function castOpenLayers(coverage: Coverage): DetectorLayers[] {
  const { scene, grid, layers } = coverage;
  const surroundings = createSurroundings(scene);
  const planes = { seated: coverage.seated.height, walking: coverage.walking.height };
  return layers.map((stated, index) =>
    stated.doorInSight ? castLayers(scene, surroundings, scene.lenses[index]!, grid.inRoom, planes, WHEN_OPEN) : stated,
  );
}
