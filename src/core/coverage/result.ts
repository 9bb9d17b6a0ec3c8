/** What `check` says of a floor: the document `lacuna-check/1`. Areas in m², lengths in metres, shares 0 to 1 (null: of nothing). */
import type {
  BlockerId,
  DetectorId,
  GroupId,
  OpeningId,
  Point,
  RoomId,
  SourceId,
  WorkplaceId,
  Zone,
  ZoneId,
} from '../floor/index.ts';

export type PlaneName = 'seated' | 'walking';
export type Cause = 'hidden' | 'masked' | 'range' | 'headings';
export type Level = 'fail' | 'warn' | 'note';
/** What of a person at a workplace is seen well enough, lowest height first. */
export type BodyLevel = 'body' | 'shoulders' | 'head' | 'none';

/** A detector that is in no group is a group of its own, under its own id. */
export type GroupKey = GroupId | DetectorId;

export interface PlaneResult {
  readonly height: number;
  readonly areaM2: number;
  readonly seenM2: number;
  readonly share: number | null;
}

export interface WalkingResult extends PlaneResult {
  /** Area in which every heading is seen. */
  readonly everyHeadingM2: number;
}

export interface RoomResult {
  readonly id: RoomId;
  readonly seated: number | null;
  readonly walking: number | null;
}

export interface WorkplaceResult {
  readonly id: WorkplaceId;
  readonly share: number | null;
  readonly level: BodyLevel;
  readonly met: boolean;
  /** Serving detectors that see some of it. */
  readonly seenBy: readonly DetectorId[];
  /** Detectors of groups that do not serve it and see some of it. */
  readonly seenByOther: readonly DetectorId[];
  /** What hides it from serving detectors, the one that hides most first. */
  readonly hiddenBy: readonly BlockerId[];
}

export interface ZoneResult {
  readonly id: ZoneId;
  readonly need: Zone['need'];
  readonly share: number | null;
  readonly met: boolean;
}

export interface BlindArea {
  readonly plane: PlaneName;
  readonly areaM2: number;
  /** Centre of the largest circle that fits. */
  readonly at: Point;
  readonly cause: Cause;
  readonly by: BlockerId | null;
}

export interface EntranceResult {
  readonly id: OpeningId;
  readonly room: RoomId;
  /** Metres walked in before the first detection, on the worst of three lines; null: never. */
  readonly firstSeenM: number | null;
}

export interface SpillResult {
  readonly group: GroupKey;
  readonly room: RoomId;
  readonly areaM2: number;
}

export interface MaskProposal {
  readonly detector: DetectorId;
  readonly from: number;
  readonly to: number;
  readonly inner: number;
  readonly outer: number;
}

export interface SourceResult {
  readonly id: SourceId;
  readonly seenBy: readonly DetectorId[];
  /** Nearer to some lens, in plan, than its kind should be. */
  readonly near: boolean;
  readonly masks: readonly MaskProposal[];
}

export interface DetectorResult {
  readonly id: DetectorId;
  readonly seatedM2: number;
  readonly walkingM2: number;
  /** Seated area that no other serving detector sees. */
  readonly aloneM2: number;
}

export interface GroupResult {
  readonly id: GroupKey;
  readonly met: boolean;
}

export interface Finding {
  readonly level: Level;
  /** Stable, lower case with hyphens. */
  readonly code: string;
  /** Plain words with numbers and the cure. */
  readonly text: string;
  readonly at: Point | null;
  readonly about: readonly string[];
}

export interface CheckResult {
  readonly format: 'lacuna-check/1';
  readonly floor: string;
  readonly cell: number;
  /** No finding of level fail. */
  readonly met: boolean;
  /** [met, all] */
  readonly workplacesMet: readonly [number, number];
  readonly planes: { readonly seated: PlaneResult; readonly walking: WalkingResult };
  readonly rooms: readonly RoomResult[];
  readonly workplaces: readonly WorkplaceResult[];
  readonly zones: readonly ZoneResult[];
  readonly blind: readonly BlindArea[];
  readonly entrances: readonly EntranceResult[];
  readonly spill: readonly SpillResult[];
  readonly sources: readonly SourceResult[];
  readonly detectors: readonly DetectorResult[];
  readonly groups: readonly GroupResult[];
  readonly findings: readonly Finding[];
}
