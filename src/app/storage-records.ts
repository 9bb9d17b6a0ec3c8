/** Records in IndexedDB: one store, keys of several parts, every write one transaction. */
import { promisifyRequest } from 'idb-keyval';
import type { Batch, KeptRecord, Key, KeyRange, Records, WriteOutcome } from '../editor/storage/platform.ts';

const NAME = 'lacuna';
const STORE = 'records';
/** Milliseconds between the end of a write and the word that its connection is closed. */
const CLOSE_LAG = 50;
/** Milliseconds before the records are opened again, twice as many after each time, and the most. */
const FIRST_WAIT = 50;
const LAST_WAIT = 800;

export function createRecords(): Records {
  let db: IDBDatabase | null = null;
  /** The connection was lost, and whoever writes does not know it yet. */
  let isGone = false;
  /** Null: to be opened when they are next asked for. */
  let opening: Promise<IDBDatabase> | null = open();
  /** How each write under way is told that it counts for nothing. */
  const underWay = new Set<() => void>();

  async function open(): Promise<IDBDatabase> {
    const opened = await openDatabase();
    const lose = (): void => {
      if (db !== opened) return;
      opened.close();
      db = null;
      opening = null;
      isGone = true;
      // A browser that clears its data may leave a write without any end.
      for (const giveUp of underWay) giveUp();
      underWay.clear();
    };
    opened.onclose = lose;
    opened.onversionchange = lose;
    db = opened;
    return opened;
  }

  /** What is refused once may be granted later. */
  function connect(): Promise<IDBDatabase> {
    opening ??= open();
    const asked = opening;
    return asked.catch((error: unknown) => {
      if (opening === asked) opening = null;
      throw error;
    });
  }

  /** Tells whoever writes that what was kept may be gone; the write after this opens the records anew. */
  function tellGone(): WriteOutcome {
    isGone = false;
    return 'gone';
  }

  /** Why a write under way has failed. A browser that clears its data ends the writes first and tells of the connection after. */
  async function explain(opened: IDBDatabase, error: unknown): Promise<WriteOutcome> {
    const failure = nameFailure(error);
    if (failure === 'failed') await new Promise((resolve) => setTimeout(resolve, CLOSE_LAG));
    return db === opened ? failure : tellGone();
  }

  /** The transaction is begun and ended in the turn it is asked for; the browser does the rest by itself. */
  function writeTo(opened: IDBDatabase, { add, put, remove }: Batch): Promise<WriteOutcome> {
    return new Promise((settle) => {
      const giveUp = (): void => settle(tellGone());
      const resolve = (outcome: WriteOutcome | Promise<WriteOutcome>): void => {
        underWay.delete(giveUp);
        settle(outcome);
      };
      underWay.add(giveUp);
      try {
        const transaction = opened.transaction(STORE, 'readwrite', { durability: 'strict' });
        transaction.oncomplete = () => resolve('done');
        transaction.onabort = () => resolve(explain(opened, transaction.error));
        const store = transaction.objectStore(STORE);
        for (const range of remove) store.delete(toKeyRange(range));
        for (const { key, value } of add) store.add(value, [...key]);
        for (const { key, value } of put) store.put(value, [...key]);
        transaction.commit();
      } catch (error) {
        const isClosed = error instanceof DOMException && error.name === 'InvalidStateError';
        resolve(isClosed ? 'gone' : nameFailure(error));
      }
    });
  }

  return {
    async read(range) {
      const opened = db ?? (await connect());
      const store = opened.transaction(STORE).objectStore(STORE);
      const [keys, values] = await Promise.all([
        promisifyRequest(store.getAllKeys(toKeyRange(range))),
        promisifyRequest<unknown[]>(store.getAll(toKeyRange(range))),
      ]);
      return keys.map((key, i): KeptRecord => ({ key: key as unknown as Key, value: values[i] }));
    },
    write(batch) {
      if (isGone) return Promise.resolve(tellGone());
      if (db !== null) return writeTo(db, batch);
      return connect().then(
        (opened) => writeTo(opened, batch),
        () => 'unavailable' as const,
      );
    },
  };
}

/** Opens the records. A browser that is just clearing its data breaks off: it is asked again a few times. */
async function openDatabase(): Promise<IDBDatabase> {
  for (let wait = FIRST_WAIT; ; wait *= 2) {
    try {
      const request = indexedDB.open(NAME, 1);
      request.onupgradeneeded = () => request.result.createObjectStore(STORE);
      return await promisifyRequest(request);
    } catch (error) {
      const isBrokenOff = error instanceof DOMException && error.name === 'AbortError';
      if (!isBrokenOff || wait > LAST_WAIT) throw error;
      await new Promise((resolve) => setTimeout(resolve, wait));
    }
  }
}

function toKeyRange({ from, to }: KeyRange): IDBKeyRange {
  return IDBKeyRange.bound([...from], [...to]);
}

function nameFailure(error: unknown): 'taken' | 'full' | 'failed' {
  const name = error instanceof DOMException ? error.name : '';
  if (name === 'ConstraintError') return 'taken';
  return name === 'QuotaExceededError' ? 'full' : 'failed';
}
