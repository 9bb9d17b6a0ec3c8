/** The drawn floor, loaded apart from the panels, and the handle by which they steer its view. */
import type { ViewApi } from '../scene/FloorScene.tsx';

let port: { readonly current: ViewApi | null } | null = null;

/** Loads the scene; the panels stand on screen meanwhile. */
export async function loadScene() {
  const { FloorScene, viewApi } = await import('../scene/FloorScene.tsx');
  port = viewApi;
  return { default: FloorScene };
}

/** The view of the drawn floor; null while nothing is drawn. */
export function view(): ViewApi | null {
  return port?.current ?? null;
}
