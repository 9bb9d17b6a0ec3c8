/**
 * The floor file `lacuna/1`: one source for the types, the validator and the published JSON Schema.
 *
 * Lengths in metres, angles in degrees counter-clockwise from +x, z up with the floor at z = 0. Outlines are simple
 * polygons in either winding, not closed. Unknown keys are refused by name, except under `notes`.
 * What needs more than one value to judge (references, overlaps, order) lives in `validate.ts`.
 */
import { z } from 'zod';
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
  /** Characters in one file, about 64 MB: larger ones are refused before they are read. */
  fileCharacters: 64_000_000,
  /** Characters in a name or another single-line text. */
  text: 1_000,
} as const;

const text = z.string().max(LIMITS.text);
const rawId = z.string().min(1).max(200);
const id = <Id extends string>() => rawId as unknown as z.ZodType<Id, string>;

const coordinate = z.number().min(-LIMITS.coordinate).max(LIMITS.coordinate);
const point = z.tuple([coordinate, coordinate]).readonly();
const height = z.number().min(0).max(LIMITS.height);
const plane = z.number().gt(0).max(LIMITS.height);
const degrees = z.number().min(-3_600).max(3_600);
const share = z.number().min(0).max(1);
const size = z.number().gt(0).max(LIMITS.rangeSize);
const ring = z.array(point).min(3).max(LIMITS.outlinePoints).readonly();
const notes = z.union([z.string(), z.record(z.string(), z.unknown())]).optional();
const heightFrom = z.enum(['measured', 'drawn', 'assumed']).default('drawn');
const list = <Item extends z.ZodType>(item: Item, most: number) => z.array(item).max(most).readonly();

export const roomSchema = z
  .strictObject({
    id: id<RoomId>(),
    name: text,
    use: text.optional(),
    outline: ring,
    holes: list(ring, 1_000).default([]),
    ceiling: z.number().gt(0).max(LIMITS.height),
    ceilingFrom: heightFrom,
    tiles: z
      .strictObject({
        origin: point,
        pitch: z
          .tuple([z.number().gt(0).max(100), z.number().gt(0).max(100)])
          .readonly()
          .default([0.6, 0.6]),
        turn: degrees.default(0),
        notes,
      })
      .readonly()
      .optional(),
    notes,
  })
  .readonly();

export const openingSchema = z
  .strictObject({
    id: id<OpeningId>(),
    kind: z.enum(['door', 'window', 'passage']),
    from: point,
    to: point,
    depth: z.number().gt(0).max(LIMITS.rangeSize).default(0.4),
    sill: height.default(0),
    /** Left out: 2.1 m for a door or window; the lower of the ceilings it joins for a passage. */
    head: height.optional(),
    /** Doors only; left out: closed. */
    state: z.enum(['open', 'closed']).optional(),
    notes,
  })
  .readonly();

export const furnitureSchema = z
  .strictObject({
    id: id<FurnitureId>(),
    kind: z.enum(['partition', 'screen', 'shelving', 'cabinet', 'desk', 'column', 'hanging', 'other']),
    name: text,
    outline: ring,
    base: height.default(0),
    top: height,
    glass: z.boolean().default(false),
    /** Metres by which a sit-stand desk (with what is fixed to it) can be raised. */
    raised: height.default(0),
    movable: z.boolean().default(false),
    from: heightFrom,
    notes,
  })
  .readonly();

export const luminaireSchema = z
  .strictObject({
    id: id<LuminaireId>(),
    name: text,
    at: point,
    size: z.tuple([size, size]).readonly(),
    turn: degrees.default(0),
    base: height,
    top: height,
    group: id<GroupId>().optional(),
    watts: z.number().min(0).max(1e6).optional(),
    emergency: z.boolean().default(false),
    notes,
  })
  .readonly();

export const workplaceSchema = z
  .strictObject({
    id: id<WorkplaceId>(),
    name: text,
    at: point,
    radius: z.number().gt(0).max(10).default(0.5),
    facing: degrees.optional(),
    posture: z.enum(['seated', 'standing']).default('seated'),
    notes,
  })
  .readonly();

export const zoneSchema = z
  .strictObject({
    id: id<ZoneId>(),
    name: text,
    outline: ring,
    need: z.enum(['seated', 'walking', 'nobody']),
    /** Left out: 0.95, and 0 for `nobody`. */
    share: share.optional(),
    heading: degrees.optional(),
    groups: z.array(id<GroupId>()).max(LIMITS.detectors).readonly().optional(),
    notes,
  })
  .readonly();

export const sourceSchema = z
  .strictObject({
    id: id<SourceId>(),
    name: text,
    kind: z.enum(['heater', 'fan', 'air outlet', 'lamp', 'machine', 'other']),
    at: point,
    radius: z.number().gt(0).max(LIMITS.rangeSize).default(0.2),
    base: height,
    top: height,
    notes,
  })
  .readonly();

const motion = z.enum(['minor', 'tangential', 'radial']);
const mounting = z.number().gt(0).max(LIMITS.height);
export const rangeRowSchema = z.union([
  z.strictObject({ motion, mounting, plane: height, diameter: size, notes }).readonly(),
  z.strictObject({ motion, mounting, plane: height, length: size, width: size, notes }).readonly(),
]);

