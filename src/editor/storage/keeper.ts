/**
 * Keeps the open floor, so that it is there again whatever happens to the page, and sees to it that one tab alone changes
 * it. The editor goes on when nothing can be kept; then that is said.
 */
import { createStore, type StoreApi } from 'zustand/vanilla';
import { serialiseFloor } from '../../core/floor/index.ts';
import { cancelGesture, showKept } from '../history.ts';
import { type EditorState, type EditorStore, hasUnsavedChanges, replaceDocument } from '../store.ts';
import { refuse, say } from '../view.ts';
import { digestText } from './digest.ts';
import { type LogState, readLog } from './floor-log.ts';
import { type KeptFloor, listSpareHeads, readHeads, removalOf } from './kept-floor.ts';
import { acceptFile, historyOf, type KeptStart, UnreadableFloor } from './kept-start.ts';
import { toHistory } from './line.ts';
import type { Cancel, Claim, KeeperPlatform } from './platform.ts';
import { sayTrouble, type Trouble } from './trouble.ts';
import { createWriter, type FloorWriter, type Tidings, type WriterHead } from './writer.ts';

export interface KeeperState {
  /** Why changes are not kept; null: they are. */
  readonly trouble: Trouble | null;
  /** Whether another tab has the open floor: it had it before, or it has taken it over. */
  readonly elsewhere: 'no' | 'before' | 'taken';
  /** What is shown holds a change that came too late to be kept: another tab had taken the floor over. */
  readonly isUnkept: boolean;
  /** The floor the page came back to, when it holds changes that are in no file; null once that is known. */
  readonly returned: KeptFloor | null;
}

export interface Keeper {
  readonly state: StoreApi<KeeperState>;
  /** The floor that was open last; null when there is none that can be read, or not soon. Never rejects. */
  readLast(): Promise<KeptStart | null>;
  /** Keeps what the store holds from now on. `start`: what the store was made of, when it was read here. */
  follow(store: EditorStore, start: KeptStart | null): void;
  /** All kept floors, the last used first; none when they cannot be read. */
  list(): Promise<readonly KeptFloor[]>;
  /** Id of the open floor. */
  openId(): string | null;
  /** Puts a kept floor in the place of the open one. */
  open(floor: KeptFloor): Promise<void>;
  /** Removes a kept floor. False: it is open in a tab, or the records refuse. */
  remove(id: string): Promise<boolean>;
  /** Takes the open floor over from the tab that has it. */
  takeOver(): Promise<void>;
  /** The return is known. */
  dismissReturn(): void;
}

/** Whether closing the page now would lose something. */
export function isAtRisk(kept: KeeperState, state: EditorState): boolean {
  return (kept.trouble !== null || kept.isUnkept) && hasUnsavedChanges(state);
}

interface OpenFloor {
  readonly id: string;
  /** Null: the floor is only looked at. */
  writer: FloorWriter | null;
  claim: Claim | null;
  cancelClaim: Cancel | null;
  /** While the floor is looked at: its log as far as it is shown. */
  log: LogState | null;
}

/** Milliseconds the page waits for the floor that was open last. */
const PATIENCE = 8000;

const UNTROUBLED: KeeperState = { trouble: null, elsewhere: 'no', isUnkept: false, returned: null };

