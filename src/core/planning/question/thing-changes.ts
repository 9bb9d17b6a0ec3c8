/** What differs between the things on two floors: new, gone, moved, or otherwise than before. */
import type {
  Detector,
  Floor,
  Furniture,
  Group,
  Opening,
  Point,
  Room,
  Source,
  Workplace,
  Zone,
} from '../../floor/index.ts';
import { headOf, lensHeightOf, shareOf } from '../../floor/index.ts';
import { computeBox, computeSignedArea } from '../../geometry/polygon.ts';
import type { Change, Named } from './change.ts';
import { namer } from './change.ts';

/** The traits of a thing as a reader would say them, by name; what reads the same is the same. */
type Traits = Readonly<Record<string, string>>;

/** Every detector, piece, room and opening that is new, gone or otherwise, then the settings of the analysis. */
export function listThingChanges(old: Floor, now: Floor): Change[] {
  const openings = (floor: Floor) => floor.openings.map((each) => ({ ...each, name: '' }));
  return [
    ...compareThings(
      'detector',
      () => 'Detector',
      old,
      now,
      (floor) => floor.detectors,
      describeDetector,
    ),
    ...compareThings(
      'furniture',
      ({ kind }) => capital(kind),
      old,
      now,
      (floor) => floor.furniture,
      describePiece,
    ),
    ...compareThings(
      'room',
      () => 'Room',
      old,
      now,
      (floor) => floor.rooms,
      describeRoom,
    ),
    ...compareThings('opening', ({ kind }) => capital(kind), old, now, openings, describeOpening),
    ...compareThings(
      'workplace',
      () => 'Workplace',
      old,
      now,
      (floor) => floor.workplaces,
      describeWorkplace,
    ),
    ...compareThings(
      'zone',
      () => 'Zone',
      old,
      now,
      (floor) => floor.zones,
      describeZone,
    ),
    ...compareThings(
      'source',
      ({ kind }) => capital(kind),
      old,
      now,
      (floor) => floor.sources,
      describeSource,
    ),
    ...compareThings(
      'group',
      () => 'Group',
      old,
      now,
      (floor) => floor.groups,
      describeGroup,
    ),
    ...compareTraits('floor', 'analysis', 'Analysis', describeAnalysis(old), describeAnalysis(now)),
  ];
}

function compareThings<Thing extends Named>(
  subject: Change['subject'],
  kindOf: (thing: Thing) => string,
  old: Floor,
  now: Floor,
  listOf: (floor: Floor) => readonly Thing[],
  describe: (thing: Thing, floor: Floor) => Traits,
): Change[] {
  const [before, after] = [listOf(old), listOf(now)];
  const nameOf = namer(before, after);
  const later = new Map(after.map((thing) => [thing.id, thing]));
  const earlier = new Set(before.map((thing) => thing.id));
  const say = (traits: Traits) =>
    Object.entries(traits)
      .filter(([, value]) => value !== '')
      .map(([name, value]) => `${name} ${value}`)
      .join(', ');
  const changed = before.flatMap((was): Change[] => {
    const is = later.get(was.id);
    const who = `${kindOf(was)} ${nameOf(was.id)}`;
    if (is) return compareTraits(subject, was.id, who, describe(was, old), describe(is, now));
    const from = say(describe(was, old));
    return [{ turn: 'same', subject, id: was.id, from, to: null, text: `${who} is gone: ${from}.` }];
  });
  const added = after.flatMap((is): Change[] => {
    if (earlier.has(is.id)) return [];
    const to = say(describe(is, now));
    return [
      { turn: 'same', subject, id: is.id, from: null, to, text: `${kindOf(is)} ${nameOf(is.id)} is new: ${to}.` },
    ];
  });
  return [...changed, ...added];
}

function compareTraits(subject: Change['subject'], id: string, who: string, was: Traits, is: Traits): Change[] {
  const differing = Object.keys({ ...was, ...is }).filter((name) => (was[name] ?? '') !== (is[name] ?? ''));
  if (differing.length === 0) return [];
  const say = (traits: Traits) => differing.map((name) => `${name} ${traits[name] || 'none'}`).join(', ');
  const words = differing.map((name) => `${name} ${was[name] || 'none'}, now ${is[name] || 'none'}`).join('; ');
  return [{ turn: 'same', subject, id, from: say(was), to: say(is), text: `${who}: ${words}.` }];
}

