/**
 * Floors on their way to a worker: after the first only what differs is sent. A floor of 10,000 m² takes some 30 ms to
 * clone, a moved piece none; and what is not sent stays the very object, so that the worker knows what has not changed.
 */
import type { Floor } from '../core/floor/index.ts';
import type { Request } from './protocol.ts';

/** Jobs whose input is a floor and nothing else. */
type FloorRequest = Extract<Request, { readonly input: Floor }>;

/** A member that is another: the whole of it, or of a list where each item comes from. */
type Member =
  | { readonly set: unknown }
  /** Per item its place in the list before, or −1 for the next of `fresh`. */
  | { readonly from: Int32Array; readonly fresh: readonly unknown[] };

interface FloorChange {
  readonly members: Readonly<Record<string, Member>>;
  readonly dropped: readonly string[];
}

/** A request as it is sent. */
export type Wired = Request | (Omit<FloorRequest, 'input'> & { readonly change: FloorChange });

/** The sending side of one worker. */
export function createFloorSender(): (request: Request, send: (wired: Wired) => void) => void {
  let sent: Floor | null = null;
  return (request, send) => {
    if (!isFloorRequest(request)) {
      send(request);
      return;
    }
    const { input, ...rest } = request;
    send(sent === null ? request : { ...rest, change: listChanges(sent, input) });
    // What could not be sent has thrown, and the other side does not know it.
    sent = input;
  };
}

/** The receiving side: hands out requests as they were before they were sent. */
export function createFloorReceiver(): (wired: Wired) => Request {
  let received: Floor | null = null;
  return (wired) => {
    let request: Request;
    if ('change' in wired) {
      if (received === null) throw new Error('A change of a floor came before the floor.');
      const { change, ...rest } = wired;
      request = { ...rest, input: applyChanges(received, change) };
    } else request = wired;
    if (isFloorRequest(request)) {
      received = request.input;
      freezeLists(received);
    }
    return request;
  };
}

function isFloorRequest(request: Request): request is FloorRequest {
  return (
    request.type === 'check' || request.type === 'cover' || request.type === 'stress' || request.type === 'moveRoom'
  );
}

function listChanges(before: Floor, next: Floor): FloorChange {
  const was = before as unknown as Readonly<Record<string, unknown>>;
  const members: Record<string, Member> = {};
  for (const [key, value] of Object.entries(next)) {
    if (Object.is(was[key], value) && Object.hasOwn(was, key)) continue;
    const old = was[key];
    members[key] = Array.isArray(old) && Array.isArray(value) ? compareLists(old, value) : { set: value };
  }
  return { members, dropped: Object.keys(before).filter((key) => !Object.hasOwn(next, key)) };
}

function compareLists(before: readonly unknown[], next: readonly unknown[]): Member {
  const from = new Int32Array(next.length);
  const fresh: unknown[] = [];
  let places: Map<unknown, number> | null = null;
  next.forEach((item, k) => {
    if (k < before.length && Object.is(before[k], item)) {
      from[k] = k;
      return;
    }
    places ??= new Map(before.map((each, place) => [each, place]));
    const place = typeof item === 'object' && item !== null ? places.get(item) : undefined;
    from[k] = place ?? -1;
    if (place === undefined) fresh.push(item);
  });
  return { from, fresh };
}

function applyChanges(before: Floor, { members, dropped }: FloorChange): Floor {
  const next: Record<string, unknown> = { ...before };
  for (const key of dropped) delete next[key];
  for (const [key, member] of Object.entries(members)) {
    if ('set' in member) {
      next[key] = member.set;
      continue;
    }
    const list = next[key] as readonly unknown[];
    let reached = 0;
    next[key] = Array.from(member.from, (place) => (place < 0 ? member.fresh[reached++] : list[place]));
  }
  return next as unknown as Floor;
}

/** Lists that are frozen are known not to change, and are indexed once. */
function freezeLists(floor: Floor): void {
  for (const member of Object.values(floor)) if (Array.isArray(member)) Object.freeze(member);
}
