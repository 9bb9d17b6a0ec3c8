import type { FloorFile } from '../../src/core/floor/schema.ts';

type ListKey =
  | 'revision'
  | 'rooms'
  | 'openings'
  | 'furniture'
  | 'luminaires'
  | 'workplaces'
  | 'zones'
  | 'sources'
  | 'types'
  | 'detectors'
  | 'groups'
  | 'records';

/** One entry of a list of the floor file, as written. */
export type Entry<Key extends ListKey> = NonNullable<FloorFile[Key]>[number];
export type XY = [number, number];

/** A floor file that is still being drawn: its lists can grow. */
export type FloorDraft = { readonly [Key in ListKey]: Entry<Key>[] };

export function createDraft(): FloorDraft {
  return {
    revision: [],
    rooms: [],
    openings: [],
    furniture: [],
    luminaires: [],
    workplaces: [],
    zones: [],
    sources: [],
    types: [],
    detectors: [],
    groups: [],
    records: [],
  };
}

/** Names that occur more than once get a number behind them: Desk 1, Desk 2 … */
function numberNames<Item extends { readonly name: string }>(list: readonly Item[]): Item[] {
  const count = new Map<string, number>();
  for (const { name } of list) count.set(name, (count.get(name) ?? 0) + 1);
  const next = new Map<string, number>();
  return list.map((item) => {
    if (count.get(item.name) === 1) return item;
    const number = (next.get(item.name) ?? 0) + 1;
    next.set(item.name, number);
    return { ...item, name: `${item.name} ${number}` };
  });
}

/** The file without its empty lists, keys in the order of the format's description, repeated names numbered. */
export function finishDraft(
  head: Pick<FloorFile, 'name' | 'notes' | 'north' | 'analysis'>,
  unnumbered: FloorDraft,
): FloorFile {
  const draft = {
    ...unnumbered,
    furniture: numberNames(unnumbered.furniture),
    luminaires: numberNames(unnumbered.luminaires),
    workplaces: numberNames(unnumbered.workplaces),
    zones: numberNames(unnumbered.zones),
    sources: numberNames(unnumbered.sources),
  };
  const { name, notes, north, analysis } = head;
  const optional = <Key extends ListKey>(key: Key): Partial<FloorDraft> =>
    draft[key].length > 0 ? { [key]: draft[key] } : {};
  return {
    format: 'lacuna/1',
    name,
    ...(notes === undefined ? {} : { notes }),
    ...(north === undefined ? {} : { north }),
    ...optional('revision'),
    rooms: draft.rooms,
    ...optional('openings'),
    ...optional('furniture'),
    ...optional('luminaires'),
    ...optional('workplaces'),
    ...optional('zones'),
    ...optional('sources'),
    types: draft.types,
    detectors: draft.detectors,
    ...optional('groups'),
    ...optional('records'),
    ...(analysis === undefined ? {} : { analysis }),
  };
}

/** Millimetres are enough for a drawing, and keep 0.1 + 0.2 out of the file. */
export const roundMm = (metres: number): number => Math.round(metres * 1000) / 1000;

/** Rectangle between two corners, counter-clockwise. */
export function box(x0: number, y0: number, x1: number, y1: number): XY[] {
  const [a, b, c, d] = [roundMm(x0), roundMm(y0), roundMm(x1), roundMm(y1)];
  return [
    [a, b],
    [c, b],
    [c, d],
    [a, d],
  ];
}

/** Rectangle about a centre, its length along `turn` degrees. */
export function turnedBox(x: number, y: number, length: number, width: number, turn: number): XY[] {
  const [c, s] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
  const corner = (u: number, v: number): XY => [roundMm(x + u * c - v * s), roundMm(y + u * s + v * c)];
  const [u, v] = [length / 2, width / 2];
  return [corner(-u, -v), corner(u, -v), corner(u, v), corner(-u, v)];
}

