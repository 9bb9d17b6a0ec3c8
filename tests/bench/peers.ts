/** The ray casters that the fields are measured against, each at the best setting found. */
import { type Collider, ColliderDesc, init, type Ray as RapierRay, Ray, World } from '@dimforge/rapier3d-compat';
import { BufferAttribute, BufferGeometry, DoubleSide, Ray as ThreeRay } from 'three';
import { MeshBVH, SAH } from 'three-mesh-bvh';
import type { FloorMesh } from './floor-mesh.ts';

export interface Point3 {
  readonly x: number;
  readonly y: number;
  /** Metres above the floor. */
  readonly h: number;
}

/** Something that can tell whether a sight line is clear. */
export interface RayCaster {
  readonly name: string;
  readonly setting: string;
  isClear(lens: Point3, target: Point3): boolean;
  /** How many of `count` targets at height h, `step` metres apart in x, have a clear line to the lens. */
  countClear(lens: Point3, x: number, step: number, count: number, y: number, h: number): number;
}

/** Lines end this much before their target, metres, so that a face the target lies on does not count as in the way. */
const SHORT = 0.001;

/** three-mesh-bvh: the first hit on either side of a triangle, in a tree split by surface area. */
export function createBvhCaster(mesh: FloorMesh): RayCaster {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(mesh.positions, 3));
  geometry.setIndex(new BufferAttribute(mesh.index.slice(), 1));
  const bvh = new MeshBVH(geometry, { strategy: SAH, targetLeafSize: 2 });
  const ray = new ThreeRay();
  const { origin, direction } = ray;
  const cast = (dx: number, dy: number, dz: number): boolean => {
    const length = Math.sqrt(dx * dx + dy * dy + dz * dz);
    const scale = 1 / length;
    direction.x = dx * scale;
    direction.y = dy * scale;
    direction.z = dz * scale;
    return bvh.raycastFirst(ray, DoubleSide, 0, length - SHORT) === null;
  };
  return {
    name: 'bvh',
    setting: 'MeshBVH, SAH, leaf 2, raycastFirst, both sides, far = the target',
    isClear(lens, target) {
      origin.set(lens.x, lens.y, lens.h);
      return cast(target.x - lens.x, target.y - lens.y, target.h - lens.h);
    },
    countClear(lens, x, step, count, y, h) {
      origin.set(lens.x, lens.y, lens.h);
      let clear = 0;
      for (let k = 0; k < count; k++) if (cast(x + k * step - lens.x, y - lens.y, h - lens.h)) clear++;
      return clear;
    },
  };
}

/** rapier: the first hit on one fixed triangle mesh. */
export async function createRapierCaster(mesh: FloorMesh): Promise<RayCaster> {
  await init();
  const world = new World({ x: 0, y: 0, z: 0 });
  const collider = world.createCollider(ColliderDesc.trimesh(mesh.positions, mesh.index));
  world.step();
  const ray = new Ray({ x: 0, y: 0, z: 0 }, { x: 0, y: 0, z: 0 });
  return {
    name: 'rapier',
    setting: 'one trimesh collider, castRay, maxToi = the target',
    isClear(lens, target) {
      aim(ray, lens, target.x, target.y, target.h);
      return cast(collider, ray);
    },
    countClear(lens, x, step, count, y, h) {
      let clear = 0;
      for (let k = 0; k < count; k++) {
        aim(ray, lens, x + k * step, y, h);
        if (cast(collider, ray)) clear++;
      }
      return clear;
    },
  };
}

/** The direction is the whole line, so that a hit at 1 is a hit at the target. */
function aim(ray: RapierRay, lens: Point3, x: number, y: number, h: number): void {
  ray.origin.x = lens.x;
  ray.origin.y = lens.y;
  ray.origin.z = lens.h;
  ray.dir.x = x - lens.x;
  ray.dir.y = y - lens.y;
  ray.dir.z = h - lens.h;
}

function cast(collider: Collider, ray: RapierRay): boolean {
  const { x, y, z } = ray.dir;
  return collider.castRay(ray, 1 - SHORT / Math.sqrt(x * x + y * y + z * z), true) < 0;
}
