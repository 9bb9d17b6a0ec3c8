/** What tools ask for, as data, and the edit of the floor each becomes. */
import { create } from 'mutative';
import type { FloorFile, Point, Ring, Source, Zone } from '../../core/floor/index.ts';
import { createChange } from '../edits/change.ts';
import { moveCorner } from '../edits/corners.ts';
import { moveRoomEdge } from '../edits/edge-moves.ts';
import { type Edit, type Planned, refuse } from '../edits/edit.ts';
import { countThings, nameThing, showMetres } from '../edits/fault-words.ts';
import { addFurnitureBlock, type BlockOptions } from '../edits/furniture-blocks.ts';
import { type Anchor, addFurniture, type CatalogueEntry, resizePiece } from '../edits/furniture-pieces.ts';
import { addExtensions, addGroup, removeFromGroups } from '../edits/groups.ts';
import { createIdMaker } from '../edits/ids.ts';
import { findItem, LIST_NAMES, listOf } from '../edits/lists.ts';
import { moveThings, turnThings } from '../edits/moving.ts';
import { addOpening, moveOpening, type NewOpening } from '../edits/openings.ts';
import { distance, finePoint } from '../edits/plane.ts';
import { splitRoom } from '../edits/room-split.ts';
import { addHole, addRoom } from '../edits/rooms.ts';
import { moveUnderlay, scaleUnderlay } from '../edits/underlays.ts';
import type { WallPlace } from '../edits/walls.ts';
import { addWorkplaces } from '../edits/workplaces.ts';
import { addLuminaire, addSource, addZone } from '../edits/zones.ts';
import { turnInto360 } from '../recipes.ts';

/** Lengths in metres, angles in degrees counter-clockwise from +x, ids of the file the intent is planned on. */
export type Intent =
  | { readonly kind: 'room'; readonly outline: Ring }
  | { readonly kind: 'hole'; readonly room: string; readonly outline: Ring }
  | { readonly kind: 'split'; readonly room: string; readonly from: Point; readonly to: Point }
  | { readonly kind: 'opening'; readonly wall: WallPlace; readonly opening: NewOpening }
  | { readonly kind: 'piece'; readonly entry: CatalogueEntry; readonly at: Point; readonly turn: number }
  | {
      readonly kind: 'block';
      readonly entry: CatalogueEntry;
      readonly at: Point;
      readonly turn: number;
      readonly options: BlockOptions;
    }
  | { readonly kind: 'detectors'; readonly type: string; readonly places: readonly Point[]; readonly turn: number }
  /** A group and all its extensions. */
  | { readonly kind: 'group'; readonly main: string; readonly extensions: readonly string[] }
  | { readonly kind: 'zone'; readonly outline: Ring; readonly need: Zone['need'] }
  | {
      readonly kind: 'source';
      readonly of: Source['kind'];
      readonly at: Point;
      readonly radius: number;
      readonly base: number;
      readonly top: number;
    }
  | {
      readonly kind: 'workplace';
      readonly at: Point;
      readonly facing: number;
      readonly posture: 'seated' | 'standing';
    }
  | {
      readonly kind: 'luminaire';
      readonly at: Point;
      readonly size: readonly [number, number];
      readonly turn: number;
      readonly base: number;
      readonly top: number;
      readonly emergency: boolean;
    }
  | { readonly kind: 'move'; readonly ids: readonly string[]; readonly by: Point }
  | { readonly kind: 'turn'; readonly ids: readonly string[]; readonly degrees: number; readonly centre: Point }
  /** Another place of an opening, in the same wall or another. */
  | { readonly kind: 'slide'; readonly id: string; readonly wall: WallPlace; readonly along: number }
  | {
      readonly kind: 'corner';
      readonly id: string;
      readonly ring: number;
      readonly corner: number;
      readonly to: Point;
      readonly together: boolean;
    }
  | {
      readonly kind: 'edge';
      readonly room: string;
      readonly ring: number;
      readonly edge: number;
      /** Above 0 out of the room. */
      readonly by: number;
      readonly together: boolean;
    }
  | {
      readonly kind: 'resize';
      readonly id: string;
      readonly length: number;
      readonly width: number;
      readonly anchor: Anchor;
    }
  /** Both sides of an opening. */
  | { readonly kind: 'ends'; readonly id: string; readonly from: Point; readonly to: Point }
  | { readonly kind: 'move picture'; readonly from: Point; readonly to: Point }
  /** `direction`: degrees from the first place to the second; null: as now. */
  | {
      readonly kind: 'scale picture';
      readonly from: Point;
      readonly to: Point;
      readonly length: number;
      readonly direction: number | null;
    }
  /** One after the other, as one step. */
  | { readonly kind: 'several'; readonly intents: readonly Intent[] };

type Kind = Intent['kind'];
type Of<Name extends Kind> = Extract<Intent, { readonly kind: Name }>;

