/**
 * The document and everything the views share about it, in one vanilla store: no React, no three, no DOM.
 *
 * The file (as written) is the truth; its resolved floor and the coverage follow from it. While a gesture runs the floor
 * as it would be stands in `preview`. The coverage is brought up to date in the same turn and mutated in place:
 * read it after `coverageVersion` has changed, never keep its arrays across an opened file.
 */
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { Change, Coverage } from '../core/coverage/index.ts';
import type { CheckResult, PlaneName } from '../core/coverage/result.ts';
import type { DetectorId, Fault, Floor, FloorFile, Point } from '../core/floor/index.ts';
import { findRoomAt, resolveFloor } from '../core/floor/index.ts';
import type { Difference } from '../core/planning/question/difference.ts';
import type { CatalogueEntry } from './edits/furniture-pieces.ts';
import type { ThingKind } from './things.ts';
import type { ToolRun } from './tool-run.ts';
import type { Guide } from './tools/guide.ts';
import type { ToolId, Units } from './tools/tool.ts';
import type { UnderlayPicture } from './underlay.ts';

export type Camera = 'plan' | 'model' | 'walk';
export type Show = 'blind' | 'count' | 'headings';
/** The tools of the registry, and the two the page drives itself. */
export type Tool = ToolId | 'probe' | 'mask';
export type Theme = 'light' | 'dark';

/** One part of a mask that can be taken in hand; `mask` is its index in the detector's list. `turn` moves both edges. */
export interface MaskHandle {
  readonly detector: DetectorId;
  readonly mask: number;
  readonly part: 'from' | 'to' | 'inner' | 'outer' | 'turn';
}

/** One undo step: what it is called, and the file on the other side of it. */
export interface Step {
  readonly name: string;
  readonly file: FloorFile;
}

/** What keeps a file from being opened, or an edit from being made. */
export interface Refusal {
  /** The file that was not opened; null for an edit. */
  readonly fileName: string | null;
  readonly faults: readonly Fault[];
}

/** A short sentence for the foot. `serial` tells two equal ones apart. */
export interface Notice {
  readonly text: string;
  readonly serial: number;
}

export interface EditorState {
  /** The committed document, as it will be saved. */
  readonly file: FloorFile;
  /** The same with its defaults filled in. */
  readonly floor: Floor;
  /** While a gesture runs: the floor as it would be. What is shown is `preview ?? floor`. */
  readonly preview: Floor | null;
  /** What the running gesture is called, in words for the foot: "Dragging D14". */
  readonly gesture: string | null;
  readonly fileName: string | null;
  /** What was last opened or saved; there are unsaved changes while it is not `file`. */
  readonly savedFile: FloorFile | null;
  /** The floor can be looked at, not changed: another tab has it. */
  readonly isLookOnly: boolean;
  readonly past: readonly Step[];
  readonly future: readonly Step[];
  readonly notice: Notice | null;
  readonly refusal: Refusal | null;

  readonly camera: Camera;
  readonly plane: PlaneName;
  readonly show: Show;
  readonly tool: Tool;
  /** What is seen of the tool in hand; null for probe and mask, and until the tools are there. */
  readonly toolRun: ToolRun | null;
  /** How lengths are written on screen; files are in metres. */
  readonly units: Units;
  /** Kinds that are not drawn and not picked. */
  readonly hiddenKinds: ReadonlySet<ThingKind>;
  /** Kinds that are not changed by hand. */
  readonly lockedKinds: ReadonlySet<ThingKind>;
  /** Pieces of furniture to choose from; empty until they are there. */
  readonly catalogue: readonly CatalogueEntry[];
  /** Ids of what is selected, the last one in hand. */
  readonly selection: readonly string[];
  readonly maskHandle: MaskHandle | null;
  readonly probe: { readonly at: Point; readonly pinned: boolean } | null;
  /** Floor coordinates under the pointer, metres. */
  readonly pointer: Point | null;
  /** A place to bring into sight and bracket. `serial` tells two visits to one place apart. */
  readonly flyTo: { readonly at: Point; readonly ids: readonly string[]; readonly serial: number } | null;
  /** Index of the finding stepped to, in the order of the list. */
  readonly finding: number | null;
  /** The walk camera's place, and its heading in degrees counter-clockwise from +x. */
  readonly walker: { readonly at: Point; readonly heading: number };
  /** What a panel draws over the floor: places to choose from, a proposal, what changed. Beside what the tool draws. */
  readonly sketch: readonly Guide[];
  /** Shown in place of the heat map: how two states of the floor differ. */
  readonly difference: Difference | null;
  /** The picture under the plan, as far as the browser has it; null: there is none. */
  readonly underlay: UnderlayPicture | null;
  readonly theme: Theme;
  readonly reducedMotion: boolean;