type NamedKey = 'openings' | 'furniture' | 'luminaires' | 'workplaces' | 'zones' | 'sources' | 'detectors' | 'groups';
const PREFIX: Record<NamedKey, string> = {
  openings: 'O',
  furniture: 'F',
  luminaires: 'L',
  workplaces: 'W',
  zones: 'Z',
  sources: 'Q',
  detectors: 'D',
  groups: 'G',
};

/** Adds an entry under the next free id of its list (F1, F2 …) and returns that id. */
export function add<Key extends NamedKey>(draft: FloorDraft, key: Key, entry: Omit<Entry<Key>, 'id'>): string {
  const list: { id?: string }[] = draft[key];
  const id = `${PREFIX[key]}${list.length + 1}`;
  list.push({ id, ...entry });
  return id;
}

type FurnitureRest = Omit<Entry<'furniture'>, 'id' | 'kind' | 'name' | 'outline' | 'top'>;

export function addPiece(
  draft: FloorDraft,
  kind: Entry<'furniture'>['kind'],
  name: string,
  outline: XY[],
  top: number,
  rest: FurnitureRest = {},
): string {
  return add(draft, 'furniture', { kind, name, outline, top, ...rest });
}

type OpeningRest = Omit<Entry<'openings'>, 'id' | 'kind' | 'from' | 'to'>;

export function addOpening(
  draft: FloorDraft,
  kind: Entry<'openings'>['kind'],
  from: XY,
  to: XY,
  rest: OpeningRest = {},
): string {
  return add(draft, 'openings', { kind, from, to, ...rest });
}

export function addRoom(
  draft: FloorDraft,
  id: string,
  name: string,
  use: string,
  outline: XY[],
  ceiling: number,
  rest: Partial<Entry<'rooms'>> = {},
): void {
  const xs = outline.map(([x]) => x);
  const ys = outline.map(([, y]) => y);
  draft.rooms.push({
    id,
    name,
    use,
    outline,
    ceiling,
    tiles: { origin: [Math.min(...xs), Math.min(...ys)] },
    ...rest,
  });
}

/** Centre of the 0.6 m ceiling tile of a room nearest to a point. */
export function tileCentre(draft: FloorDraft, roomId: string, x: number, y: number): XY {
  const origin = draft.rooms.find((room) => room.id === roomId)?.tiles?.origin;
  if (origin === undefined) throw new Error(`tileCentre: no room ${roomId} with tiles`);
  const snap = (value: number, from: number): number =>
    roundMm(from + (Math.round((value - from) / 0.6 - 0.5) + 0.5) * 0.6);
  return [snap(x, origin[0]), snap(y, origin[1])];
}

export interface Island {
  /** Centre in plan, metres. */
  readonly x: number;
  readonly y: number;
  /** 0: the long side runs along x; 90: along y. */
  readonly turn: 0 | 90;
  readonly perSide: number;
  /** Top of the screen between the two rows, metres above the floor; left out: none. */
  readonly screenTop?: number;
  /** Metres by which the desks can be raised. */
  readonly raised?: number;
  /** Nobody has measured the screens. */
  readonly screenAssumed?: boolean;
  readonly name: string;
}

const DESK = { length: 1.6, depth: 0.8, base: 0.7, top: 0.74, gap: 0.02 };
const SCREEN_THICKNESS = 0.04;
/** From the desk's edge to the chair's centre. */
const CHAIR_OFFSET = 0.35;

