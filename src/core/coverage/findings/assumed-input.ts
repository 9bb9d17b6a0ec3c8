/** Heights nobody has measured, whose change would turn a verdict. */
import type { Floor, Opening } from '../../floor/index.ts';
import { headOf, nameOf } from '../../floor/index.ts';
import { computeBox } from '../../geometry/polygon.ts';
import type { Scene } from '../../sight/index.ts';
import { compileScene, createSurroundings, withDetectorsOf } from '../../sight/index.ts';
import type { Coverage } from '../coverage.ts';
import { boxOpening, comesBetween, sampleWorkplace, seesSamples } from '../samples.ts';
import { judgeWorkplace } from '../workplaces.ts';
import type { Draft, FindingContext } from './context.ts';
import { draft } from './context.ts';
import { countWords, listWords, metres } from './wording.ts';

/** How far an assumed height may be off, metres. */
const DOUBT = 0.2;

/** Assumed heights that stand or fall together. */
interface Assumption {
  readonly subject: string;
  readonly value: number;
  readonly about: readonly string[];
  readonly at: readonly [number, number];
  change(by: number): Floor;
}

export function findAssumedInput({ coverage, workplaces }: FindingContext): Draft[] {
  return listAssumptions(coverage.floor).flatMap((assumption) => {
    // A verdict lost weighs more than one gained; of equals the lower height speaks.
    let worst: Flip | null = null;
    for (const by of [-DOUBT, DOUBT]) {
      if (assumption.value + by <= 0) continue;
      const met = judgeMet(coverage, assumption.change(by));
      for (const lost of [true, false]) {
        const flipped = workplaces.filter((each, index) => each.met === lost && met[index] !== lost);
        const flip = { by, lost, flipped: flipped.map((each) => each.id as string) };
        if (flip.flipped.length > 0 && weighsMore(flip, worst)) worst = flip;
      }
    }
    if (!worst) return [];
    const names = worst.flipped.map((id) => nameOf(coverage.floor.workplaces.find((each) => each.id === id)!));
    const one = worst.flipped.length === 1;
    const turn = worst.lost ? `${one ? 'is' : 'are'} no longer met` : `${one ? 'is' : 'are'} met after all`;
    const text = `${assumption.subject} (${metres(assumption.value)}) is assumed. At ${metres(assumption.value + worst.by)}, ${countWords(worst.flipped.length, 'workplace')} (${listWords(names)}) ${turn}. Measure it.`;
    return [
      draft(
        'warn',
        'assumed-input',
        text,
        assumption.at,
        [...assumption.about, ...worst.flipped],
        worst.flipped.length,
      ),
    ];
  });
}

interface Flip {
  readonly by: number;
  /** Verdicts lost at the other height; else gained. */
  readonly lost: boolean;
  readonly flipped: readonly string[];
}

function weighsMore(flip: Flip, than: Flip | null): boolean {
  if (!than || flip.lost !== than.lost) return !than || flip.lost;
  return flip.flipped.length > than.flipped.length;
}

function listAssumptions(floor: Floor): Assumption[] {
  const ceilings = floor.rooms
    .filter((room) => room.ceilingFrom === 'assumed')
    .map(
      (room): Assumption => ({
        subject: `The ceiling of ${nameOf(room)}`,
        value: room.ceiling,
        about: [room.id],
        at: room.outline[0]!,
        change: (by) => ({
          ...floor,
          rooms: floor.rooms.map((each) => (each === room ? { ...each, ceiling: each.ceiling + by } : each)),
        }),
      }),
    );
  // Pieces of one kind and height were assumed together, so they are doubted together.
  const classes = new Map<string, Floor['furniture'][number][]>();
  for (const piece of floor.furniture) {
    if (piece.from !== 'assumed') continue;
    const key = `${piece.kind} ${piece.top}`;
    classes.set(key, [...(classes.get(key) ?? []), piece]);
  }
  const pieces = [...classes.values()].map((list): Assumption => {
    const first = list[0]!;
    const those = new Set(list);
    return {
      subject:
        list.length === 1
          ? `The top of ${nameOf(first)}`
          : `The top of ${countWords(list.length, 'piece')} of kind ${first.kind}`,
      value: first.top,
      about: list.map((piece) => piece.id),
      at: first.outline[0]!,
      change: (by) => ({
        ...floor,
        furniture: floor.furniture.map((piece) =>
          those.has(piece) ? { ...piece, top: Math.max(piece.base + 0.01, piece.top + by) } : piece,
        ),
      }),
    };
  });
  return [...ceilings, ...pieces];
}

/**
 * Which workplaces another state of the floor meets. Fields are not needed for that and are not worked out, and what no
 * changed piece or lens comes near keeps its verdict.
 */
function judgeMet(coverage: Coverage, floor: Floor): boolean[] {
  const scene = changeHeights(coverage.scene, floor);
  const surroundings = createSurroundings(scene);
  const variant: Coverage = { ...coverage, floor, scene, samples: [...coverage.samples] };
  const moved = [...floor.detectors.keys()].filter(
    (index) => scene.lenses[index]!.h !== coverage.scene.lenses[index]!.h,
  );
  const pieces = floor.furniture.filter((piece, index) => piece !== coverage.floor.furniture[index]);
  const boxes = [
    ...pieces.map((piece) => computeBox(piece.outline)),
    ...listRaised(floor, coverage.floor).map(boxOpening),
  ];
  return floor.workplaces.map((workplace, index) => {
    const before = coverage.samples[index]!;
    const near = [...before.seen.keys()];
    const lensNear = near.some((detector) => moved.includes(detector));
    const pieceNear = near.some((detector) =>
      boxes.some((box) => comesBetween(box, workplace, scene.lenses[detector]!)),
    );
    if (!lensNear && !pieceNear) return coverage.workplaces[index]!.met;
    const fresh = sampleWorkplace(scene, surroundings, coverage.grid, workplace);
    for (const detector of floor.detectors.keys()) seesSamples(scene, surroundings, fresh, detector);
    variant.samples[index] = fresh;
    return judgeWorkplace(variant, index, surroundings).met;
  });
}

/** The scene with other ceilings or tops: outlines stay, so most of it is kept. */
function changeHeights(scene: Scene, floor: Floor): Scene {
  const before = scene.floor;
  if (floor.rooms !== before.rooms)
    return listRaised(floor, before).length > 0 ? compileScene(floor, scene) : withDetectorsOf(scene, floor);
  const top = scene.occluders.top.slice();
  floor.furniture.forEach((piece, index) => {
    if (piece !== before.furniture[index]) top.fill(piece.top, scene.firstPart[index], scene.firstPart[index + 1]);
  });
  return { ...scene, floor, occluders: { ...scene.occluders, top } };
}

/** Openings whose head is another than before: that of a passage which states none follows the ceilings. */
function listRaised(floor: Floor, before: Floor): Opening[] {
  if (floor.rooms === before.rooms) return [];
  return floor.openings.filter((opening) => headOf(opening, floor) !== headOf(opening, before));
}
