/** The account of an import as a floor's notes keep it, read back with care: notes may hold anything. */
import type { FloorFile, Point } from '../../../core/floor/index.ts';

export interface KeptPlace {
  readonly key: string;
  readonly name: string;
  readonly at: Point | null;
}

export interface KeptRemark {
  readonly fate: 'guessed' | 'left out' | 'taken';
  readonly what: string;
  readonly count: number;
  readonly reason: string;
  readonly places: readonly KeptPlace[];
}

export interface KeptReport {
  readonly source: string;
  readonly storey: string;
  readonly format: string;
  readonly remarks: readonly KeptRemark[];
}

type Json = Readonly<Record<string, unknown>>;

const isObject = (value: unknown): value is Json =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const textOf = (value: unknown): string => (typeof value === 'string' ? value : '');

/** What the notes of a floor keep of its import, unread; the same object while nobody imports again. */
export function accountOf({ notes }: FloorFile): unknown {
  return isObject(notes) ? notes.import : undefined;
}

/** The account of the import a floor came from, or null. */
export function readKeptReport(file: FloorFile): KeptReport | null {
  const kept = accountOf(file);
  if (!isObject(kept) || !Array.isArray(kept.remarks)) return null;
  const { source, storey, format } = kept;
  return {
    source: textOf(source),
    storey: textOf(storey),
    format: textOf(format),
    remarks: kept.remarks.flatMap(readRemark),
  };
}

function readRemark(value: unknown): readonly KeptRemark[] {
  if (!isObject(value)) return [];
  const { fate, what, count, reason, places } = value;
  if (fate !== 'guessed' && fate !== 'left out' && fate !== 'taken') return [];
  return [
    {
      fate,
      what: textOf(what),
      count: typeof count === 'number' ? count : 0,
      reason: textOf(reason),
      places: Array.isArray(places) ? places.flatMap(readPlace) : [],
    },
  ];
}

function readPlace(value: unknown): readonly KeptPlace[] {
  if (!isObject(value)) return [];
  const { at } = value;
  const isPoint = Array.isArray(at) && at.length === 2 && at.every((each) => typeof each === 'number');
  return [{ key: textOf(value.key), name: textOf(value.name), at: isPoint ? [Number(at[0]), Number(at[1])] : null }];
}

/** Ids of the floor's things by what the source calls them. */
export function listIdsByKey(file: FloorFile): ReadonlyMap<string, string> {
  const ids = new Map<string, string>();
  for (const list of ['rooms', 'openings', 'furniture', 'luminaires', 'workplaces', 'sources'] as const) {
    for (const { id, notes } of file[list] ?? []) {
      const source = isObject(notes) ? notes.source : undefined;
      if (typeof source === 'string' && !ids.has(source)) ids.set(source, id);
    }
  }
  return ids;
}