  readonly coverage: Coverage | null;
  /** Counts up whenever the coverage has changed in place or was made anew. */
  readonly coverageVersion: number;
  /** Cells the last change may have touched; null: none. */
  readonly coverageChange: Change | null;
  /** The last complete verdicts, and the floor they are of: stale while that is not the one shown. */
  readonly result: CheckResult | null;
  readonly resultFor: Floor | null;
}

/** What the store asks of the computation; handed in, so that a test can count calls and the app can choose where it runs. */
export interface Computation {
  /** Null: not here and not now; the caller brings it later with `setCoverage`. */
  createCoverage(floor: Floor): Coverage | null;
  /** `later`: not here and not now, as with a coverage that is not there yet. The old one is of no use any more. */
  updateCoverage(coverage: Coverage, next: Floor): Change | null | 'later';
  /** Faults of a whole file; an edit that brings any is refused. */
  findFaults(file: FloorFile): readonly Fault[];
  /** Runs `work` at the next frame. One frame takes one preview, however often the pointer moved. */
  schedule(work: () => void): void;
}

export interface EditorStore extends StoreApi<EditorState> {
  readonly computation: Computation;
}

/** The floor on screen: as it would be while a gesture runs, else as it is. */
export function shownFloor(state: Pick<EditorState, 'floor' | 'preview'>): Floor {
  return state.preview ?? state.floor;
}

/** Whether the last complete verdicts are of another floor than the one on screen. */
export function isResultStale(state: Pick<EditorState, 'floor' | 'preview' | 'resultFor'>): boolean {
  return state.resultFor !== shownFloor(state);
}

/** Whether something would be lost when the file were closed now. */
export function hasUnsavedChanges(state: Pick<EditorState, 'file' | 'savedFile'>): boolean {
  return state.file !== state.savedFile;
}

/** Makes a store holding a valid file; its coverage is computed at once where the computation can. */
export function createEditorStore(
  file: FloorFile,
  computation: Computation,
  fileName: string | null = null,
): EditorStore {
  const floor = resolveFloor(file);
  const coverage = computation.createCoverage(floor);
  const store = createStore<EditorState>()(() => ({
    ...freshDocument(file, floor, fileName),
    coverage,
    coverageVersion: coverage === null ? 0 : 1,
    coverageChange: coverage === null ? null : wholeGrid(coverage),
    camera: 'plan',
    plane: 'seated',
    show: 'blind',
    tool: 'select',
    toolRun: null,
    units: 'metres',
    hiddenKinds: new Set(),
    lockedKinds: new Set(),
    catalogue: [],
    theme: 'light',
    reducedMotion: false,
    notice: null,
    refusal: null,
  }));
  return Object.assign(store, { computation });
}

/** Puts another valid file in the place of the open one. Camera, plane, show and theme stay; history begins anew. */
export function replaceDocument(store: EditorStore, file: FloorFile, fileName: string | null): void {
  const floor = resolveFloor(file);
  const coverage = store.computation.createCoverage(floor);
  store.setState((state) => ({
    ...freshDocument(file, floor, fileName),
    refusal: null,
    tool: 'select',
    toolRun: null,
    coverage,
    coverageVersion: state.coverageVersion + 1,
    coverageChange: coverage === null ? null : wholeGrid(coverage),
  }));
}

/** Brings a coverage that was computed elsewhere; ignored when it is of a floor no longer shown. */
export function setCoverage(store: EditorStore, coverage: Coverage): void {
  const state = store.getState();
  if (coverage.floor !== shownFloor(state)) return;
  store.setState({ coverage, coverageVersion: state.coverageVersion + 1, coverageChange: wholeGrid(coverage) });
}

