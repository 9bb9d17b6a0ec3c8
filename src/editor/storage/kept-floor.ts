/** What is known of a kept floor without reading it: one small record beside its log. */

import type { FloorFile } from '../../core/floor/index.ts';
import { computeSignedArea } from '../../core/geometry/polygon.ts';
import { logRange } from './floor-log.ts';
import type { Batch, KeptRecord, KeyRange, Records } from './platform.ts';

export interface KeptFloor {
  readonly id: string;
  readonly name: string;
  /** Its rooms without their holes. */
  readonly areaM2: number;
  /** The file it came from or went to last; null: it has never been in one. */
  readonly origin: Origin | null;
  /** Digest of the text last opened or saved. */
  readonly digest: string;
  /** Whether it holds changes since then. */
  readonly isChanged: boolean;
  /** Milliseconds since 1970. */
  readonly changedAt: number;
  readonly usedAt: number;
}

export interface Origin {
  readonly how: 'opened' | 'saved';
  readonly fileName: string;
}

const HEADS: KeyRange = { from: ['floor'], to: ['floor', '\u{10ffff}'] };

export function headRecord(floor: KeptFloor): KeptRecord {
  return { key: ['floor', floor.id], value: floor };
}

/** All kept floors, the last used first. Rejects when the records cannot be read. */
export async function readHeads(records: Records): Promise<readonly KeptFloor[]> {
  const found = await records.read(HEADS);
  return found.map(({ value }) => value as KeptFloor).toSorted((a, b) => b.usedAt - a.usedAt);
}

/** How a kept floor stands to its file, as it follows its name: "changed since it was saved to plan.json". */
export function sayOrigin({ origin, isChanged }: Pick<KeptFloor, 'origin' | 'isChanged'>): string {
  if (origin === null) return isChanged ? 'changed, in no file yet' : 'unchanged';
  const where = origin.how === 'saved' ? `saved to ${origin.fileName}` : `opened from ${origin.fileName}`;
  return isChanged ? `changed since it was ${where}` : `as it was ${where}`;
}

const areas = new WeakMap<FloorFile['rooms'], number>();

/** Area of all rooms without their holes, m². Kept by the list of rooms, which most edits leave as it is. */
export function computeArea(file: FloorFile): number {
  const known = areas.get(file.rooms);
  if (known !== undefined) return known;
  let area = 0;
  for (const { outline, holes } of file.rooms) {
    area += Math.abs(computeSignedArea(outline));
    for (const hole of holes ?? []) area -= Math.abs(computeSignedArea(hole));
  }
  areas.set(file.rooms, area);
  return area;
}

/** Floors that hold nothing a file does not hold are kept up to this many; those with changes stay until they are removed. */
const KEPT_UNCHANGED = 20;

/** What can go once a floor was opened: the same floor opened before without a change since, and the oldest unchanged ones. */
export function listSpareHeads(
  heads: readonly KeptFloor[],
  openId: string,
  opened: Pick<KeptFloor, 'origin' | 'digest'>,
): readonly KeptFloor[] {
  const unchanged = heads.filter((head) => head.id !== openId && !head.isChanged);
  const isSame = (head: KeptFloor): boolean =>
    head.digest === opened.digest && head.origin?.fileName === opened.origin?.fileName;
  const others = unchanged.filter((head) => !isSame(head));
  return [...unchanged.filter(isSame), ...others.slice(KEPT_UNCHANGED)];
}

/** What removes a floor and its log. */
export function removalOf(floorId: string): Batch {
  return { add: [], put: [], remove: [{ from: ['floor', floorId], to: ['floor', floorId] }, logRange(floorId)] };
}