export const detectorTypeSchema = z
  .strictObject({
    id: id<DetectorTypeId>(),
    name: text,
    origin: text.default('invented'),
    /** Metres from the ceiling down to the lens. */
    drop: z.number().min(0).max(LIMITS.height).default(0),
    lightSensor: z.boolean().default(true),
    extensionLimit: z.int().min(0).max(LIMITS.detectors).optional(),
    /** Metres of cable from the main to its extensions, all together. */
    cableLimit: z.number().gt(0).max(100_000).optional(),
    /** Metres. */
    lensDiameter: z.number().gt(0).max(1).optional(),
    ranges: list(rangeRowSchema, 300),
    notes,
  })
  .readonly();

export const maskSchema = z
  .strictObject({
    from: degrees,
    to: degrees,
    /** Nadir angles: 0 straight down, 90 level. */
    inner: z.number().min(0).max(90).default(0),
    outer: z.number().min(0).max(90).default(90),
    notes,
  })
  .readonly();

export const detectorSchema = z
  .strictObject({
    id: id<DetectorId>(),
    name: text,
    type: id<DetectorTypeId>(),
    at: point,
    /** Height of the lens; left out: the room's ceiling less the type's drop. */
    height: height.optional(),
    turn: degrees.default(0),
    reach: z.number().gt(0).max(LIMITS.reach).default(1),
    status: z.enum(['new', 'existing', 'remove']).default('new'),
    locked: z.boolean().default(false),
    masks: list(maskSchema, 100).default([]),
    notes,
  })
  .readonly();

export const settingsSchema = z
  .strictObject({
    switchOn: z.enum(['automatic', 'manual']).optional(),
    level: z.number().min(0).max(100_000).optional(),
    delay: z.number().min(0).max(10_000).optional(),
    ventilationDelay: z.number().min(0).max(10_000).optional(),
    background: z.number().min(0).max(100).optional(),
    button: text.optional(),
    notes,
  })
  .readonly();

export const groupSchema = z
  .strictObject({
    id: id<GroupId>(),
    name: text,
    main: id<DetectorId>(),
    extensions: z.array(id<DetectorId>()).max(LIMITS.detectors).readonly().default([]),
    serves: z.array(id<RoomId | ZoneId>()).max(LIMITS.rooms).readonly().optional(),
    ventilation: z.array(rawId).max(LIMITS.rooms).readonly().optional(),
    settings: settingsSchema.default({}),
    notes,
  })
  .readonly();

export const recordSchema = z
  .strictObject({
    date: text,
    by: text,
    kind: text,
    about: rawId,
    expected: z.unknown(),
    found: z.unknown(),
    pass: z.boolean().nullable(),
    text: z.string().max(10_000),
    notes,
  })
  .readonly();

export const analysisSchema = z
  .strictObject({
    cell: z.number().min(LIMITS.cell.min).max(LIMITS.cell.max).default(0.1),
    seatedPlane: plane.default(0.8),
    walkingPlane: plane.default(1.2),
    crossingAngle: z.number().min(0).lt(90).default(45),
    headings: z.number().gt(0).max(1).default(0.75),
    workplaceShare: share.default(0.9),
    notes,
  })
  .readonly();

export const floorSchema = z
  .strictObject({
    format: z.literal('lacuna/1'),
    name: text,
    notes,
    /** Degrees from +x to north. */
    north: degrees.default(90),
    revision: list(z.strictObject({ no: text, date: text, by: text, text: z.string().max(10_000), notes }).readonly(), 10_000).default([]),
    rooms: list(roomSchema, LIMITS.rooms),
    openings: list(openingSchema, LIMITS.pieces).default([]),
    furniture: list(furnitureSchema, LIMITS.pieces).default([]),
    luminaires: list(luminaireSchema, LIMITS.pieces).default([]),
    workplaces: list(workplaceSchema, LIMITS.pieces).default([]),
    zones: list(zoneSchema, LIMITS.pieces).default([]),
    sources: list(sourceSchema, LIMITS.pieces).default([]),
    types: list(detectorTypeSchema, 1_000),
    detectors: list(detectorSchema, LIMITS.detectors),
    groups: list(groupSchema, LIMITS.detectors).default([]),
    records: list(recordSchema, 100_000).default([]),
    analysis: analysisSchema.prefault({}),
  })
  .readonly();

/** A floor as written: what a file holds and what is saved again, defaults left out where they were left out. */
export type FloorFile = z.input<typeof floorSchema>;

/** A floor with every default filled in: what the computation reads. */
export type Floor = z.output<typeof floorSchema>;

export type Point = z.output<typeof point>;
export type Ring = z.output<typeof ring>;
export type Motion = z.output<typeof motion>;
export type Room = z.output<typeof roomSchema>;
export type Opening = z.output<typeof openingSchema>;
export type Furniture = z.output<typeof furnitureSchema>;
export type Luminaire = z.output<typeof luminaireSchema>;
export type Workplace = z.output<typeof workplaceSchema>;
export type Zone = z.output<typeof zoneSchema>;
export type Source = z.output<typeof sourceSchema>;
export type RangeRow = z.output<typeof rangeRowSchema>;
export type DetectorType = z.output<typeof detectorTypeSchema>;
export type Mask = z.output<typeof maskSchema>;
export type Detector = z.output<typeof detectorSchema>;
export type Group = z.output<typeof groupSchema>;
export type Analysis = z.output<typeof analysisSchema>;
export type Heights = Room['ceilingFrom'];