/** Two rows of desks back to back, a screen between them, a workplace at every desk. */
export function addIsland(draft: FloorDraft, island: Island): void {
  const { x, y, turn, perSide, screenTop, screenAssumed = false, raised, name } = island;
  const place = (along: number, across: number): XY =>
    turn === 0 ? [roundMm(x + along), roundMm(y + across)] : [roundMm(x - across), roundMm(y + along)];
  const rect = (along: number, across: number, length: number, width: number): XY[] => {
    const [cx, cy] = place(along, across);
    return turn === 0
      ? box(cx - length / 2, cy - width / 2, cx + length / 2, cy + width / 2)
      : box(cx - width / 2, cy - length / 2, cx + width / 2, cy + length / 2);
  };
  const lift = raised === undefined ? {} : { raised };
  for (let index = 0; index < perSide; index += 1) {
    const along = (index - (perSide - 1) / 2) * DESK.length;
    for (const side of [-1, 1]) {
      addPiece(
        draft,
        'desk',
        'Desk',
        rect(along, side * (DESK.gap + DESK.depth / 2), DESK.length, DESK.depth),
        DESK.top,
        { base: DESK.base, ...lift },
      );
      add(draft, 'workplaces', {
        name,
        at: place(along, side * (DESK.gap + DESK.depth + CHAIR_OFFSET)),
        facing: (turn + (side < 0 ? 90 : 270)) % 360,
      });
    }
    if (screenTop !== undefined) {
      addPiece(draft, 'screen', 'Screen', rect(along, 0, DESK.length, SCREEN_THICKNESS), screenTop, {
        base: DESK.base,
        ...lift,
        ...(screenAssumed ? { from: 'assumed' } : {}),
      });
    }
  }
}

/** A lens keeps this far from a warm luminaire, metres. */
const PANEL_CLEARANCE = 0.99;

/**
 * Recessed panels of 0.6 × 0.6 m on the room's tile grid: from the tile nearest `from`, every `pitch` metres (a multiple
 * of 0.6) along x and y, as long as they stay below `to`. Tiles that are taken or near a lens are left out.
 */
export function addPanels(
  draft: FloorDraft,
  roomId: string,
  field: { readonly from: XY; readonly to: XY; readonly pitch: readonly [number, number] },
  rest: Partial<Entry<'luminaires'>> = {},
): void {
  const room = draft.rooms.find(({ id }) => id === roomId);
  if (room === undefined) throw new Error(`addPanels: no room ${roomId}`);
  const taken = ([x, y]: XY): boolean =>
    draft.detectors.some(({ at }) => Math.hypot(at[0] - x, at[1] - y) < PANEL_CLEARANCE) ||
    [...draft.sources, ...draft.luminaires].some(({ at }) => Math.hypot(at[0] - x, at[1] - y) < 0.55);
  const [x0, y0] = tileCentre(draft, roomId, ...field.from);
  for (let y = y0; y <= field.to[1]; y += field.pitch[1]) {
    for (let x = x0; x <= field.to[0]; x += field.pitch[0]) {
      const at: XY = [roundMm(x), roundMm(y)];
      if (taken(at)) continue;
      const base = roundMm(room.ceiling - 0.02);
      add(draft, 'luminaires', { name: 'Panel', at, size: [0.6, 0.6], base, top: room.ceiling, watts: 30, ...rest });
    }
  }
}

/** Toilet cubicles in a row along x or y: walls between them, and a front of piers and closed doors 0.7 m wide. */
export function addCubicles(
  draft: FloorDraft,
  row: {
    readonly along: 'x' | 'y';
    readonly start: number;
    readonly width: number;
    readonly count: number;
    readonly front: number;
    readonly back: number;
  },
): void {
  const { along, start, width, count, front, back } = row;
  const thickness = 0.03;
  const into = Math.sign(back - front);
  const rest = { base: 0.15 };
  const rect = (a0: number, a1: number, b0: number, b1: number): XY[] => {
    const [lo, hi] = [Math.min(b0, b1), Math.max(b0, b1)];
    return along === 'x' ? box(a0, lo, a1, hi) : box(lo, a0, hi, a1);
  };
  const frontFace = front + into * thickness;
  for (let index = 0; index < count; index += 1) {
    const from = start + index * width;
    const pier = (width - 0.7) / 2;
    addPiece(draft, 'partition', 'Cubicle front', rect(from, from + pier, front, frontFace), 2, rest);
    addPiece(draft, 'partition', 'Cubicle door', rect(from + pier, from + pier + 0.7, front, frontFace), 2, rest);
    addPiece(draft, 'partition', 'Cubicle front', rect(from + pier + 0.7, from + width, front, frontFace), 2, rest);
    if (index > 0)
      addPiece(
        draft,
        'partition',
        'Cubicle wall',
        rect(from - thickness / 2, from + thickness / 2, frontFace, back),
        2,
        rest,
      );
  }
}
