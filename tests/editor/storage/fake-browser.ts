/** A browser of its own for a test: one disk, tabs that share it, locks, a channel and a clock turned by hand. */
import { validateFloor } from '../../../src/core/floor/index.ts';
import { createChannelClaims } from '../../../src/editor/storage/channel-claims.ts';
import { createKeeper, type Keeper } from '../../../src/editor/storage/keeper.ts';
import type {
  Batch,
  Channel,
  Claim,
  Claims,
  Clock,
  KeeperPlatform,
  KeptRecord,
  Key,
  Records,
  TabMessage,
  WriteFailure,
  WriteOutcome,
} from '../../../src/editor/storage/platform.ts';
import { type Computation, createEditorStore, type EditorStore } from '../../../src/editor/store.ts';
import { SMALL_FLOOR } from '../open-floor.ts';

interface Waiting {
  readonly batch: Batch;
  readonly answer: (outcome: WriteOutcome) => void;
}

export interface FakeDisk extends Records {
  /** Writes asked for so far. */
  readonly asked: number;
  /** What the next writes come to instead of being done. */
  fail(...failures: WriteFailure[]): void;
  /** Every write comes to this until it is null again; then all are done. */
  failAlways(failure: WriteFailure | null): void;
  /** Holds writes back until `goOn`, or for ever. */
  holdBack(): void;
  /** Reads wait for `goOn`. */
  holdReads(): void;
  /** Does this many of the writes held back; all without a number. */
  goOn(count?: number): void;
  /** As when the power goes: what is held back never comes to be. Answers how much that was. */
  crash(): number;
  /** Takes everything away, as a person does who clears the site's data. */
  clear(): void;
  listKeys(): readonly Key[];
}

function createDisk(): FakeDisk {
  let records: KeptRecord[] = [];
  let queue: Waiting[] = [];
  let failures: WriteFailure[] = [];
  let always: WriteFailure | null = null;
  let isHeld = false;
  let asked = 0;
  let reading = Promise.resolve();
  let goOnReading = (): void => {};

  function apply({ add, put, remove }: Batch): WriteOutcome {
    const failure = always ?? failures.shift();
    if (failure !== undefined) return failure;
    // IndexedDB knows no range that ends before it begins.
    if (remove.some(({ from, to }) => compare(from, to) > 0)) return 'failed';
    const without = (key: Key) => records.filter((record) => compare(record.key, key) !== 0);
    const left = records.filter(
      ({ key }) => !remove.some(({ from, to }) => compare(key, from) >= 0 && compare(key, to) <= 0),
    );
    if (add.some(({ key }) => left.some((record) => compare(record.key, key) === 0))) return 'taken';
    records = left;
    for (const record of [...add, ...put]) records = [...without(record.key), record];
    records.sort((a, b) => compare(a.key, b.key));
    return 'done';
  }

  function flush(count = queue.length): void {
    for (const { batch, answer } of queue.splice(0, count)) answer(apply(batch));
  }

  return {
    get asked() {
      return asked;
    },
    async read({ from, to }) {
      await reading;
      if (always === 'unavailable') throw new Error('The disk cannot be read.');
      return structuredClone(records.filter(({ key }) => compare(key, from) >= 0 && compare(key, to) <= 0));
    },
    write(batch) {
      asked += 1;
      const copy = structuredClone(batch);
      return new Promise((answer) => {
        queue.push({ batch: copy, answer });
        if (!isHeld) queueMicrotask(() => !isHeld && flush());
      });
    },
    fail: (...next) => void failures.push(...next),
    failAlways(failure) {
      always = failure;
      failures = [];
    },
    holdBack() {
      isHeld = true;
    },
    holdReads() {
      reading = new Promise((resolve) => {
        goOnReading = resolve;
      });
    },
    goOn(count) {
      flush(count);
      if (count === undefined) isHeld = false;
      goOnReading();
    },
    crash() {
      const lost = queue.length;
      queue = [];
      failures = [];
      isHeld = false;
      return lost;
    },
    clear() {
      records = [];
    },
    listKeys: () => records.map(({ key }) => key),
  };
}

/** Numbers before words, a shorter key before a longer one that begins alike: the order of IndexedDB. */
function compare(a: Key, b: Key): number {
  for (let i = 0; i < Math.min(a.length, b.length); i += 1) {
    const [x, y] = [a[i] as string | number, b[i] as string | number];
    if (typeof x !== typeof y) return typeof x === 'number' ? -1 : 1;
    if (x !== y) return x < y ? -1 : 1;
  }
  return a.length - b.length;
}

export interface Tab {
  readonly keeper: Keeper;
  readonly store: EditorStore;
  /** Ends without a word, as a crashed tab does. */
  kill(): void;
}

export interface FakeBrowser {
  readonly disk: FakeDisk;
  readonly clock: Clock & { turn(ms: number): void };
  /** Opens a tab: the floor that was open last, else the trial floor. */
  openTab(): Promise<Tab>;
  /** A tab whose floor is taken over hears of it only at `tellLosses`, as one that is busy does. */
  holdLosses(): void;
  tellLosses(): void;
  /** Runs what waits for a quiet moment. */
  rest(): Promise<void>;
}

