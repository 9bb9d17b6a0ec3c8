export type { Doors } from '../floor/index.ts';
export type { Arounds } from './around.ts';
export { createArounds, gatherToDisc } from './around.ts';
export { castLensMasks, keepExtent } from './extent-fill.ts';
export { findFirstBlocker } from './first-cut.ts';
export type { DetectorLayers, Layer, LayerPlanes } from './layers.ts';
export { castLayers, NO_LAYERS } from './layers.ts';
export type { Lens } from './lenses.ts';
export { compileLenses } from './lenses.ts';
export type { Occluders } from './occluders.ts';
export type { Prism } from './prisms.ts';
export { luminaireOutline } from './prisms.ts';
export type { Extent, HungRange } from './range.ts';
export { ABOVE_TABLE, extentAt, hangRange, MOTIONS, outerRadius, rangeAt, SLACK } from './range.ts';
export type { Clip, Lattice, Raster } from './raster.ts';
export {
  clearSpan,
  countBits,
  countCells,
  createFullRaster,
  createRaster,
  createRasterOver,
  hasCell,
  setSpan,
} from './raster.ts';
export type { Scene } from './scene.ts';
export { compileScene, listFurnitureNear, withDetectorsOf } from './scene.ts';
export type { Surroundings } from './shadows.ts';
export { castFull, castPart, createSurroundings, gather } from './shadows.ts';
export type { Sight, Target } from './trace.ts';
export { findCut, isMasked, spanOf, traceSight } from './trace.ts';
export { WHEN_OPEN, WHEN_STATED } from './wall-drafts.ts';
export type { Gap, WallEdge } from './walls.ts';
export { cutEdge, gapHolds, listGaps, listWallEdges } from './walls.ts';
export type { Watch } from './watch.ts';
export { watchFrom } from './watch.ts';
