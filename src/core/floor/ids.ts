/** Branded ids: a room's id cannot be handed where a detector's is asked for. */
declare const brand: unique symbol;
type Brand<Value, Name extends string> = Value & { readonly [brand]: Name };

export type RoomId = Brand<string, 'RoomId'>;
export type OpeningId = Brand<string, 'OpeningId'>;
export type FurnitureId = Brand<string, 'FurnitureId'>;
export type LuminaireId = Brand<string, 'LuminaireId'>;
export type WorkplaceId = Brand<string, 'WorkplaceId'>;
export type ZoneId = Brand<string, 'ZoneId'>;
export type SourceId = Brand<string, 'SourceId'>;
export type DetectorTypeId = Brand<string, 'DetectorTypeId'>;
export type DetectorId = Brand<string, 'DetectorId'>;
export type GroupId = Brand<string, 'GroupId'>;

/** Anything on a floor that can stand in the way of a sight line: a piece, a luminaire, or a wall, named by its room. */
export type BlockerId = FurnitureId | LuminaireId | RoomId;