/** Brings the complete verdicts of a floor. */
export function setResult(store: EditorStore, result: CheckResult, floor: Floor): void {
  store.setState({ result, resultFor: floor });
}

/** The part of the state that follows from showing `next`: the coverage brought up to date in place, or made where there is none. */
export function coverageFor(store: EditorStore, next: Floor): Partial<EditorState> {
  const { coverage, coverageVersion } = store.getState();
  if (coverage === null) {
    const made = store.computation.createCoverage(next);
    return {
      coverage: made,
      coverageVersion: coverageVersion + 1,
      coverageChange: made === null ? null : wholeGrid(made),
    };
  }
  if (coverage.floor === next) return {};
  const change = store.computation.updateCoverage(coverage, next);
  if (change === 'later') return { coverage: null, coverageVersion: coverageVersion + 1, coverageChange: null };
  return { coverageVersion: coverageVersion + 1, coverageChange: change };
}

function freshDocument(file: FloorFile, floor: Floor, fileName: string | null) {
  return {
    file,
    floor,
    fileName,
    savedFile: file,
    isLookOnly: false,
    preview: null,
    gesture: null,
    past: [],
    future: [],
    selection: [],
    maskHandle: null,
    probe: null,
    pointer: null,
    flyTo: null,
    finding: null,
    walker: startOfWalk(floor),
    sketch: [],
    difference: null,
    underlay: null,
    result: null,
    resultFor: null,
  } satisfies Partial<EditorState>;
}

function wholeGrid(coverage: Coverage): Change {
  return { i0: 0, j0: 0, i1: coverage.grid.lattice.nx, j1: coverage.grid.lattice.ny };
}

/** Metres a walk begins inside of the wall: the leaf and the frame are behind the eye. */
const INSIDE = 0.3;

/**
 * A walk begins in the first open door, else in the first passage or door, and looks to the side where the wall across is
 * farther; else it begins at the first detector, else at the first corner.
 */
function startOfWalk(floor: Floor): EditorState['walker'] {
  const doors = floor.openings.filter((opening) => opening.kind !== 'window');
  const door = doors.find((each) => each.kind === 'door' && each.state === 'open') ?? doors[0];
  if (door === undefined) {
    const at = floor.detectors[0]?.at ?? floor.rooms[0]?.outline[0] ?? [0, 0];
    return { at, heading: 90 };
  }
  const [ax, ay] = door.from;
  const [bx, by] = door.to;
  const width = Math.hypot(bx - ax, by - ay);
  const [left, right] = ([1, -1] as const).map((side) => {
    const [dx, dy] = [(side * (ay - by)) / width, (side * (bx - ax)) / width];
    const off = door.depth / 2 + INSIDE;
    const at: Point = [(ax + bx) / 2 + dx * off, (ay + by) / 2 + dy * off];
    return { at, heading: (Math.atan2(dy, dx) * 180) / Math.PI, sight: measureAhead(floor, at, dx, dy) };
  }) as [Look, Look];
  const { at, heading } = right.sight > left.sight ? right : left;
  return { at, heading };
}

interface Look {
  readonly at: Point;
  readonly heading: number;
  readonly sight: number;
}

/** Metres from a place straight ahead to the next wall of its room; 0 outside every room. */
function measureAhead({ rooms }: Floor, at: Point, dx: number, dy: number): number {
  const room = findRoomAt(rooms, at);
  if (room === undefined) return 0;
  let nearest = Number.POSITIVE_INFINITY;
  for (const ring of [room.outline, ...room.holes])
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length] ?? a;
      const [ex, ey] = [b[0] - a[0], b[1] - a[1]];
      const [ox, oy] = [a[0] - at[0], a[1] - at[1]];
      const across = dx * ey - dy * ex;
      if (across === 0) return;
      const far = (ox * ey - oy * ex) / across;
      const along = (ox * dy - oy * dx) / across;
      if (far >= 0 && along >= 0 && along <= 1) nearest = Math.min(nearest, far);
    });
  return nearest;
}