/** Nothing here looks at coverage, and only some look for faults. */
const computationOf = (isTrusting: boolean): Computation => ({
  createCoverage: () => null,
  updateCoverage: () => null,
  findFaults(file) {
    const judged = isTrusting ? null : validateFloor(file);
    return judged === null || judged.ok ? [] : judged.faults;
  },
  schedule: (work) => work(),
});

/** `first`: what a tab shows that finds nothing kept. `isTrusting`: edits are not judged. `hasLocks`: false leaves the tabs to ask one another. */
export function openBrowser({
  disk = createDisk(),
  hasLocks = true,
  isTrusting = false,
  first = SMALL_FLOOR,
} = {}): FakeBrowser {
  const channels: { hear: (message: TabMessage) => void; isDead: () => boolean; of: number }[] = [];
  const locks = createLocks();
  const clock = createClock();
  let idle: (() => void)[] = [];
  let tabs = 0;
  let ids = 0;

  return {
    disk,
    clock,
    async openTab() {
      tabs += 1;
      const of = tabs;
      let isDead = false;
      const isGone = (): boolean => isDead;
      const channel: Channel = {
        post(message) {
          if (isDead) return;
          for (const each of channels)
            if (each.of !== of) queueMicrotask(() => !each.isDead() && each.hear(structuredClone(message)));
        },
        listen: (hear) => void channels.push({ hear, isDead: isGone, of }),
      };
      const platform: KeeperPlatform = {
        records: {
          read: disk.read,
          // A dead tab is told nothing any more.
          write: (batch) =>
            isDead
              ? new Promise(() => {})
              : disk.write(batch).then((outcome) => (isDead ? new Promise<never>(() => {}) : outcome)),
        },
        claims: hasLocks ? locks.open(of) : createChannelClaims(channel, clock),
        channel,
        clock,
        newId: () => {
          ids += 1;
          return `id-${String(ids).padStart(4, '0')}`;
        },
        whenIdle: (work) => void idle.push(() => !isDead && work()),
      };
      const keeper = createKeeper(platform);
      const reading = keeper.readLast();
      if (!hasLocks) await pass(clock, 300);
      const start = await reading;
      const store = createEditorStore(start?.file ?? first, computationOf(isTrusting), 'trial.json');
      keeper.follow(store, start);
      if (!hasLocks) await pass(clock, 300);
      return {
        keeper,
        store,
        kill() {
          isDead = true;
          locks.end(of);
        },
      };
    },
    holdLosses: locks.holdLosses,
    tellLosses: locks.tellLosses,
    async rest() {
      await quiet();
      const works = idle;
      idle = [];
      for (const work of works) work();
      await quiet();
    },
  };
}

/** Lets everything that waits for a promise go on. */
export async function quiet(): Promise<void> {
  await new Promise((resolve) => setImmediate(resolve));
}

async function pass(clock: { turn(ms: number): void }, ms: number): Promise<void> {
  await quiet();
  clock.turn(ms);
  await quiet();
}

function createClock(): FakeBrowser['clock'] {
  let now = Date.UTC(2031, 2, 3, 9);
  let timers: { readonly at: number; readonly work: () => void }[] = [];
  return {
    now: () => now,
    after(ms, work) {
      const timer = { at: now + ms, work };
      timers.push(timer);
      return () => {
        timers = timers.filter((each) => each !== timer);
      };
    },
    turn(ms) {
      now += ms;
      const due = timers.filter(({ at }) => at <= now);
      timers = timers.filter(({ at }) => at > now);
      for (const { work } of due) work();
    },
  };
}

/** Locks as a browser has them: they end with their tab, and can be stolen. */
function createLocks() {
  const holders = new Map<string, { readonly tab: number; readonly lost: () => void }>();
  let waiting: {
    readonly tab: number;
    readonly id: string;
    readonly lost: () => void;
    readonly got: (claim: Claim) => void;
  }[] = [];
  let losses: (() => void)[] | null = null;
  function hold(tab: number, id: string, lost: () => void): Claim {
    const holder = { tab, lost };
    holders.set(id, holder);
    return { release: () => holders.get(id) === holder && free(id) };
  }
  function free(id: string): void {
    holders.delete(id);
    const next = waiting.find((each) => each.id === id);
    if (next === undefined) return;
    waiting = waiting.filter((each) => each !== next);
    next.got(hold(next.tab, id, next.lost));
  }
  return {
    open: (tab: number): Claims => ({
      claim: async (id, lost) => (holders.has(id) ? null : hold(tab, id, lost)),
      async takeOver(id, lost) {
        const before = holders.get(id);
        const claim = hold(tab, id, lost);
        if (before !== undefined && losses === null) queueMicrotask(before.lost);
        else if (before !== undefined) losses?.push(before.lost);
        return claim;
      },
      claimLater(id, lost, got) {
        const wish = { tab, id, lost, got };
        waiting.push(wish);
        if (!holders.has(id)) free(id);
        return () => {
          waiting = waiting.filter((each) => each !== wish);
        };
      },
    }),
    holdLosses(): void {
      losses = [];
    },
    tellLosses(): void {
      for (const lost of losses ?? []) lost();
      losses = null;
    },
    end(tab: number): void {
      waiting = waiting.filter((each) => each.tab !== tab);
      for (const [id, holder] of [...holders]) if (holder.tab === tab) free(id);
    },
  };
}
