/**
 * Claims for browsers without locks: tabs ask one another. Two tabs that ask in the same moment may both be told that a
 * floor is free; then the numbers of its log part them at the second one's first write.
 */
import type { Cancel, Channel, Claim, Claims, Clock } from './platform.ts';

/** Milliseconds in which a tab that has the floor answers. */
const ANSWER = 250;
/** Milliseconds between two questions whether a floor has become free: a tab that crashed does not tell. */
const ASK_AGAIN = 3000;

export function createChannelClaims(channel: Channel, clock: Clock): Claims {
  const held = new Map<string, { readonly lost: () => void }>();
  const hopes = new Map<string, Set<() => void>>();
  const askers = new Map<string, Set<() => void>>();

  channel.listen(({ type, floorId }) => {
    const mine = held.get(floorId);
    if (type === 'who' && mine !== undefined) channel.post({ type: 'held', floorId });
    else if (type === 'held') for (const hear of askers.get(floorId) ?? []) hear();
    else if (type === 'freed') for (const ask of hopes.get(floorId) ?? []) ask();
    else if (type === 'taken' && mine !== undefined) {
      held.delete(floorId);
      mine.lost();
    }
  });

  function hold(floorId: string, lost: () => void): Claim {
    const mine = { lost };
    held.set(floorId, mine);
    return {
      release() {
        if (held.get(floorId) !== mine) return;
        held.delete(floorId);
        channel.post({ type: 'freed', floorId });
      },
    };
  }

  function claim(floorId: string, lost: () => void): Promise<Claim | null> {
    if (held.has(floorId)) return Promise.resolve(null);
    return new Promise((resolve) => {
      const end = (claimed: Claim | null): void => {
        cancel();
        removeFrom(askers, floorId, hear);
        resolve(claimed);
      };
      const hear = (): void => end(null);
      addTo(askers, floorId, hear);
      const cancel = clock.after(ANSWER, () => end(held.has(floorId) ? null : hold(floorId, lost)));
      channel.post({ type: 'who', floorId });
    });
  }

  return {
    claim,
    takeOver(floorId, lost) {
      channel.post({ type: 'taken', floorId });
      return Promise.resolve(hold(floorId, lost));
    },
    claimLater(floorId, lost, got) {
      let isOver = false;
      let cancel: Cancel | null = null;
      const ask = (): void => {
        cancel?.();
        cancel = clock.after(ASK_AGAIN, ask);
        void claim(floorId, lost).then((claimed) => {
          if (claimed === null) return;
          if (isOver) claimed.release();
          else {
            stop();
            got(claimed);
          }
        });
      };
      const stop = (): void => {
        isOver = true;
        cancel?.();
        removeFrom(hopes, floorId, ask);
      };
      addTo(hopes, floorId, ask);
      cancel = clock.after(ASK_AGAIN, ask);
      return stop;
    },
  };
}

function addTo<Value>(sets: Map<string, Set<Value>>, key: string, value: Value): void {
  const set = sets.get(key) ?? new Set();
  set.add(value);
  sets.set(key, set);
}

function removeFrom<Value>(sets: Map<string, Set<Value>>, key: string, value: Value): void {
  sets.get(key)?.delete(value);
}
