/** What keeping floors asks of the browser. Handed in, so that a test can fill the disk, stop the clock or open a second tab. */

export type KeyPart = string | number;
/** Keys are ordered part by part, numbers before words. */
export type Key = readonly KeyPart[];

/** Both ends included. */
export interface KeyRange {
  readonly from: Key;
  readonly to: Key;
}

export interface KeptRecord {
  readonly key: Key;
  readonly value: unknown;
}

/** What one write does: all of it or nothing. */
export interface Batch {
  /** Records that must not be there yet: when one is, nothing of the batch is done. */
  readonly add: readonly KeptRecord[];
  readonly put: readonly KeptRecord[];
  readonly remove: readonly KeyRange[];
}

/**
 * `taken`: a key to add was there already. `full`: no room is left. `gone`: the records were closed and may have been
 * removed meanwhile, so nothing written before can be built upon. `unavailable`: the browser keeps nothing here.
 */
export type WriteFailure = 'taken' | 'full' | 'gone' | 'unavailable' | 'failed';
export type WriteOutcome = 'done' | WriteFailure;

/** Records that outlive the page. */
export interface Records {
  /** Values are copies. Rejects when nothing can be read. */
  read(range: KeyRange): Promise<readonly KeptRecord[]>;
  /** Copies the batch and hands it on before it returns; answers once it is on the disk, or why it is not. Never rejects. */
  write(batch: Batch): Promise<WriteOutcome>;
}

/** The right to change one floor: one tab has it at a time. */
export interface Claim {
  release(): void;
}

export type Cancel = () => void;

export interface Claims {
  /** Null: another tab has it. `lost` is called once when another tab takes it over. */
  claim(floorId: string, lost: () => void): Promise<Claim | null>;
  takeOver(floorId: string, lost: () => void): Promise<Claim>;
  /** Claims it as soon as it is free. */
  claimLater(floorId: string, lost: () => void, got: (claim: Claim) => void): Cancel;
}

/** Words between the tabs of one browser. What a tab posts it does not hear itself. */
export interface Channel {
  post(message: TabMessage): void;
  listen(hear: (message: TabMessage) => void): void;
}

export type TabMessage =
  /** The floor's log has grown. */
  | { readonly type: 'kept'; readonly floorId: string }
  /** Between claims without locks: who has the floor, somebody has, it is taken over, it is free. */
  | { readonly type: 'who' | 'held' | 'taken' | 'freed'; readonly floorId: string };

export interface Clock {
  /** Milliseconds since 1970. */
  now(): number;
  after(ms: number, work: () => void): Cancel;
}

export interface KeeperPlatform {
  readonly records: Records;
  readonly claims: Claims;
  readonly channel: Channel;
  readonly clock: Clock;
  /** A word no other floor has. */
  newId(): string;
  /** Runs `work` when the browser has nothing better to do. */
  whenIdle(work: () => void): void;
}
