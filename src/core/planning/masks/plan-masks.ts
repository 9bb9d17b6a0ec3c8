/**
 * Masks for what should not be seen: sources, zones in which nobody is to be seen, and rooms a group does not serve.
 * Each with what it costs the people on the floor, and what would do instead.
 */

import type { Coverage, GroupKey } from '../../coverage/index.ts';
import { castOpenLayers } from '../../coverage/open-doors.ts';
import { forCells, judgeZones, markZone, measureSpill } from '../../coverage/places.ts';
import { judgeSources, KEEP_OFF, proposeMask, seesSource } from '../../coverage/sources.ts';
import type { Detector, DetectorId, Floor, RoomId, Source, SourceId, Zone, ZoneId } from '../../floor/index.ts';
import { nameOf } from '../../floor/index.ts';
import {
  castLayers,
  createSurroundings,
  type DetectorLayers,
  hasCell,
  type Raster,
  WHEN_OPEN,
} from '../../sight/index.ts';
import { type Alternative, findAlternatives } from './alternatives.ts';
import { boundPlaces, type HiddenPlace, type MaskAngles, widenMask } from './mask-angles.ts';
import { createTrial, keepsNeeds, type PeopleCost, type Trial } from './trial.ts';

export type MaskSubject =
  | { readonly kind: 'source'; readonly id: SourceId }
  | { readonly kind: 'zone'; readonly id: ZoneId }
  | { readonly kind: 'spill'; readonly group: GroupKey; readonly room: RoomId };

/** What one detector would get. */
export interface MaskPart {
  readonly detector: DetectorId;
  /** Without a margin. */
  readonly smallest: readonly MaskAngles[];
  /** As proposed: the smallest with a margin. */
  readonly masks: readonly MaskAngles[];
  /** Of this detector's masks alone. */
  readonly cost: PeopleCost;
  readonly alternatives: readonly Alternative[];
}

export interface MaskPlan {
  readonly subject: MaskSubject;
  readonly parts: readonly MaskPart[];
  /** Of all parts together. */
  readonly cost: PeopleCost;
  /** Is it hidden once every part is made? */
  readonly hides: boolean;
  /** What no mask cures, plain words. */
  readonly remarks: readonly string[];
}

/** Spill below this is left alone, m² (common practice, no source). */
const SPILL_FROM = 0.5;

/** Everything on a floor that a mask could hide: what is seen and should not be. */
export function listMaskSubjects(coverage: Coverage): MaskSubject[] {
  const open = castOpenLayers(coverage);
  const sources = judgeSources(coverage).filter(({ seenBy }) => seenBy.length > 0);
  const zones = judgeZones(coverage, open).filter(({ need, met }) => need === 'nobody' && !met);
  const spill = measureSpill(coverage, open).filter(({ areaM2 }) => areaM2 > SPILL_FROM + 1e-9);
  return [
    ...sources.map(({ id }) => ({ kind: 'source' as const, id })),
    ...zones.map(({ id }) => ({ kind: 'zone' as const, id })),
    ...spill.map(({ group, room }) => ({ kind: 'spill' as const, group, room })),
  ];
}

/**
 * Plans masks for one subject, or for all of a floor. The floor is not changed; a mask is added by an edit.
 * @param onProgress told the share of subjects done
 */
export function planMasks(
  floor: Floor,
  subject: MaskSubject | null = null,
  onProgress: (share: number) => void = () => {},
): MaskPlan[] {
  const trial = createTrial(floor);
  const subjects = subject === null ? listMaskSubjects(trial.coverage) : [subject];
  return subjects.map((each, k) => {
    onProgress(k / subjects.length);
    return planFor(trial, each);
  });
}

/** How a subject is told seen, and by what it would be hidden. */
interface Aim {
  /** By the place of the detector in the list: the smallest masks; detectors that do not see it are left out. */
  readonly smallest: ReadonlyMap<number, readonly MaskAngles[]>;
  readonly isHiddenFrom: (coverage: Coverage, detector: number, changed: Detector) => boolean;
  readonly remarks: readonly string[];
}

function planFor(trial: Trial, subject: MaskSubject): MaskPlan {
  const { floor } = trial;
  trial.show(new Map());
  const aim = aimAt(trial.coverage, subject);
  const masked = new Map<number, Detector>();
  const parts = [...aim.smallest].map(([index, smallest]): MaskPart => {
    const detector = floor.detectors[index]!;
    const masks = smallest.map((mask) => widenMask(mask));
    masked.set(index, { ...detector, masks: [...detector.masks, ...masks] });
    const cost = trial.measure(new Map([[index, masked.get(index)!]]));
    const isCured = (coverage: Coverage, changed: Detector) => aim.isHiddenFrom(coverage, index, changed);
    return { detector: detector.id, smallest, masks, cost, alternatives: findAlternatives(trial, index, isCured) };
  });
  const cost = trial.measure(masked);
  const hides = [...masked].every(([index, changed]) => aim.isHiddenFrom(trial.coverage, index, changed));
  const remarks = [...aim.remarks];
  if (!keepsNeeds(cost)) remarks.push('Masking costs needs that are met: an alternative is better, or accept it.');
  trial.show(new Map());
  return { subject, parts, cost, hides, remarks };
}

function aimAt(coverage: Coverage, subject: MaskSubject): Aim {
  switch (subject.kind) {
    case 'source': {
      const source = coverage.floor.sources.find((each) => each.id === subject.id);
      return source === undefined ? NO_AIM : aimAtSource(coverage, source);
    }
    case 'zone': {
      const zone = coverage.floor.zones.find((each) => each.id === subject.id);
      return zone === undefined ? NO_AIM : aimAtZone(coverage, zone);
    }
    case 'spill':
      return aimAtSpill(coverage, subject.group, subject.room);
  }
}

