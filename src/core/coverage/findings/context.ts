import type { BlockerId } from '../../floor/index.ts';
import { nameOf } from '../../floor/index.ts';
import type { BlindPatch } from '../blind.ts';
import type { Coverage } from '../coverage.ts';
import type { Entrance } from '../entrances.ts';
import type { Finding, GroupKey, SpillResult, WorkplaceResult, ZoneResult } from '../result.ts';
import type { SourceVerdict } from '../sources.ts';

/** What findings are written from: verdicts already reached. */
export interface FindingContext {
  readonly coverage: Coverage;
  readonly workplaces: readonly WorkplaceResult[];
  readonly zones: readonly ZoneResult[];
  readonly patches: readonly BlindPatch[];
  readonly entrances: readonly Entrance[];
  readonly spill: readonly SpillResult[];
  readonly sources: readonly SourceVerdict[];
}

/** A finding before sorting: `size` orders those of one level, larger first. */
export interface Draft extends Finding {
  readonly size: number;
}

export function draft(
  level: Finding['level'],
  code: string,
  text: string,
  at: Finding['at'],
  about: readonly string[],
  size = 0,
): Draft {
  return { level, code, text, at, about: [...new Set(about)], size };
}

export function nameBlocker(coverage: Coverage, id: BlockerId): string {
  const { furniture, luminaires, rooms } = coverage.floor;
  const piece = furniture.find((each) => each.id === id) ?? luminaires.find((each) => each.id === id);
  if (piece) return nameOf(piece);
  const room = rooms.find((each) => each.id === id);
  return room ? `the wall of ${nameOf(room)}` : id;
}

export function nameDetector(coverage: Coverage, index: number): string {
  return nameOf(coverage.floor.detectors[index]!);
}

export function nameGroup(coverage: Coverage, key: GroupKey): string {
  const group = coverage.serving.groups.find((each) => each.key === key);
  return group ? (group.name.trim() === '' ? group.key : group.name) : key;
}
