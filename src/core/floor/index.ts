export { type Doors, headOf, isEmpty, isOpen, keepHeads, lensHeightOf, shareOf } from './derived.ts';
export { placeAtDesk } from './desk-place.ts';
export { type Fault, formatFault } from './fault.ts';
export type * from './ids.ts';
export { floorJsonSchema } from './json-schema.ts';
export { nameOf } from './names.ts';
export { type ParsedFloor, parseFloor, validateFloor } from './parse.ts';
export { resolveFloor } from './resolve.ts';
export { boxChangedRooms, findRoomAt, listJoinedRooms } from './rooms.ts';
export {
  type Analysis,
  type Detector,
  type DetectorType,
  type Floor,
  type FloorFile,
  type Furniture,
  type Group,
  type Heights,
  LIMITS,
  type Luminaire,
  type Mask,
  type Motion,
  type Opening,
  type Point,
  type RangeRow,
  type Ring,
  type Room,
  type Source,
  type Workplace,
  type Zone,
} from './schema.ts';
export { serialiseFloor } from './serialise.ts';
