import type { FloorFile } from '../../src/core/floor/schema.ts';
import { composeArchive } from './archive.ts';
import { composeDeskIsland } from './desk-island.ts';
import { composeOpenPlanOffice } from './open-plan-office.ts';
import { composeSmallRooms } from './small-rooms.ts';

/** File name in `models/floors` and what composes it. */
export const COMMITTED_FLOORS: Readonly<Record<string, () => FloorFile>> = {
  'archive.json': composeArchive,
  'desk-island.json': composeDeskIsland,
  'open-plan-office.json': composeOpenPlanOffice,
  'small-rooms.json': composeSmallRooms,
};