const PLANS: { readonly [Name in Kind]: (file: FloorFile, intent: Of<Name>) => Edit } = {
  room: (file, { outline }) => addRoom(file, outline),
  hole: (file, { room, outline }) => addHole(file, room, outline),
  split: (file, { room, from, to }) => splitRoom(file, room, from, to),
  opening: (file, { wall, opening }) => addOpening(file, wall, opening),
  piece: (file, { entry, at, turn }) => addFurniture(file, entry, { at, turn }),
  block: (file, { entry, at, turn, options }) => addFurnitureBlock(file, entry, { at, turn }, options),
  detectors: planDetectors,
  group: planGroup,
  zone: (file, { outline, need }) => addZone(file, outline, need),
  source: (file, { of, at, radius, base, top }) => addSource(file, of, at, { radius, base, top }),
  workplace: (file, { at, facing, posture }) => addWorkplaces(file, [{ at, facing, posture }]),
  luminaire: (file, { at, size, turn, base, top, emergency }) =>
    addLuminaire(file, at, [...size], { turn, base, top, ...(emergency ? { emergency } : {}) }),
  move: (file, { ids, by }) => moveThings(file, ids, by),
  turn: (file, { ids, degrees, centre }) => turnThings(file, ids, degrees, centre),
  slide: (file, { id, wall, along }) => moveOpening(file, id, wall, along),
  corner: (file, { id, ring, corner, to, together }) => moveCorner(file, { id, ring }, corner, to, together),
  edge: (file, { room, ring, edge, by, together }) => moveRoomEdge(file, room, ring, edge, by, together),
  resize: (file, { id, length, width, anchor }) => resizePiece(file, id, { length, width }, anchor),
  ends: planEnds,
  'move picture': (file, { from, to }) => moveUnderlay(file, from, to),
  'scale picture': (file, { from, to, length, direction }) => scaleUnderlay(file, from, to, length, direction),
  several: planSeveral,
};

/** The edit an intent becomes on a file; refused where it can be told without judging the whole floor. */
export function planIntent<Name extends Kind>(file: FloorFile, intent: Of<Name>): Edit {
  return PLANS[intent.kind as Name](file, intent);
}

/** One type hung at several places, in their order. */
function planDetectors(file: FloorFile, { type, places, turn }: Of<'detectors'>): Edit {
  if (findItem(file, 'types', type) === undefined) return refuse('The detector type is gone', 'Choose another.');
  const change = createChange(file);
  const maker = createIdMaker(file);
  const turned = turnInto360(turn);
  const items = places.map((at) => ({
    ...maker.nextDetector(),
    type,
    at: finePoint(at),
    ...(turned === 0 ? {} : { turn: turned }),
  }));
  for (const item of items) change.add('detectors', item);
  const [first] = items;
  if (first === undefined) return refuse('There is no place for a detector', 'Choose another room.');
  const what =
    items.length === 1 ? nameThing({ list: 'detectors', item: first }) : countThings('detectors', items.length);
  return change.plan(
    `Added ${what}`,
    items.map(({ id }) => id),
  );
}

function planEnds(file: FloorFile, { id, from, to }: Of<'ends'>): Edit {
  const opening = findItem(file, 'openings', id);
  if (opening === undefined) return refuse('The opening is gone', 'Select another.');
  const change = createChange(file);
  const item = { ...opening, from: finePoint(from), to: finePoint(to) };
  change.set('openings', item);
  return change.plan(`Made ${nameThing({ list: 'openings', item })} ${showMetres(distance(from, to))} wide`, [id]);
}

function planSeveral(file: FloorFile, { intents }: Of<'several'>): Edit {
  const { edit, after } = chain(
    file,
    intents.map((intent) => (next: FloorFile) => planIntent(next, intent)),
  );
  if (!edit.ok || intents.length < 2) return edit;
  const more = (list: 'furniture' | 'workplaces'): number => listOf(after, list).length - listOf(file, list).length;
  const seats = more('workplaces');
  const name = `Added ${countThings('furniture', more('furniture'))}`;
  return { ...edit, name: seats === 0 ? name : `${name} and ${countThings('workplaces', seats)}` };
}

/** A group led by a detector has these extensions and no others; it is made where there is none. */
function planGroup(file: FloorFile, { main, extensions }: Of<'group'>): Edit {
  const group = listOf(file, 'groups').find((each) => each.main === main);
  if (group === undefined) return addGroup(file, main, extensions);
  const name = nameThing({ list: 'groups', item: group });
  const before: readonly string[] = group.extensions ?? [];
  const gone = before.filter((id) => !extensions.includes(id));
  const joining = extensions.filter((id) => !before.includes(id));
  if (gone.length === 0 && joining.length === 0)
    return refuse(`${name} has these extensions already`, 'Choose others.');
  const { edit } = chain(file, [
    ...(gone.length === 0 ? [] : [(next: FloorFile) => removeFromGroups(next, gone)]),
    ...(joining.length === 0 ? [] : [(next: FloorFile) => addExtensions(next, group.id, joining)]),
  ]);
  return edit.ok ? { ...edit, name: `Set the extensions of ${name}`, ids: [group.id] } : edit;
}

/** Edits one after the other as one: each is planned on what the one before made. The last one names it. */
function chain(
  file: FloorFile,
  plans: readonly ((file: FloorFile) => Edit)[],
): { readonly edit: Edit; readonly after: FloorFile } {
  let after = file;
  let name = '';
  const ids: string[] = [];
  for (const plan of plans) {
    const edit = plan(after);
    if (!edit.ok) return { edit, after: file };
    after = create(after, edit.recipe);
    name = edit.name;
    ids.push(...edit.ids);
  }
  const recipe: Planned['recipe'] = (draft) => {
    for (const list of LIST_NAMES) {
      if (after[list] !== file[list]) Object.assign(draft, { [list]: after[list] });
    }
  };
  return { edit: { ok: true, name, ids, recipe }, after };
}
