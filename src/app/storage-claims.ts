/** Claims on floors as locks of the browser: they end with their tab, however it ends. */
import type { Claim, Claims } from '../editor/storage/platform.ts';

/** Milliseconds for which a floor may still be held by the page that is being left, as on a reload. */
const GRACE = 250;

export function createLockClaims(locks: LockManager): Claims {
  function request(floorId: string, options: LockOptions, lost: () => void): Promise<Claim | null> {
    return new Promise((resolve) => {
      let state: 'asked' | 'held' | 'released' = 'asked';
      const hold = (): Promise<void> =>
        new Promise((release) => {
          state = 'held';
          resolve({
            release() {
              state = 'released';
              release();
            },
          });
        });
      locks.request(`lacuna floor ${floorId}`, options, hold).catch((error: unknown) => {
        const isDenied = error instanceof DOMException && ['AbortError', 'TimeoutError'].includes(error.name);
        if (state === 'held') lost();
        else if (state === 'asked') resolve(isDenied ? null : UNGUARDED);
      });
    });
  }
  return {
    claim: (floorId, lost) => request(floorId, { signal: AbortSignal.timeout(GRACE) }, lost),
    takeOver: async (floorId, lost) => (await request(floorId, { steal: true }, lost)) ?? UNGUARDED,
    claimLater(floorId, lost, got) {
      const waiting = new AbortController();
      void request(floorId, { signal: waiting.signal }, lost).then((claim) => {
        if (claim === null) return;
        if (waiting.signal.aborted) claim.release();
        else got(claim);
      });
      return () => waiting.abort();
    },
  };
}

/** Where the browser has locks and gives none, the numbers of the log alone keep tabs apart. */
const UNGUARDED: Claim = { release: () => {} };
