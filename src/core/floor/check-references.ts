/** Ids unique over the whole file, and references that name something of the right kind. */
import { type FaultList, quote } from './fault.ts';
import type { Floor } from './schema.ts';

/** The lists whose members have ids, and the word for one member. */
const KINDS = {
  rooms: 'room',
  openings: 'opening',
  furniture: 'piece of furniture',
  luminaires: 'luminaire',
  workplaces: 'workplace',
  zones: 'zone',
  sources: 'source',
  types: 'detector type',
  detectors: 'detector',
  groups: 'group',
} as const;

type ListName = keyof typeof KINDS;

/** Where an id is defined. */
interface Place {
  readonly list: ListName;
  readonly at: number;
}

export function checkReferences(floor: Floor, faults: FaultList): void {
  const places = collectIds(floor, faults);

  /** Refuses an id that names nothing, or something of another kind. */
  const refer = (path: string, id: string, wanted: readonly ListName[]): void => {
    const place = places.get(id);
    const kinds = wanted.map((list) => KINDS[list]).join(' or ');
    if (place === undefined)
      faults.add(path, `names ${quote(id)}, which is not in the file`, `Name a ${kinds} by its id.`);
    else if (!wanted.includes(place.list))
      faults.add(path, `names ${quote(id)}, which is a ${KINDS[place.list]}`, `Name a ${kinds} by its id.`);
  };

  floor.detectors.forEach((detector, i) => {
    refer(`detectors[${i}].type`, detector.type, ['types']);
  });
  floor.luminaires.forEach((luminaire, i) => {
    if (luminaire.group !== undefined) refer(`luminaires[${i}].group`, luminaire.group, ['groups']);
  });
  floor.zones.forEach((zone, i) => {
    zone.groups?.forEach((group, k) => {
      refer(`zones[${i}].groups[${k}]`, group, ['groups']);
    });
  });
  floor.groups.forEach((group, i) => {
    refer(`groups[${i}].main`, group.main, ['detectors']);
    group.extensions.forEach((detector, k) => {
      refer(`groups[${i}].extensions[${k}]`, detector, ['detectors']);
    });
    for (const key of ['serves', 'ventilation'] as const) {
      group[key]?.forEach((id, k) => {
        refer(`groups[${i}].${key}[${k}]`, id, ['rooms', 'zones']);
      });
    }
  });
  floor.records.forEach((record, i) => {
    if (!places.has(record.about))
      faults.add(
        `records[${i}].about`,
        `names ${quote(record.about)}, which is not in the file`,
        'Name what the record is about by its id.',
      );
  });
  checkMembership(floor, faults);
}

function collectIds(floor: Floor, faults: FaultList): ReadonlyMap<string, Place> {
  const places = new Map<string, Place>();
  for (const list of Object.keys(KINDS) as ListName[]) {
    floor[list].forEach(({ id }, i) => {
      const before = places.get(id);
      if (before === undefined) {
        places.set(id, { list, at: i });
        return;
      }
      const what = `is ${quote(id)}, as ${before.list}[${before.at}] is called already`;
      faults.add(`${list}[${i}].id`, what, 'Give each thing of the file an id of its own.');
    });
  }
  return places;
}

/** A detector is in one group at most, and once. */
function checkMembership(floor: Floor, faults: FaultList): void {
  const paths = new Map<string, string>();
  floor.groups.forEach((group, i) => {
    [group.main, ...group.extensions].forEach((detector, k) => {
      const path = k === 0 ? `groups[${i}].main` : `groups[${i}].extensions[${k - 1}]`;
      const before = paths.get(detector);
      if (before === undefined) paths.set(detector, path);
      else
        faults.add(
          path,
          `names ${quote(detector)}, which ${before} names already`,
          'A detector is in one group at most, and once.',
        );
    });
  });
}