const NO_AIM: Aim = { smallest: new Map(), isHiddenFrom: () => true, remarks: [] };

function aimAtSource(coverage: Coverage, source: Source): Aim {
  const { floor, scene } = coverage;
  const surroundings = createSurroundings(scene);
  const smallest = new Map<number, readonly MaskAngles[]>();
  const remarks: string[] = [];
  const keepOff = KEEP_OFF[source.kind];
  scene.lenses.forEach((lens, index) => {
    if (!seesSource(scene, surroundings, lens, source)) return;
    smallest.set(index, [proposeMask(lens, source)]);
    const distance = Math.hypot(source.at[0] - lens.x, source.at[1] - lens.y);
    if (keepOff === undefined || distance >= keepOff - 1e-9) return;
    const name = nameOf(floor.detectors[index]!);
    remarks.push(
      `${name} hangs ${distance.toFixed(2)} m from it; ${keepOff.toFixed(2)} m is needed. A mask keeps the view off, not the warm air: move it.`,
    );
  });
  const isHiddenFrom = (now: Coverage, index: number, changed: Detector) => {
    if (seesSource(now.scene, createSurroundings(now.scene), now.scene.lenses[index]!, source)) return false;
    const moved = changed.at !== floor.detectors[index]!.at;
    const distance = Math.hypot(source.at[0] - changed.at[0], source.at[1] - changed.at[1]);
    return !moved || keepOff === undefined || distance >= keepOff - 1e-9;
  };
  return { smallest, isHiddenFrom, remarks };
}

function aimAtZone(coverage: Coverage, zone: Zone): Aim {
  const watched = coverage.serving.groups
    .filter((group) => !zone.groups || (group.group !== null && zone.groups.includes(group.group.id)))
    .flatMap((group) => group.detectors);
  const cells = markZone(coverage, zone);
  const listSeen = (now: Coverage, index: number, layers: DetectorLayers) => {
    const held: HiddenPlace[] = [];
    for (const motion of ['minor', 'tangential', 'radial'] as const) {
      const seen = layers[motion]?.seen;
      if (seen === undefined) continue;
      const h = motion === 'minor' ? now.seated.height : now.walking.height;
      if (h >= now.scene.lenses[index]!.h) continue;
      forCells(cells, (i, j) => {
        if (hasCell(seen, i, j) && hasCell(now.walking.occupiable, i, j)) held.push(placeOf(now, i, j, h));
      });
    }
    return held;
  };
  return aimAtCells(coverage, watched, listSeen);
}

/** What a group sees of a room it does not serve, as `check` measures it. */
function aimAtSpill(coverage: Coverage, key: GroupKey, room: RoomId): Aim {
  const group = coverage.serving.groups.find((each) => each.key === key);
  const roomIndex = coverage.floor.rooms.findIndex((each) => each.id === room);
  if (group === undefined || roomIndex < 0) return NO_AIM;
  const listSeen = (now: Coverage, index: number, layers: DetectorLayers) => {
    const held: HiddenPlace[] = [];
    const take = (seen: Raster | undefined, occupiable: Raster, h: number) => {
      if (seen === undefined || h >= now.scene.lenses[index]!.h) return;
      forCells(seen, (i, j) => {
        if (now.grid.room[j * now.grid.lattice.nx + i] !== roomIndex) return;
        if (hasCell(occupiable, i, j) && !hasCell(group.area, i, j)) held.push(placeOf(now, i, j, h));
      });
    };
    take(layers.minor?.seen, now.seated.occupiable, now.seated.height);
    take(layers.tangential?.seen, now.walking.occupiable, now.walking.height);
    take(layers.radial?.seen, now.walking.occupiable, now.walking.height);
    return held;
  };
  const remarks = group.detectors
    .filter((index) => coverage.scene.lenses[index]!.room === roomIndex)
    .map((index) => {
      const { name, id } = coverage.floor.detectors[index]!;
      return `${name.trim() || id} hangs in this room. No mask cures that: put it in a group that serves the room.`;
    });
  return { ...aimAtCells(coverage, group.detectors, listSeen), remarks };
}

function aimAtCells(
  coverage: Coverage,
  detectors: readonly number[],
  listSeen: (now: Coverage, index: number, layers: DetectorLayers) => readonly HiddenPlace[],
): Aim {
  const smallest = new Map<number, readonly MaskAngles[]>();
  for (const index of detectors) {
    const masks = boundPlaces(coverage.scene.lenses[index]!, listSeen(coverage, index, castOpen(coverage, index)));
    if (masks.length > 0) smallest.set(index, masks);
  }
  const isHiddenFrom = (now: Coverage, index: number) => listSeen(now, index, castOpen(now, index)).length === 0;
  return { smallest, isHiddenFrom, remarks: [] };
}

/** What one detector sees with every door open. */
function castOpen({ scene, grid, layers, seated, walking }: Coverage, index: number): DetectorLayers {
  const stated = layers[index]!;
  if (!stated.doorInSight) return stated;
  const planes = { seated: seated.height, walking: walking.height };
  return castLayers(scene, createSurroundings(scene), scene.lenses[index]!, grid.inRoom, planes, WHEN_OPEN);
}

function placeOf({ grid: { lattice } }: Coverage, i: number, j: number, h: number): HiddenPlace {
  return { x: lattice.x0 + (i + 0.5) * lattice.cell, y: lattice.y0 + (j + 0.5) * lattice.cell, h };
}
