/** What is written on a floor, and where. Names are text: they are painted, never parsed. */
import type { WorkplaceResult, ZoneResult } from '../../../core/coverage/index.ts';
import { type Floor, type Furniture, lensHeightOf, type Room } from '../../../core/floor/index.ts';
import { computeBox, computeSignedArea } from '../../../core/geometry/polygon.ts';
import type { Units } from '../../../editor/tools/tool.ts';
import { sayArea, sayBare } from '../../../editor/tools/words.ts';
import type { Palette } from '../../tokens.ts';
import { type LocalFrame, reachOf } from '../local-frame.ts';
import type { LabelText } from './label-atlas.ts';
import type { LabelPlace } from './label-batch.ts';
import type { LabelCache } from './label-cache.ts';
import { type Clutter, findRoomSpot } from './room-spot.ts';

export interface Label {
  readonly key: string;
  readonly text: LabelText;
  readonly place: LabelPlace;
}

const BOLD = 620;
const PLAIN = 450;
const SIZE = 12;
/** Average width of a letter of the working face at 12 px. */
const LETTER = 6.1;
function label(text: LabelText, place: Partial<LabelPlace> & Pick<LabelPlace, 'x' | 'y' | 'z'>): Label {
  const all = { dx: 0, dy: 0, anchorX: 0.5, anchorY: 0.5, turn: 0, from: 0, flat: true, ...place };
  return { key: JSON.stringify(text), text, place: all };
}

/** The name and the area of a room, where nothing lies under them. */
export function labelRoom(
  room: Room,
  clutter: () => Clutter,
  palette: Palette,
  frame: LocalFrame,
  units: Units,
): Label {
  const area = room.holes.reduce(
    (sum, hole) => sum - Math.abs(computeSignedArea(hole)),
    Math.abs(computeSignedArea(room.outline)),
  );
  const lines = [
    { text: room.name, weight: BOLD, colour: palette.ink, size: SIZE },
    { text: sayArea(area, units), weight: PLAIN, colour: palette.ink, size: SIZE },
  ];
  const px = Math.max(room.name.length, 8) * LETTER + 8;
  const spot = findRoomSpot(room, clutter(), px / 30, 34 / 30);
  const box = computeBox(room.outline);
  const from = Math.max(px / (box.maxX - box.minX), 34 / (box.maxY - box.minY));
  const place = { x: spot.x - frame.x, y: spot.y - frame.y, z: 0, anchorX: 0, from };
  return label({ lines, align: 'left', casing: palette.paper }, place);
}

export function labelDetectors(
  floor: Floor,
  palette: Palette,
  frame: LocalFrame,
  without: ReadonlySet<string>,
): Label[] {
  return floor.detectors.flatMap((detector) => {
    if (without.has(detector.id)) return [];
    const lines = [{ text: detector.name, weight: BOLD, colour: palette.ink, size: SIZE }];
    const z = lensHeightOf(detector, floor);
    const place = {
      x: detector.at[0] - frame.x,
      y: detector.at[1] - frame.y,
      z,
      dx: 7,
      dy: 11,
      anchorX: 0,
      from: 9,
      flat: false,
    };
    return [label({ lines, align: 'left', casing: palette.paper }, place)];
  });
}

/** Numbers of the workplaces, close up; the share of those that are not met below. */
export function labelWorkplaces(
  floor: Floor,
  verdicts: readonly WorkplaceResult[] | null,
  palette: Palette,
  frame: LocalFrame,
  closeUp: number,
  cache: LabelCache,
): Label[] {
  const { seatedPlane } = floor.analysis;
  return floor.workplaces.flatMap((workplace, i) => {
    const { name, at } = workplace;
    const verdict = verdictOf(verdicts, workplace.id, i);
    const missed = verdict !== undefined && !verdict.met;
    const stamp = missed ? `${seatedPlane} ${verdict.share}` : seatedPlane;
    return cache.get(workplace, stamp, () => {
      const place = { x: at[0] - frame.x, y: at[1] - frame.y, z: seatedPlane, from: closeUp };
      const line = { text: shortName(name), weight: PLAIN, colour: missed ? palette.ink : palette.ink2, size: SIZE };
      const number = label({ lines: [line], align: 'centre', casing: null }, { ...place, dy: missed ? 7 : 0 });
      if (!missed) return [number];
      return [number, label(shareText(verdict.share, palette), { ...place, dy: -7 })];
    });
  });
}

/** The verdict of a workplace, which has the same place in both lists as long as both are of one floor. */
function verdictOf(
  verdicts: readonly WorkplaceResult[] | null,
  id: string,
  index: number,
): WorkplaceResult | undefined {
  const verdict = verdicts?.[index];
  return verdict?.id === id ? verdict : verdicts?.find((each) => each.id === id);
}

