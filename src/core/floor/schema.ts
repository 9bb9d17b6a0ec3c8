/**
 * The floor file `lacuna/1`: one source for the types, the validator and the published JSON Schema.
 *
 * Lengths in metres, angles in degrees counter-clockwise from +x, z up with the floor at z = 0. Outlines are simple
 * polygons in either winding, not closed. Unknown keys are refused by name, except under `notes`.
 * What needs more than one value to judge (references, overlaps, order) lives in `validate.ts`.
 */
import * as z from 'zod/mini';
import type {
  DetectorId,
  DetectorTypeId,
  FurnitureId,
  GroupId,
  LuminaireId,
  OpeningId,
  RoomId,
  SourceId,
  WorkplaceId,
  ZoneId,
} from './ids.ts';

/** Bounds a file is held to; each is stated in the README and named in the message that refuses it. */
export const LIMITS = {
  coordinate: 10_000,
  height: 50,
  cell: { min: 0.02, max: 1 },
  cells: 25_000_000,
  rooms: 2_000,
  detectors: 2_000,
  pieces: 50_000,
  outlinePoints: 5_000,
  rangeSize: 100,
  reach: 2,
  /** Characters in one file, about 32 MB: larger ones are refused before they are read. */
  fileCharacters: 32_000_000,
  /** Characters in a name or another single-line text. */
  text: 1_000,
} as const;

const text = z.string().check(z.maxLength(LIMITS.text));
const longText = z.string().check(z.maxLength(10_000));
export const rawId = z.string().check(z.minLength(1), z.maxLength(200));
const id = <Id extends string>() => rawId as unknown as z.ZodMiniType<Id, string>;

const between = (min: number, max: number) => z.number().check(z.gte(min), z.lte(max));
const upTo = (max: number) => z.number().check(z.gt(0), z.lte(max));
const list = <Item extends z.ZodMiniType>(item: Item, most: number) => z.array(item).check(z.maxLength(most));

export const coordinate = between(-LIMITS.coordinate, LIMITS.coordinate);
export const point = z.tuple([coordinate, coordinate]);
export const height = between(0, LIMITS.height);
export const heightAboveFloor = upTo(LIMITS.height);
export const degrees = between(-3_600, 3_600);
export const nadir = between(0, 90);
export const share = between(0, 1);
export const size = upTo(LIMITS.rangeSize);
const pitch = upTo(100);
export const ring = z.array(point).check(z.minLength(3), z.maxLength(LIMITS.outlinePoints));
export const notes = z.optional(z.union([z.string(), z.record(z.string(), z.unknown())]));
const heightFrom = z._default(z.enum(['measured', 'drawn', 'assumed']), 'drawn');
const yesOrNo = (preset: boolean) => z._default(z.boolean(), preset);

export const roomSchema = z.strictObject({
  id: id<RoomId>(),
  name: text,
  use: z.optional(text),
  outline: ring,
  holes: z._default(list(ring, 1_000), []),
  ceiling: heightAboveFloor,
  ceilingFrom: heightFrom,
  tiles: z.optional(
    z.strictObject({
      origin: point,
      pitch: z._default(z.tuple([pitch, pitch]), [0.6, 0.6]),
      turn: z._default(degrees, 0),
      notes,
    }),
  ),
  notes,
});

export const openingSchema = z.strictObject({
  id: id<OpeningId>(),
  kind: z.enum(['door', 'window', 'passage']),
  from: point,
  to: point,
  depth: z._default(size, 0.4),
  sill: z._default(height, 0),
  /** Left out: 2.1 m for a door or window; the lower of the ceilings it joins for a passage. */
  head: z.optional(height),
  /** Doors only; left out: closed. */
  state: z.optional(z.enum(['open', 'closed'])),
  notes,
});

