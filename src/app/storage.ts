/** What the browser gives for keeping floors: its database, its locks, a channel between tabs, a clock. */
import { createChannelClaims } from '../editor/storage/channel-claims.ts';
import type { Channel, Clock, KeeperPlatform, TabMessage } from '../editor/storage/platform.ts';
import { type EditorStore, hasUnsavedChanges } from '../editor/store.ts';
import { createLockClaims } from './storage-claims.ts';
import { createRecords } from './storage-records.ts';

export function createKeeperPlatform(): KeeperPlatform {
  const channel = createChannel();
  const clock: Clock = {
    now: () => Date.now(),
    after(ms, work) {
      const timer = setTimeout(work, ms);
      return () => clearTimeout(timer);
    },
  };
  // A page that is not served securely has no locks.
  const { locks } = navigator as { readonly locks?: LockManager };
  return {
    records: createRecords(),
    claims: locks === undefined ? createChannelClaims(channel, clock) : createLockClaims(locks),
    channel,
    clock,
    newId: createId,
    whenIdle: (work) => void ('requestIdleCallback' in window ? requestIdleCallback(work) : setTimeout(work, 200)),
  };
}

/** Asks the browser, once there is something to lose, not to clear what is kept when the disk grows full. */
export function askToStay(store: EditorStore): void {
  const stop = store.subscribe((state) => {
    if (!hasUnsavedChanges(state)) return;
    stop();
    // No answer changes anything here: what is not kept is told when it happens.
    void (navigator.storage as StorageManager | undefined)?.persist().catch(() => false);
  });
}

function createChannel(): Channel {
  if (!('BroadcastChannel' in window)) return { post: () => {}, listen: () => {} };
  const channel = new BroadcastChannel('lacuna');
  return {
    post: (message) => channel.postMessage(message),
    listen: (hear) => channel.addEventListener('message', ({ data }: MessageEvent<TabMessage>) => hear(data)),
  };
}

/** 128 random bits; `crypto.randomUUID` is missing where a page is not served securely. */
function createId(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, '0')).join('');
}