function describeDetector(detector: Detector, floor: Floor): Traits {
  const type = floor.types.find((each) => each.id === detector.type);
  const group = floor.groups.find(
    (each) => each.main === detector.id || each.extensions.some((extension) => extension === detector.id),
  );
  return {
    at: sayPlace(detector.at),
    'lens height': metres(lensHeightOf(detector, floor)),
    type: type && type.name !== '' ? type.name : detector.type,
    turn: degrees(detector.turn),
    reach: detector.reach.toFixed(2),
    status: detector.status,
    masks: detector.masks
      .map(({ from, to, inner, outer }) => `${degrees(from)} to ${degrees(to)}, nadir ${inner} to ${degrees(outer)}`)
      .join(' and '),
    group: group ? `${group.name || group.id} (${group.main === detector.id ? 'main' : 'extension'})` : '',
  };
}

function describePiece(piece: Furniture): Traits {
  return {
    at: sayCentre(piece.outline),
    size: saySize(piece.outline),
    base: metres(piece.base),
    top: metres(piece.top),
    kind: piece.kind,
    glass: piece.glass ? 'yes' : '',
    'can be raised by': piece.raised > 0 ? metres(piece.raised) : '',
  };
}

function describeRoom(room: Room): Traits {
  const area = [room.outline, ...room.holes].reduce(
    (sum, ring, k) => sum + (k === 0 ? 1 : -1) * Math.abs(computeSignedArea(ring)),
    0,
  );
  return {
    area: `${area.toFixed(2)} m²`,
    at: sayCentre(room.outline),
    corners: String(room.outline.length),
    ceiling: `${metres(room.ceiling)}, ${room.ceilingFrom}`,
    use: room.use ?? '',
  };
}

function describeOpening(opening: Opening, floor: Floor): Traits {
  return {
    from: sayPlace(opening.from),
    to: sayPlace(opening.to),
    sill: metres(opening.sill),
    head: metres(headOf(opening, floor)),
    state: opening.kind === 'door' ? (opening.state ?? 'closed') : '',
  };
}

function describeWorkplace({ at, radius, facing, posture }: Workplace): Traits {
  return { at: sayPlace(at), radius: metres(radius), facing: facing === undefined ? '' : degrees(facing), posture };
}

function describeZone(zone: Zone): Traits {
  return {
    at: sayCentre(zone.outline),
    size: saySize(zone.outline),
    need: zone.need,
    share: shareOf(zone).toFixed(2),
    heading: zone.heading === undefined ? '' : degrees(zone.heading),
    groups: (zone.groups ?? []).join(' and '),
  };
}

function describeSource({ at, radius, base, top, kind }: Source): Traits {
  return { at: sayPlace(at), kind, radius: metres(radius), base: metres(base), top: metres(top) };
}

function describeGroup({ main, extensions, serves, ventilation, settings }: Group): Traits {
  const { switchOn, level, delay, ventilationDelay, background, button } = settings;
  const say = (value: number | undefined, unit: string) => (value === undefined ? '' : `${value} ${unit}`);
  return {
    main,
    extensions: extensions.join(' and '),
    serves: (serves ?? []).join(' and '),
    ventilation: (ventilation ?? []).join(' and '),
    'switched on': switchOn ?? '',
    level: say(level, 'lx'),
    delay: say(delay, 'min'),
    'ventilation delay': say(ventilationDelay, 'min'),
    background: say(background, '%'),
    button: button ?? '',
  };
}

function describeAnalysis({ analysis }: Floor): Traits {
  return {
    cell: metres(analysis.cell),
    'seated plane': metres(analysis.seatedPlane),
    'walking plane': metres(analysis.walkingPlane),
    'crossing angle': degrees(analysis.crossingAngle),
    headings: analysis.headings.toFixed(2),
    'workplace share': analysis.workplaceShare.toFixed(2),
  };
}

function metres(value: number): string {
  return `${value.toFixed(2)} m`;
}

function degrees(value: number): string {
  return `${Math.round(value * 10) / 10}°`;
}

function sayPlace([x, y]: Point): string {
  return `(${x.toFixed(2)}, ${y.toFixed(2)})`;
}

/** The middle of an outline's box: where a reader would point. */
function sayCentre(outline: readonly Point[]): string {
  const { minX, minY, maxX, maxY } = computeBox(outline);
  return sayPlace([(minX + maxX) / 2, (minY + maxY) / 2]);
}

function saySize(outline: readonly Point[]): string {
  const { minX, minY, maxX, maxY } = computeBox(outline);
  return `${(maxX - minX).toFixed(2)} × ${metres(maxY - minY)}`;
}

function capital(word: string): string {
  return word.charAt(0).toUpperCase() + word.slice(1);
}