export const furnitureSchema = z.strictObject({
  id: id<FurnitureId>(),
  kind: z.enum(['partition', 'screen', 'shelving', 'cabinet', 'desk', 'column', 'hanging', 'other']),
  name: text,
  outline: ring,
  base: z._default(height, 0),
  top: height,
  glass: yesOrNo(false),
  /** Metres by which a sit-stand desk (with what is fixed to it) can be raised. */
  raised: z._default(height, 0),
  movable: yesOrNo(false),
  from: heightFrom,
  notes,
});

export const luminaireSchema = z.strictObject({
  id: id<LuminaireId>(),
  name: text,
  at: point,
  size: z.tuple([size, size]),
  turn: z._default(degrees, 0),
  base: height,
  top: height,
  group: z.optional(id<GroupId>()),
  watts: z.optional(between(0, 1e6)),
  emergency: yesOrNo(false),
  notes,
});

export const workplaceSchema = z.strictObject({
  id: id<WorkplaceId>(),
  name: text,
  at: point,
  radius: z._default(upTo(10), 0.5),
  facing: z.optional(degrees),
  posture: z._default(z.enum(['seated', 'standing']), 'seated'),
  notes,
});

export const zoneSchema = z.strictObject({
  id: id<ZoneId>(),
  name: text,
  outline: ring,
  need: z.enum(['seated', 'walking', 'nobody']),
  /** Left out: 0.95, and 0 for `nobody`. */
  share: z.optional(share),
  heading: z.optional(degrees),
  groups: z.optional(list(id<GroupId>(), LIMITS.detectors)),
  notes,
});

export const sourceSchema = z.strictObject({
  id: id<SourceId>(),
  name: text,
  kind: z.enum(['heater', 'fan', 'air outlet', 'lamp', 'machine', 'other']),
  at: point,
  radius: z._default(size, 0.2),
  base: height,
  top: height,
  notes,
});

const motion = z.enum(['minor', 'tangential', 'radial']);
const rangeRow = { motion, mounting: heightAboveFloor, plane: height };
export const rangeRowSchema = z.union([
  z.strictObject({ ...rangeRow, diameter: size, notes }),
  z.strictObject({ ...rangeRow, length: size, width: size, notes }),
]);

export const detectorTypeSchema = z.strictObject({
  id: id<DetectorTypeId>(),
  name: text,
  origin: z._default(text, 'invented'),
  /** Metres from the ceiling down to the lens. */
  drop: z._default(height, 0),
  lightSensor: yesOrNo(true),
  extensionLimit: z.optional(z.int().check(z.gte(0), z.lte(LIMITS.detectors))),
  /** Metres of cable from the main to its extensions, all together. */
  cableLimit: z.optional(upTo(100_000)),
  /** Metres. */
  lensDiameter: z.optional(upTo(1)),
  ranges: list(rangeRowSchema, 300),
  notes,
});

export const maskSchema = z.strictObject({
  from: degrees,
  to: degrees,
  /** Nadir angles: 0 straight down, 90 level. */
  inner: z._default(nadir, 0),
  outer: z._default(nadir, 90),
  notes,
});

export const detectorSchema = z.strictObject({
  id: id<DetectorId>(),
  name: text,
  type: id<DetectorTypeId>(),
  at: point,
  /** Height of the lens; left out: the room's ceiling less the type's drop. */
  height: z.optional(height),
  turn: z._default(degrees, 0),
  reach: z._default(upTo(LIMITS.reach), 1),
  status: z._default(z.enum(['new', 'existing', 'remove']), 'new'),
  locked: yesOrNo(false),
  masks: z._default(list(maskSchema, 100), []),
  notes,
});

export const settingsSchema = z.strictObject({
  switchOn: z.optional(z.enum(['automatic', 'manual'])),
  level: z.optional(between(0, 100_000)),
  delay: z.optional(between(0, 10_000)),
  ventilationDelay: z.optional(between(0, 10_000)),
  background: z.optional(between(0, 100)),
  button: z.optional(text),
  notes,
});

