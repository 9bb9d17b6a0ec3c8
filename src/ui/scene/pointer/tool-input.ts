/** The pointer on its way to the tool in hand: floor coordinates, the thing under it, the size of a px. */
import type { EditorStore } from '../../../editor/store.ts';
import { sendToolEvent, startTool } from '../../../editor/tool-run.ts';
import type { GuideMark } from '../../../editor/tools/guide.ts';
import type { PointerToolEvent } from '../../../editor/tools/tool.ts';
import { TARGET } from '../../tokens.ts';
import { heightOfThing, workLevel } from '../layers/work-level.ts';
import type { SceneView } from '../scene-view.ts';
import { floorOf } from './gestures.ts';
import { pickThing } from './pick.ts';
import { placeUnder } from './places.ts';

const HANDLES: ReadonlySet<GuideMark> = new Set<GuideMark>(['handle', 'held', 'turn', 'turning']);

/** A pointer as the browser tells it: px from the page's upper left corner. */
export interface PointerInfo {
  readonly x: number;
  readonly y: number;
  readonly shift: boolean;
  readonly alt: boolean;
  readonly ctrl: boolean;
  readonly pointerType: PointerToolEvent['pointerType'];
}

export function readPointerInfo(event: PointerEvent | MouseEvent, x: number, y: number): PointerInfo {
  const { shiftKey, altKey, ctrlKey, metaKey } = event;
  const type = 'pointerType' in event ? event.pointerType : 'mouse';
  const pointerType = type === 'touch' || type === 'pen' ? type : 'mouse';
  return { x, y, shift: shiftKey, alt: altKey, ctrl: ctrlKey || metaKey, pointerType };
}

export class ToolInput {
  private readonly store: EditorStore;
  private readonly view: SceneView;
  /** The height the pointer is read at while it is pressed, metres; null: it is not. */
  private level: number | null = null;
  /** The latest move of this frame, sent with the next one. */
  private latest: PointerInfo | null = null;
  private hasSent = false;
  /** What has happened before the tools were there. */
  private readonly early: PointerToolEvent[] = [];
  private readonly stop: () => void;
  private isGone = false;

  constructor(store: EditorStore, view: SceneView) {
    this.store = store;
    this.view = view;
    this.stop = store.subscribe((state, before) => {
      if (state.tool !== before.tool) this.early.length = 0;
      if (state.toolRun !== null && before.toolRun === null) queueMicrotask(() => this.sendEarly());
    });
  }

  /** Whether the tool in hand gets the pointer: one of those that draw, move and measure, and not on a walk. */
  get isDriving(): boolean {
    const { tool, camera } = this.store.getState();
    return tool !== 'probe' && tool !== 'mask' && camera !== 'walk';
  }

  get isPressed(): boolean {
    return this.level !== null;
  }

  /** Takes up the select tool where nothing has been taken up yet. */
  wake(): void {
    const { toolRun, tool } = this.store.getState();
    if (toolRun === null && tool === 'select') startTool(this.store, 'select');
  }

  down(pointer: PointerInfo): void {
    this.wake();
    const state = this.store.getState();
    const over = this.overOf(pointer);
    const isHandle = this.isOverHandle(pointer);
    this.level =
      state.tool === 'select' && over !== null && !isHandle
        ? heightOfThing(floorOf(this.store), over)
        : workLevel(state);
    // In plan the tool itself finds what lies under a place; elsewhere only the ray can tell.
    this.send('pointer-down', pointer, state.camera === 'plan' ? undefined : over);
  }

  move(pointer: PointerInfo): void {
    if (this.hasSent) {
      this.latest = pointer;
      return;
    }
    // One a frame: a pointer can be read more often than anything is drawn.
    this.hasSent = true;
    requestAnimationFrame(() => {
      this.hasSent = false;
      const { latest } = this;
      this.latest = null;
      if (latest !== null && !this.isGone) this.move(latest);
    });
    this.send('pointer-move', pointer);
  }

  up(pointer: PointerInfo): void {
    this.catchUp();
    this.send('pointer-up', pointer);
    this.level = null;
  }

  /** The press is taken back: a second finger, or the browser wants the pointer. */
  cancel(pointer: PointerInfo): void {
    this.latest = null;
    if (this.level !== null) this.send('pointer-cancel', pointer);
    this.level = null;
  }

  /** A press and a release in one place. */
  click(pointer: PointerInfo): void {
    this.down(pointer);
    this.up(pointer);
  }

  /** The id of what is under a px, as it is drawn; null on empty floor. */
  overOf({ x, y }: PointerInfo): string | null {
    const { rig, context } = this.view;
    const { hiddenKinds } = this.store.getState();
    return pickThing(floorOf(this.store), rig, context.frame, x, y, hiddenKinds);
  }

  /** Whether a thing is under a px. A wall is part of the floor: nobody means to drag a room by it. */
  isOverThing(pointer: PointerInfo): boolean {
    const id = this.overOf(pointer);
    return id !== null && !floorOf(this.store).rooms.some((room) => room.id === id);
  }

  /** Whether a handle of the tool in hand is under a px. */
  isOverHandle({ x, y }: PointerInfo): boolean {
    const state = this.store.getState();
    const { rig, context } = this.view;
    const level = workLevel(state);
    return (state.toolRun?.guides ?? []).some((guide) => {
      if (guide.kind !== 'mark' || !HANDLES.has(guide.mark)) return false;
      const at = rig.project(guide.at[0] - context.frame.x, guide.at[1] - context.frame.y, level);
      return at !== null && Math.hypot(at[0] - x, at[1] - y) <= TARGET.handleHit / 2;
    });
  }

  private catchUp(): void {
    const { latest } = this;
    this.latest = null;
    if (latest !== null) this.send('pointer-move', latest);
  }

  private send(type: PointerToolEvent['type'], pointer: PointerInfo, over?: string | null): void {
    const at = placeUnder(this.view, pointer, this.level ?? workLevel(this.store.getState()));
    if (at === null) return;
    const { shift, alt, ctrl, pointerType } = pointer;
    const metresPerPixel = 1 / this.view.rig.view.scale;
    const modifiers = { shift, alt, ctrl };
    const rest = over === undefined ? {} : { over };
    const event: PointerToolEvent = { type, at, metresPerPixel, modifiers, pointerType, ...rest };
    const { toolRun, tool } = this.store.getState();
    // Other tools have their events kept for them.
    if (toolRun === null && tool === 'select') this.early.push(event);
    else sendToolEvent(this.store, event);
  }

  private sendEarly(): void {
    for (const event of this.early.splice(0)) sendToolEvent(this.store, event);
  }

  dispose(): void {
    this.isGone = true;
    this.stop();
  }
}