export function createKeeper(platform: KeeperPlatform): Keeper {
  const { records, claims, channel, clock } = platform;
  const by = platform.newId();
  const state = createStore<KeeperState>()(() => UNTROUBLED);
  let store: EditorStore;
  let open: OpenFloor | null = null;
  /** The keeper itself is changing what the store holds. */
  let isShowing = false;
  let isCatchingUp = false;
  /** What to say once there is somebody to say it to. */
  let news: string | null = null;

  function show(work: () => void): void {
    isShowing = true;
    try {
      work();
    } finally {
      isShowing = false;
    }
  }

  function startWriter(head: WriterHead, log: LogState | null): FloorWriter {
    const writer = createWriter({
      platform,
      by,
      head,
      log,
      told: (tidings) => hear(writer, tidings),
      taken: () => void hearTaken(head, writer),
    });
    writer.record(store.getState());
    return writer;
  }

  /** Reads a floor and claims it if it is free; null: it has no log. */
  async function read(head: KeptFloor): Promise<KeptStart | null> {
    const log = await readLog(records, head.id);
    if (log === null) return null;
    const file = acceptFile(log, head.name);
    return { head, log, file, claim: await claims.claim(head.id, () => void lose(head.id)) };
  }

  /** The store holds the floor as it was read: keeps it from here on, or follows the tab that has it. */
  function attach({ head, log, claim }: KeptStart): void {
    open = { id: head.id, writer: null, claim, cancelClaim: null, log };
    state.setState({ ...UNTROUBLED, elsewhere: claim === null ? 'before' : 'no' }, true);
    if (claim === null) waitForClaim(open);
    else open.writer = startWriter(head, log);
  }

  /** A floor that was not kept before is in the store. */
  function begin(): void {
    leave();
    const { file, fileName } = store.getState();
    const digest = digestText(serialiseFloor(file));
    const origin = fileName === null ? null : { how: 'opened' as const, fileName };
    const head = { id: platform.newId(), origin, digest, changedAt: clock.now() };
    const begun: OpenFloor = { id: head.id, writer: null, claim: null, cancelClaim: null, log: null };
    open = begun;
    state.setState(UNTROUBLED, true);
    begun.writer = startWriter(head, null);
    void claims
      .claim(head.id, () => void lose(head.id))
      .then((claim) => {
        if (open === begun) begun.claim = claim;
        else claim?.release();
      });
    void begun.writer.settle().then(() => tidyUp(begun.id, head));
  }

  /** Lets go of the open floor. Its claim goes after its last write has arrived. */
  function leave(): void {
    if (open === null) return;
    const { writer, claim, cancelClaim } = open;
    open = null;
    cancelClaim?.();
    void (writer?.finish() ?? Promise.resolve()).then(() => claim?.release());
  }

  /** Removes floors that hold nothing a file does not hold: the same one opened before, and the oldest beyond the limit. */
  async function tidyUp(id: string, opened: WriterHead): Promise<void> {
    const heads = await list();
    for (const { id: spare } of listSpareHeads(heads, id, opened)) await remove(spare);
  }

  function hear(writer: FloorWriter, tidings: Tidings): void {
    if (tidings === 'done') channel.post({ type: 'kept', floorId: writer.id });
    if (open === null || writer.id !== open.id) {
      if (tidings !== 'done' && tidings !== 'slow')
        say(store, 'The last change of the floor before could not be kept.');
      return;
    }
    const { trouble } = state.getState();
    if (tidings !== 'done') {
      if (trouble?.kind !== tidings) state.setState({ trouble: sayTrouble(tidings) });
    } else if (trouble !== null) {
      state.setState({ trouble: null });
      say(store, 'The browser keeps all changes again.');
    }
  }

  /**
   * Another tab has written under the number that was to be the next. It has the floor then, unless what it wrote was on
   * its way when the floor was taken over: before this tab's first entry, which is tried again, or after it, which counts for nothing.
   */
  async function hearTaken(head: WriterHead, writer: FloorWriter): Promise<void> {
    const taken = open;
    if (taken === null || taken.writer !== writer) return;
    if (taken.claim !== null && !writer.hasArrived()) {
      const { file } = store.getState();
      if (!(await become(taken))) await lose(taken.id);
      else if (store.getState().file !== file) say(store, 'The floor is shown as the other tab has left it.');
      return;
    }
    const log = await readLog(records, taken.id).catch(() => null);
    if (open !== taken || taken.writer !== writer) return;
    if (log?.last.by === by) taken.writer = startWriter(head, log);
    else await lose(taken.id);
  }

  /** Another tab has the floor from here on: it can still be looked at. */
  async function lose(id: string): Promise<void> {
    const lost = open;
    if (lost === null || lost.id !== id || lost.writer === null) return;
    const { writer } = lost;
    lost.writer = null;
    writer.stop();
    cancelGesture(store);
    show(() => store.setState({ isLookOnly: true, past: [], future: [] }));
    state.setState({ elsewhere: 'taken', returned: null });
    await writer.settle();
    lost.claim?.release();
    lost.claim = null;
    lost.log = writer.log();
    if (open !== lost) return;
    if (lost.log === null || toHistory(lost.log.line).file !== store.getState().file)
      state.setState({ isUnkept: true });
    waitForClaim(lost);
    await catchUp();
  }

  /** Takes a floor that another tab lets go of; not while a change stands here that would be gone by it. */
  function waitForClaim(waiting: OpenFloor): void {
    if (state.getState().isUnkept) return;
    waiting.cancelClaim = claims.claimLater(
      waiting.id,
      () => void lose(waiting.id),
      (claim) => {
        waiting.claim = claim;
        void become(waiting).then((has) => {
          if (has) say(store, 'The other tab has let go of this floor. It can be changed here.');
        });
      },
    );
  }

  /** The claim is here: shows what was kept last, and writes on from it. False: it could not be read. */
  async function become(mine: OpenFloor): Promise<boolean> {
    mine.cancelClaim?.();
    mine.cancelClaim = null;
    try {
      const head = (await readHeads(records)).find(({ id }) => id === mine.id);
      const log = await readLog(records, mine.id, mine.log);
      if (head === undefined || log === null) throw new Error('The floor is not kept any more.');
      if (open !== mine) return false;
      acceptFile(log, head.name);
      mine.log = null;
      show(() =>
        showKept(store, { ...toHistory(log.line), fileName: head.origin?.fileName ?? null, isLookOnly: false }),
      );
      state.setState({ elsewhere: 'no', isUnkept: false });
      mine.writer = startWriter(head, log);
      return true;
    } catch (error) {
      mine.claim?.release();
      mine.claim = null;
      sayUnreadable(error);
      return false;
    }
  }

  /** Shows what the tab that has the floor has made of it. */
  async function catchUp(): Promise<void> {
    const looking = open;
    if (looking === null || looking.writer !== null || state.getState().isUnkept || isCatchingUp) return;
    isCatchingUp = true;
    try {
      for (;;) {
        const before = looking.log;
        const log = await readLog(records, looking.id, before);
        if (open !== looking || looking.writer !== null || log === null || log.seq === before?.seq) return;
        const { file, savedFile } = toHistory(log.line);
        acceptFile(log, file.name);
        looking.log = log;
        const { fileName } = store.getState();
        show(() => showKept(store, { file, savedFile, past: [], future: [], fileName, isLookOnly: true }));
      }
    } catch (error) {
      sayUnreadable(error);
    } finally {
      isCatchingUp = false;
    }
  }

  async function findLast(): Promise<KeptStart | null> {
    let last: KeptFloor | undefined;
    try {
      last = (await readHeads(records))[0];
      return last === undefined ? null : await read(last);
    } catch {
      // Records that cannot be read tell so at the first write.
      if (last !== undefined) news = `${last.name}, kept in this browser, cannot be read.`;
      return null;
    }
  }

  function sayUnreadable(error: unknown): void {
    if (error instanceof UnreadableFloor) refuse(store, error.refusal);
    else say(store, 'What this browser keeps of the floor cannot be read.');
  }

  async function list(): Promise<readonly KeptFloor[]> {
    try {
      return await readHeads(records);
    } catch {
      return [];
    }
  }

  async function remove(id: string): Promise<boolean> {
    if (open?.id === id) return false;
    const claim = await claims.claim(id, () => {});
    if (claim === null) return false;
    const outcome = await records.write(removalOf(id));
    claim.release();
    open?.writer?.retry();
    return outcome === 'done';
  }

  channel.listen((message) => {
    if (message.type === 'kept' && message.floorId === open?.id) void catchUp();
  });

  return {
    state,
    list,
    remove,
    openId: () => open?.id ?? null,
    readLast: () =>
      new Promise((resolve) => {
        let isLate = false;
        const cancel = clock.after(PATIENCE, () => {
          isLate = true;
          news = 'What this browser keeps comes late. Recent floors are in Files.';
          resolve(null);
        });
        void findLast().then((start) => {
          cancel();
          if (isLate) start?.claim?.release();
          resolve(start);
        });
      }),
    follow(followed, start) {
      store = followed;
      if (start === null) begin();
      else {
        store.setState({ ...historyOf(start), fileName: start.head.origin?.fileName ?? null });
        attach(start);
        if (start.head.isChanged) state.setState({ returned: start.head });
      }
      if (news !== null) say(store, news);
      store.subscribe((next, before) => {
        if (isShowing) return;
        if (next.file !== before.file && next.past.length === 0 && next.future.length === 0) begin();
        else if (isKept(next, before)) {
          open?.writer?.record(next);
          if (state.getState().returned !== null) state.setState({ returned: null });
        }
      });
    },
    async open(floor) {
      if (floor.id === open?.id) return;
      try {
        const start = await read(floor);
        if (start === null) throw new Error('The floor has no log.');
        leave();
        show(() => {
          replaceDocument(store, start.file, floor.origin?.fileName ?? null);
          store.setState(historyOf(start));
        });
        attach(start);
      } catch (error) {
        sayUnreadable(error);
      }
    },
    async takeOver() {
      const wanted = open;
      if (wanted === null || wanted.writer !== null) return;
      wanted.cancelClaim?.();
      wanted.cancelClaim = null;
      wanted.claim = await claims.takeOver(wanted.id, () => void lose(wanted.id));
      await become(wanted);
    },
    dismissReturn: () => state.setState({ returned: null }),
  };
}

function isKept(next: EditorState, before: EditorState): boolean {
  return (
    next.file !== before.file ||
    next.past !== before.past ||
    next.future !== before.future ||
    next.savedFile !== before.savedFile ||
    next.fileName !== before.fileName
  );
}
