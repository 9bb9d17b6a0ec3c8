/** One change between two states of a floor, and how a reader knows the thing that changed. */

/** Which way a change goes for people: `same` says that it is neither. */
export type Turn = 'better' | 'worse' | 'same';

/** One change. `from` and `to` are null where the thing is not there. */
export interface Change {
  readonly turn: Turn;
  readonly subject:
    | 'workplace'
    | 'zone'
    | 'entrance'
    | 'plane'
    | 'finding'
    | 'detector'
    | 'furniture'
    | 'room'
    | 'opening'
    | 'source'
    | 'group'
    | 'floor';
  /** The id of what changed; of a plane its name, of a finding its code. */
  readonly id: string;
  readonly from: string | null;
  readonly to: string | null;
  /** The change in a sentence. */
  readonly text: string;
}

export interface Named {
  readonly id: string;
  readonly name: string;
}

/** How a reader knows a thing: by its name, with the id where that says more. */
export function namer(...lists: readonly (readonly Named[])[]): (id: string) => string {
  const names = new Map(lists.flat().map(({ id, name }) => [id, name.trim()]));
  return (id) => {
    const name = names.get(id) ?? '';
    return name === '' || name === id ? id : `${name} (${id})`;
  };
}
