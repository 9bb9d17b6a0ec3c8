/** An arrangement as a floor file: new detectors in the order of reading, in groups, everything else as it was. */
import type { Detector, DetectorId, DetectorTypeId, Floor, FloorFile, Point } from '../../floor/index.ts';
import type { KeptDetectors } from './options.ts';
import { listIds, type NewDetector, regroup } from './regroup.ts';

/** Detectors that hang in one row when their places differ by less, metres. */
const ROW = 0.6;

/** A detector to be hung. Plain data: it goes to and from workers. */
export interface HungPlace {
  readonly at: Point;
  readonly type: DetectorTypeId;
  /** Degrees. */
  readonly turn: number;
  /** Index of its room. */
  readonly room: number;
}

export interface Proposal {
  readonly file: FloorFile;
  /** Ids of the new detectors. */
  readonly added: readonly DetectorId[];
  /** Ids of detectors that went. */
  readonly replaced: readonly DetectorId[];
}

/** Detectors of a floor that an arrangement leaves as they are; those to be removed stay in the file, and see nothing. */
export function isStaying({ status, locked }: Detector, kept: KeptDetectors): boolean {
  if (status === 'remove') return true;
  return kept === 'all' || (kept === 'fixed' && (locked || status === 'existing'));
}

/** Writes an arrangement into a floor file. The file itself is not changed. */
export function writeProposal(
  file: FloorFile,
  floor: Floor,
  kept: KeptDetectors,
  chosen: readonly HungPlace[],
): Proposal {
  const staying = new Set<string>(floor.detectors.filter((each) => isStaying(each, kept)).map(({ id }) => id));
  const replaced = floor.detectors.filter(({ id }) => !staying.has(id)).map(({ id }) => id);
  const gone = new Set<string>(replaced);
  const taken = new Set(listIds(file).filter((id) => !gone.has(id)));
  let number = 0;
  const types = new Map(floor.types.map((type) => [type.id, type]));
  const added: NewDetector[] = sortForReading(chosen).map(({ at, type, turn, room }) => {
    do number += 1;
    while (taken.has(`D${number}`));
    const id = `D${number}` as DetectorId;
    return { file: { id, name: id, type, at: [...at], ...(turn === 0 ? {} : { turn }) }, room, type: types.get(type)! };
  });
  const { groups, heirs } = regroup(floor, file, staying, added);
  const heirsOf = (id: string) => heirs.get(id) ?? [];
  const out: FloorFile = {
    ...file,
    detectors: [...file.detectors.filter(({ id }) => staying.has(id)), ...added.map((each) => each.file)],
    groups,
    ...(file.zones && {
      zones: file.zones.map((zone) =>
        zone.groups ? { ...zone, groups: [...new Set(zone.groups.flatMap(heirsOf))] } : zone,
      ),
    }),
    ...(file.luminaires && {
      luminaires: file.luminaires.map((luminaire) => {
        if (luminaire.group === undefined) return luminaire;
        const [group] = heirsOf(luminaire.group);
        const { group: _, ...rest } = luminaire;
        return group === undefined ? rest : { ...rest, group };
      }),
    }),
  };
  return { file: out, added: added.map((each) => each.file.id as DetectorId), replaced };
}

/** Row by row from the top, each from the left, as one reads a plan. */
function sortForReading(chosen: readonly HungPlace[]): HungPlace[] {
  const rows: HungPlace[][] = [];
  for (const each of [...chosen].sort((a, b) => b.at[1] - a.at[1] || a.at[0] - b.at[0])) {
    const row = rows.at(-1);
    if (row && row[0]!.at[1] - each.at[1] < ROW) row.push(each);
    else rows.push([each]);
  }
  return rows.flatMap((row) => row.sort((a, b) => a.at[0] - b.at[0]));
}