export const groupSchema = z.strictObject({
  id: id<GroupId>(),
  name: text,
  main: id<DetectorId>(),
  extensions: z._default(list(id<DetectorId>(), LIMITS.detectors), []),
  serves: z.optional(list(id<RoomId | ZoneId>(), LIMITS.rooms)),
  ventilation: z.optional(list(id<RoomId | ZoneId>(), LIMITS.rooms)),
  settings: z.prefault(settingsSchema, {}),
  notes,
});

export const recordSchema = z.strictObject({
  date: text,
  by: text,
  kind: text,
  about: rawId,
  expected: z.unknown(),
  found: z.unknown(),
  pass: z.nullable(z.boolean()),
  text: longText,
  notes,
});

export const revisionSchema = z.strictObject({ no: text, date: text, by: text, text: longText, notes });

export const analysisSchema = z.strictObject({
  cell: z._default(between(LIMITS.cell.min, LIMITS.cell.max), 0.1),
  seatedPlane: z._default(heightAboveFloor, 0.8),
  walkingPlane: z._default(heightAboveFloor, 1.2),
  crossingAngle: z._default(z.number().check(z.gte(0), z.lt(90)), 45),
  headings: z._default(upTo(1), 0.75),
  workplaceShare: z._default(share, 0.9),
  notes,
});

export const floorSchema = z.strictObject({
  format: z.literal('lacuna/1'),
  name: text,
  notes,
  /** Degrees from +x to north. */
  north: z._default(degrees, 90),
  revision: z._default(list(revisionSchema, 10_000), []),
  rooms: list(roomSchema, LIMITS.rooms),
  openings: z._default(list(openingSchema, LIMITS.pieces), []),
  furniture: z._default(list(furnitureSchema, LIMITS.pieces), []),
  luminaires: z._default(list(luminaireSchema, LIMITS.pieces), []),
  workplaces: z._default(list(workplaceSchema, LIMITS.pieces), []),
  zones: z._default(list(zoneSchema, LIMITS.pieces), []),
  sources: z._default(list(sourceSchema, LIMITS.pieces), []),
  types: list(detectorTypeSchema, 1_000),
  detectors: list(detectorSchema, LIMITS.detectors),
  groups: z._default(list(groupSchema, LIMITS.detectors), []),
  records: z._default(list(recordSchema, 100_000), []),
  analysis: z.prefault(analysisSchema, {}),
});

/** A value nobody may write to, all the way down. */
type Frozen<Value> = Value extends string | number | boolean | null | undefined
  ? Value
  : Value extends object
    ? { readonly [Key in keyof Value]: Frozen<Value[Key]> }
    : Value;

/** A floor as written: what a file holds and what is saved again, defaults left out where they were left out. */
export type FloorFile = Frozen<z.input<typeof floorSchema>>;

/** A floor with every default filled in: what the computation reads. */
export type Floor = Frozen<z.output<typeof floorSchema>>;

export type Point = Frozen<z.output<typeof point>>;
export type Ring = Frozen<z.output<typeof ring>>;
export type Motion = z.output<typeof motion>;
export type Room = Frozen<z.output<typeof roomSchema>>;
export type Opening = Frozen<z.output<typeof openingSchema>>;
export type Furniture = Frozen<z.output<typeof furnitureSchema>>;
export type Luminaire = Frozen<z.output<typeof luminaireSchema>>;
export type Workplace = Frozen<z.output<typeof workplaceSchema>>;
export type Zone = Frozen<z.output<typeof zoneSchema>>;
export type Source = Frozen<z.output<typeof sourceSchema>>;
export type RangeRow = Frozen<z.output<typeof rangeRowSchema>>;
export type DetectorType = Frozen<z.output<typeof detectorTypeSchema>>;
export type Mask = Frozen<z.output<typeof maskSchema>>;
export type Detector = Frozen<z.output<typeof detectorSchema>>;
export type Group = Frozen<z.output<typeof groupSchema>>;
export type Analysis = Frozen<z.output<typeof analysisSchema>>;
export type Heights = Room['ceilingFrom'];
