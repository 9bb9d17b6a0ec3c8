/**
 * What a tool is: a small state machine between what a hand does and one edit of the floor. It knows no screen, no clock
 * and no store. The same events on the same floor give the same steps.
 *
 * The host sends events, draws `guides`, shows `preview` as a gesture, makes `commit` one undo step, writes `hints` in
 * the foot and reads `says` out. A tool is put down by `cancel`: it is then as it was when it was taken up.
 */
import type { Floor, FloorFile, Point } from '../../core/floor/index.ts';
import type { Planned } from '../edits/edit.ts';
import type { CatalogueEntry } from '../edits/furniture-pieces.ts';
import type { SnapSettings } from '../snapping/snap-kinds.ts';
import type { ThingKind } from '../things.ts';
import type { Guide } from './guide.ts';
import type { Intent } from './intent.ts';

export type ToolId =
  | 'select'
  | 'room'
  | 'split'
  | 'opening'
  | 'furniture'
  | 'detector'
  | 'group'
  | 'zone'
  | 'source'
  | 'workplace'
  | 'luminaire'
  | 'measure'
  /** The picture under the plan; taken up from its dialog. */
  | 'underlay';

export interface Modifiers {
  readonly shift: boolean;
  readonly alt: boolean;
  /** Ctrl, or the command key. */
  readonly ctrl: boolean;
}

export interface PointerToolEvent {
  /** `pointer-cancel`: the press is taken back, as when a second finger begins a pinch; what was set before stays. */
  readonly type: 'pointer-down' | 'pointer-move' | 'pointer-up' | 'pointer-cancel';
  /** Where on the floor, metres. */
  readonly at: Point;
  readonly metresPerPixel: number;
  readonly modifiers: Modifiers;
  readonly pointerType: 'mouse' | 'pen' | 'touch';
  /** The thing drawn under the pointer where the view is not a plan; null: none; left out: the tool looks in plan. */
  readonly over?: string | null;
}

export interface KeyToolEvent {
  readonly type: 'key';
  /** As a keyboard event names it: `Enter`, `ArrowLeft`, `a`, `5`. */
  readonly key: string;
  readonly modifiers: Modifiers;
}

/** Text that came at once: pasted, dictated, or by an on-screen keyboard. */
export interface TextToolEvent {
  readonly type: 'text';
  readonly text: string;
}

export interface CancelToolEvent {
  readonly type: 'cancel';
}

export type ToolEvent = PointerToolEvent | KeyToolEvent | TextToolEvent | CancelToolEvent;

export type Units = 'metres' | 'feet';

/** All a tool may know. */
export interface ToolContext {
  /** The committed floor, as written and resolved. */
  readonly file: FloorFile;
  readonly floor: Floor;
  readonly selection: readonly string[];
  /** Where the hand was last, by pointer or by keys; a tool taken up begins there. */
  readonly pointer: Point | null;
  /** Of the view as it is. */
  readonly metresPerPixel: number;
  readonly snapping: SnapSettings;
  /** Metres an arrow key moves the hand. */
  readonly step: number;
  readonly units: Units;
  /** Pieces to choose from; handed in, as the catalogue is data. */
  readonly catalogue: readonly CatalogueEntry[];
  /** Kinds of things that are not to be changed by hand. */
  readonly locked: ReadonlySet<ThingKind>;
}

/** What is to be seen of a tool in some state. */
export interface Shown {
  /** For the foot: what the tool does now, and the keys that go with it. */
  readonly hints: string;
  readonly guides: readonly Guide[];
  /** The floor as it would be; its recipe belongs to the context's file. */
  readonly preview: Planned | null;
  /** Where the hand is. */
  readonly cursor: Point | null;
}

/** An edit to be made as one step of the history. */
export interface Commit extends Planned {
  /** The same as data. */
  readonly intent: Intent;
}

export interface Step<State> extends Shown {
  readonly state: State;
  readonly commit: Commit | null;
  /** Ids to select in place of the others; null: leave the selection. */
  readonly select: readonly string[] | null;
  /** A sentence for the live region and, when something was refused, for the foot. */
  readonly says: string | null;
  /** Whether `says` tells why something was not done. */
  readonly refused: boolean;
  /** Whether the tool made use of the event; others may have the key. */
  readonly used: boolean;
  /** Cancelled with nothing in hand: the tool is put away. */
  readonly leave: boolean;
}

export interface Tool<State> {
  readonly id: ToolId;
  start(context: ToolContext): State;
  on(state: State, event: ToolEvent, context: ToolContext): Step<State>;
  /** What is to be seen in this state: for the tool just taken up, and when the floor has changed. */
  show(state: State, context: ToolContext): Shown;
}
