/** What detectors see with every door open: for entrances, spill and places nobody should be seen in. */
import type { DetectorLayers } from '../sight/index.ts';
import { castLayers, createSurroundings, extentAt, outerRadius, WHEN_OPEN } from '../sight/index.ts';
import type { Coverage } from './coverage.ts';

/** Layers with every door open. They differ only behind closed doors, so only detectors near one are cast again. */
export function castOpenLayers(coverage: Coverage): DetectorLayers[] {
  const { scene, grid, layers } = coverage;
  const { occluders } = scene;
  const doorways = [...occluders.doors.keys()].filter((k) => occluders.doors[k] === WHEN_OPEN);
  const surroundings = createSurroundings(scene);
  const planes = { seated: coverage.seated.height, walking: coverage.walking.height };
  return scene.lenses.map((lens, index) => {
    if (lens.removed) return layers[index]!;
    const reach = Math.max(
      outerRadius(extentAt(lens.ranges.minor, lens.h, planes.seated)),
      outerRadius(extentAt(lens.ranges.tangential, lens.h, planes.walking)),
      outerRadius(extentAt(lens.ranges.radial, lens.h, planes.walking)),
    );
    const near = doorways.some((k) => {
      const dx = Math.max(occluders.boxes[4 * k]! - lens.x, 0, lens.x - occluders.boxes[4 * k + 2]!);
      const dy = Math.max(occluders.boxes[4 * k + 1]! - lens.y, 0, lens.y - occluders.boxes[4 * k + 3]!);
      return Math.hypot(dx, dy) <= reach;
    });
    return near ? castLayers(scene, surroundings, lens, grid.inRoom, planes, WHEN_OPEN) : layers[index]!;
  });
}
