/** Findings on how detectors hang, on groups, and on what the drawing leaves open. */
import type { Point } from '../../floor/index.ts';
import { findRoomAt, nameOf } from '../../floor/index.ts';
import { computeBox, computeSegmentDistance, isInRing } from '../../geometry/polygon.ts';
import { ABOVE_TABLE, cutEdge, gapHolds, SLACK } from '../../sight/index.ts';
import type { Draft, FindingContext } from './context.ts';
import { draft, nameDetector, nameGroup } from './context.ts';
import { countWords, listWords, metres } from './wording.ts';

/** Plan distance within which something hanging lower than a lens is in its way, metres. */
const HUNG_WITHIN = 1;

/** Detectors hung above the highest row for small movements: they see nobody who sits. */
export function findOutsideTable({ coverage }: FindingContext): Draft[] {
  const { floor, scene } = coverage;
  return floor.types.flatMap((type) => {
    const rows = type.ranges.filter((row) => row.motion === 'minor').map((row) => row.mounting);
    if (rows.length === 0) return [];
    const highest = Math.max(...rows);
    const high = [...floor.detectors.keys()].filter((index) => {
      const detector = floor.detectors[index]!;
      return (
        detector.type === type.id &&
        detector.status !== 'remove' &&
        scene.lenses[index]!.h > highest + ABOVE_TABLE + 0.001 + SLACK
      );
    });
    const first = high[0];
    if (first === undefined) return [];
    const names = listWords(high.map((index) => nameDetector(coverage, index)));
    const hang = high.length === 1 ? 'hangs' : 'hang';
    const heights = [...new Set(high.map((index) => metres(scene.lenses[index]!.h)))];
    const text = `${names} ${hang} at ${listWords(heights)}, above the highest row of ${nameOf(type)} for small movements (${metres(highest)}). Nobody who sits is seen from there. Hang lower, or choose a type for this height.`;
    return [
      draft(
        'fail',
        'outside-table',
        text,
        floor.detectors[first]!.at,
        high.map((index) => floor.detectors[index]!.id),
        high.length,
      ),
    ];
  });
}

export function findHungNearLens({ coverage }: FindingContext): Draft[] {
  const { floor, scene } = coverage;
  const hanging = scene.prisms.filter((prism) => {
    const piece = floor.furniture[prism.blocker - floor.rooms.length];
    return piece ? piece.kind === 'hanging' : true;
  });
  const boxes = hanging.map((prism) => computeBox(prism.outline));
  const roomOf = hanging.map((prism) => findRoomAt(floor.rooms, prism.outline[0]!));
  return floor.detectors.flatMap((detector, index) => {
    const lens = scene.lenses[index]!;
    if (lens.removed) return [];
    const hung = hanging
      .filter((prism, n) => {
        const box = boxes[n]!;
        const off = Math.hypot(
          Math.max(box.minX - lens.x, 0, lens.x - box.maxX),
          Math.max(box.minY - lens.y, 0, lens.y - box.maxY),
        );
        return (
          off <= HUNG_WITHIN + SLACK &&
          (roomOf[n] === undefined || roomOf[n] === floor.rooms[lens.room]) &&
          prism.base < lens.h - SLACK &&
          distanceToOutline(prism.outline, lens.x, lens.y) <= HUNG_WITHIN + SLACK
        );
      })
      .map((prism) => scene.blockers[prism.blocker]!);
    const nearest = hung[0];
    if (nearest === undefined) return [];
    const things = [...floor.furniture, ...floor.luminaires].filter((each) => (hung as string[]).includes(each.id));
    const text = `${listWords(things.map(nameOf))} ${things.length === 1 ? 'hangs' : 'hang'} lower than the lens of ${nameDetector(coverage, index)}, within ${metres(HUNG_WITHIN)}. Move the detector, or hang it lower.`;
    return [draft('warn', 'hung-near-lens', text, detector.at, [detector.id, ...hung], hung.length)];
  });
}

function distanceToOutline(outline: readonly Point[], x: number, y: number): number {
  if (isInRing(outline, x, y)) return 0;
  return Math.min(...outline.map((a, i) => computeSegmentDistance(a, outline[(i + 1) % outline.length]!, x, y)));
}

export function findIdleOpenings({ coverage }: FindingContext): Draft[] {
  const { scene } = coverage;
  return scene.gaps.flatMap((gap) => {
    const cuts = scene.edges.some((edge) => {
      const span = cutEdge(gap, edge);
      return span !== null && gapHolds(gap, ...pointOn(edge, (span[0] + span[1]) / 2));
    });
    if (cuts) return [];
    const { opening } = gap;
    const at = [(opening.from[0] + opening.to[0]) / 2, (opening.from[1] + opening.to[1]) / 2] as const;
    const text = `The ${opening.kind} ${opening.id} cuts no wall within its depth of ${metres(opening.depth)}. Move it onto a wall, or make it deeper.`;
    return [draft('warn', 'opening-cuts-nothing', text, at, [opening.id])];
  });
}

function pointOn(
  edge: { readonly a: readonly [number, number]; readonly b: readonly [number, number] },
  t: number,
): [number, number] {
  return [edge.a[0] + t * (edge.b[0] - edge.a[0]), edge.a[1] + t * (edge.b[1] - edge.a[1])];
}

/** Groups that leave it to where their detectors hang what they serve, where that is not plain. */
export function findUnsaidServing({ coverage }: FindingContext): Draft[] {
  const { serving, floor } = coverage;
  const unsaid = serving.groups.filter((group) => {
    if (group.stated || group.group === null || group.detectors.length === 0) return false;
    const shared = serving.groups.some(
      (other) => other !== group && other.rooms.some((room) => group.rooms.includes(room)),
    );
    return group.rooms.length !== 1 || shared;
  });
  if (unsaid.length === 0) return [];
  const names = unsaid.map((group) => nameGroup(coverage, group.key));
  const text = `${listWords(names)} ${unsaid.length === 1 ? 'does' : 'do'} not say what ${unsaid.length === 1 ? 'it serves' : 'they serve'}; the rooms in which the detectors hang are taken. Name the rooms or zones.`;
  const first = unsaid[0]!.detectors[0]!;
  return [
    draft(
      'note',
      'serves-unknown',
      text,
      floor.detectors[first]!.at,
      unsaid.map((group) => group.key),
      unsaid.length,
    ),
  ];
}

export function findGroupLimits({ coverage }: FindingContext): Draft[] {
  const { floor } = coverage;
  return floor.groups.flatMap((group) => {
    const main = floor.detectors.find((detector) => detector.id === group.main);
    const type = floor.types.find((each) => each.id === main?.type);
    const limit = type?.extensionLimit;
    if (!main || limit === undefined || group.extensions.length <= limit) return [];
    const text = `${nameOf(group)} has ${countWords(group.extensions.length, 'extension')}; ${nameOf(type!)} carries ${limit}. Split the group.`;
    return [draft('fail', 'group-limit', text, main.at, [group.id], group.extensions.length - limit)];
  });
}

export function findEmergencyInGroup({ coverage }: FindingContext): Draft[] {
  const { floor } = coverage;
  return floor.luminaires.flatMap((luminaire) => {
    if (!luminaire.emergency || luminaire.group === undefined) return [];
    const group = floor.groups.find((each) => each.id === luminaire.group);
    const text = `${nameOf(luminaire)} is emergency lighting and is switched by ${group ? nameOf(group) : luminaire.group}. Presence must never switch it off. Take it out of the group.`;
    return [draft('fail', 'emergency-in-group', text, luminaire.at, [luminaire.id, luminaire.group])];
  });
}
