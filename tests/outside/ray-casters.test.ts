/**
 * Two ray casters by others, three-mesh-bvh and rapier, on floors extruded to triangles, against the plain sight line.
 * Only lines whose end is closer than 1 mm to the edge of a shadow may differ.
 */
import RAPIER from '@dimforge/rapier3d-compat';
import { BufferAttribute, BufferGeometry, DoubleSide, Ray, Vector3 } from 'three';
import { MeshBVH, SAH } from 'three-mesh-bvh';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Doors, Floor, FloorFile } from '../../src/core/floor/index.ts';
import type { Target } from '../../src/core/sight/index.ts';
import { compileScene, traceSight } from '../../src/core/sight/index.ts';
import { FAR_TYPE, readFloor } from '../core/sight/build-floor.ts';
import { isSettled } from '../core/sight/near-edge.ts';
import { createRandom } from '../models/random.ts';
import { randomFloor } from '../models/random-floor.ts';
import { buildMesh, type FloorMesh } from './floor-mesh.ts';

const FLOORS = 50;
const LINES_A_LENS = 400;
/** Rays begin and end this far from the lens and the target: a start on a surface is told differently by the two. */
const OFF = 1e-4;

type IsClear = (from: Target, to: Target) => boolean;

function createBvh({ positions, index, origin }: FloorMesh): IsClear {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(positions, 3));
  geometry.setIndex(new BufferAttribute(index, 1));
  const bvh = new MeshBVH(geometry, { strategy: SAH, targetLeafSize: 2 });
  const ray = new Ray();
  return (from, to) => {
    ray.origin.set(from.x - origin[0], from.y - origin[1], from.h);
    ray.direction.copy(new Vector3(to.x - from.x, to.y - from.y, to.h - from.h));
    const length = ray.direction.length();
    ray.direction.divideScalar(length);
    return bvh.raycastFirst(ray, DoubleSide, OFF, length - OFF) === null;
  };
}

function createRapier({ positions, index, origin }: FloorMesh): { readonly isClear: IsClear; free(): void } {
  const world = new RAPIER.World({ x: 0, y: 0, z: 0 });
  const collider = world.createCollider(RAPIER.ColliderDesc.trimesh(positions, index));
  world.step();
  const ray = new RAPIER.Ray({ x: 0, y: 0, z: 0 }, { x: 0, y: 0, z: 1 });
  return {
    isClear: (from, to) => {
      const [dx, dy, dz] = [to.x - from.x, to.y - from.y, to.h - from.h];
      const length = Math.hypot(dx, dy, dz);
      ray.dir = { x: dx / length, y: dy / length, z: dz / length };
      ray.origin = {
        x: from.x - origin[0] + OFF * ray.dir.x,
        y: from.y - origin[1] + OFF * ray.dir.y,
        z: from.h + OFF * ray.dir.z,
      };
      return collider.castRay(ray, length - 2 * OFF, false) < 0;
    },
    free: () => world.free(),
  };
}

/** A random floor whose lenses see as far as a type may, without masks: only what stands in the way is left. */
function readFarFloor(seed: number): Floor {
  const file: FloorFile = randomFloor(seed);
  return readFloor({
    ...file,
    types: file.types.map((type) => ({ ...FAR_TYPE, id: type.id, drop: type.drop ?? 0 })),
    detectors: file.detectors.map(({ masks: _, status: _status, reach: _reach, ...detector }) => detector),
  });
}

const tally = { compared: 0, seen: 0, excused: 0 };

beforeAll(() => RAPIER.init());
afterAll(() => {
  console.info(
    `ray casters: ${tally.compared} sight lines compared with each of two, ${tally.seen} seen, ${tally.excused} answers within 1 mm of an edge`,
  );
});

test('on random floors both see what the plain sight line sees', () => {
  const wrong: string[] = [];
  for (let seed = 500; seed < 500 + FLOORS; seed++) {
    const floor = readFarFloor(seed);
    const scene = compileScene(floor);
    const random = createRandom(seed);
    const xs = floor.rooms.flatMap(({ outline }) => outline.map(([x]) => x));
    const ys = floor.rooms.flatMap(({ outline }) => outline.map(([, y]) => y));
    for (const doors of ['stated', 'open'] as Doors[]) {
      const mesh = buildMesh(floor, doors);
      const rapier = createRapier(mesh);
      const casters = { bvh: createBvh(mesh), rapier: rapier.isClear };
      for (const [detector, lens] of scene.lenses.entries()) {
        for (let line = 0; line < LINES_A_LENS; line++) {
          const target = {
            x: random.between(Math.min(...xs), Math.max(...xs)),
            y: random.between(Math.min(...ys), Math.max(...ys)),
            h: random.between(0, lens.h - 0.05),
          };
          const sight = traceSight(scene, detector, target, 'tangential', doors);
          if (!sight.seen && sight.why === 'range') continue;
          tally.compared++;
          if (sight.seen) tally.seen++;
          for (const [name, isClear] of Object.entries(casters)) {
            if (isClear(lens, target) === sight.seen) continue;
            const see = (place: Target) => traceSight(scene, detector, place, 'tangential', doors).seen;
            const heights = [0, -0.001, 0.001].map((step) => ({ ...target, h: target.h + step }));
            if (heights.every((place) => see(place) === sight.seen && isSettled(see, place))) {
              wrong.push(`${name}, seed ${seed}, detector ${detector}, ${doors}: ${JSON.stringify({ target, sight })}`);
            } else tally.excused++;
          }
        }
      }
      rapier.free();
    }
  }
  expect(wrong).toEqual([]);
  expect(tally.compared).toBeGreaterThan(100_000);
  expect(tally.seen).toBeGreaterThan(0.1 * tally.compared);
  expect(tally.excused).toBeLessThan(0.005 * tally.compared);
});
