/** Telling apart what changed between two readings of a floor that share no object. */

type Plain = { [key: string]: unknown };

/**
 * Puts the members of an earlier reading wherever a later one says the same, so that what is compared by identity
 * afterwards differs only where the floor does. Things in lists are told by their `id` when the lists differ in length.
 * @param next plain data owned by the caller: its members are replaced in place
 * @returns `before` itself when nothing differs
 */
export function shareMembers<T>(before: T, next: T): T {
  return share(before, next) as T;
}

function share(before: unknown, next: unknown): unknown {
  if (Object.is(before, next)) return before;
  if (Array.isArray(before) && Array.isArray(next)) return shareList(before, next);
  if (isPlain(before) && isPlain(next)) return shareObject(before, next);
  return next;
}

function shareList(before: readonly unknown[], next: unknown[]): readonly unknown[] {
  const byId = before.length === next.length ? null : new Map(before.map((each) => [idOf(each), each]));
  let same = before.length === next.length;
  for (let k = 0; k < next.length; k++) {
    next[k] = share(byId === null ? before[k] : byId.get(idOf(next[k])), next[k]);
    same &&= Object.is(next[k], before[k]);
  }
  return same ? before : next;
}

function shareObject(before: Plain, next: Plain): Plain {
  const keys = Object.keys(next);
  let same = keys.length === Object.keys(before).length;
  for (const key of keys) {
    next[key] = share(before[key], next[key]);
    same &&= Object.hasOwn(before, key) && Object.is(next[key], before[key]);
  }
  return same ? before : next;
}

function idOf(value: unknown): unknown {
  return isPlain(value) ? value.id : undefined;
}

function isPlain(value: unknown): value is Plain {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