/** Whether two lists of verdicts look the same on the floor. */
export function isSameVerdicts(a: readonly WorkplaceResult[] | null, b: readonly WorkplaceResult[] | null): boolean {
  if (a === b) return true;
  if (a === null || b === null || a.length !== b.length) return false;
  return a.every((each, i) => {
    const other = b[i];
    return each === other || (each.id === other?.id && each.met === other.met && each.share === other.share);
  });
}

/** The share of a workplace that is seen; rounded down, so that 89.9 never reads as the 90 that are needed. */
export function shareText(share: number | null, palette: Palette): LabelText {
  const text = `${Math.floor((share ?? 0) * 100 + 1e-9)} %`;
  return {
    lines: [{ text, weight: BOLD, colour: palette.accent, size: SIZE }],
    align: 'centre',
    casing: palette.paper,
  };
}

export function labelSources(floor: Floor, palette: Palette, frame: LocalFrame): Label[] {
  return floor.sources.map(({ name, at, top }) => {
    const lines = [{ text: name, weight: PLAIN, colour: palette.ink, size: SIZE }];
    const place = { x: at[0] - frame.x, y: at[1] - frame.y, z: top, dx: 12, anchorX: 0, from: 22 };
    return label({ lines, align: 'left', casing: palette.paper }, place);
  });
}

export function labelZones(
  floor: Floor,
  verdicts: readonly ZoneResult[] | null,
  palette: Palette,
  frame: LocalFrame,
): Label[] {
  const byId = new Map(verdicts?.map((each) => [each.id, each]));
  return floor.zones.map((zone) => {
    const verdict = byId.get(zone.id);
    const missed = verdict !== undefined && !verdict.met && verdict.share !== null;
    const text = missed ? `${zone.need} ${Math.floor((verdict.share ?? 0) * 100 + 1e-9)} %` : zone.need;
    const lines = [{ text, weight: missed ? BOLD : PLAIN, colour: missed ? palette.accent : palette.ink2, size: SIZE }];
    // Its upper left corner.
    const [x, y] = zone.outline.reduce((best, at) => (at[1] - at[0] > best[1] - best[0] ? at : best));
    const box = computeBox(zone.outline);
    const from = Math.max(18, 90 / (box.maxX - box.minX));
    const place = { x: x - frame.x, y: y - frame.y, z: 0.02, dx: 3, dy: -2, anchorX: 0, anchorY: 1, from };
    return label({ lines, align: 'left', casing: palette.paper }, place);
  });
}

/** Name and top of a piece that stands in the way of somebody, along its longer side, from where it fits; null: none. */
export function labelPiece(
  piece: Furniture,
  ceiling: number,
  plane: number,
  palette: Palette,
  frame: LocalFrame,
  units: Units,
): Label | null {
  const axis = findAxis(piece);
  if (piece.top <= plane || axis.width <= 0.15 || axis.length <= 0.5) return null;
  const text = `${piece.name} · ${sayBare(piece.top, units)}`;
  const dark = reachOf(piece.top, ceiling) > 0.52;
  const lines = [{ text, weight: PLAIN, colour: palette.ink, size: SIZE }];
  const from = Math.max(38, (text.length * LETTER + 10) / axis.length, 15 / axis.width);
  const place = { x: axis.x - frame.x, y: axis.y - frame.y, z: piece.top, turn: axis.turn, from };
  return label({ lines, align: 'centre', casing: dark ? palette.paper : null }, place);
}

interface Axis {
  readonly x: number;
  readonly y: number;
  readonly length: number;
  readonly width: number;
  /** Radians, so that words are read from below or from the right. */
  readonly turn: number;
}

/** The longest edge's direction, and the extent of the outline along and across it. */
function findAxis({ outline }: Furniture): Axis {
  let longest = 0;
  let angle = 0;
  outline.forEach(([ax, ay], i) => {
    const [bx, by] = outline[(i + 1) % outline.length] as readonly [number, number];
    const length = Math.hypot(bx - ax, by - ay);
    if (length > longest + 1e-6) {
      longest = length;
      angle = Math.atan2(by - ay, bx - ax);
    }
  });
  if (angle > Math.PI / 2 + 1e-6) angle -= Math.PI;
  if (angle <= -Math.PI / 2 + 1e-6) angle += Math.PI;
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const box = computeBox(outline.map(([x, y]) => [c * x + s * y, c * y - s * x]));
  const u = (box.minX + box.maxX) / 2;
  const v = (box.minY + box.maxY) / 2;
  return { x: c * u - s * v, y: s * u + c * v, length: box.maxX - box.minX, width: box.maxY - box.minY, turn: angle };
}

/** The number at the end of a name, as "30" of "Workplace 30"; the name itself when it ends in none. */
function shortName(name: string): string {
  return /(\S*\d\S*)$/.exec(name)?.[1] ?? name;
}
