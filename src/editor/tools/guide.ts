/** What the scene draws beside the floor while a tool works: signs and lines in floor coordinates, metres. */
import type { Point, Ring, RoomId } from '../../core/floor/index.ts';

/** What a mark stands on; `hand` is a free place, `handle` and `held` are handles at rest and in hand, `turn` and `turning` those that turn. */
export type GuideMark =
  | 'hand'
  | 'corner'
  | 'midpoint'
  | 'edge'
  | 'crossing'
  | 'centre'
  | 'tile'
  | 'handle'
  | 'held'
  | 'turn'
  | 'turning'
  | 'fault';

/**
 * `drawn` is what will be set, `help` shows what is aligned, `path` the way from the old place, `fault` what cannot stay,
 * `cable` what runs above the ceiling.
 */
export type GuideStyle = 'drawn' | 'help' | 'path' | 'fault' | 'cable';

export type Guide =
  /** `words`: what it stands on, such as `corner of Shelf 3`; left out: nothing is written beside it. */
  | { readonly kind: 'mark'; readonly mark: GuideMark; readonly at: Point; readonly words?: string }
  | { readonly kind: 'line'; readonly style: GuideStyle; readonly from: Point; readonly to: Point }
  /** A dimension: its line and what is written on it. */
  | { readonly kind: 'length'; readonly from: Point; readonly to: Point; readonly text: string }
  | { readonly kind: 'outline'; readonly style: GuideStyle; readonly ring: Ring; readonly isClosed: boolean }
  | { readonly kind: 'circle'; readonly style: GuideStyle; readonly at: Point; readonly radius: number }
  /** Words beside a place, without a sign. */
  | { readonly kind: 'words'; readonly at: Point; readonly text: string }
  /** A direction, degrees counter-clockwise from +x. */
  | { readonly kind: 'arrow'; readonly at: Point; readonly direction: number }
  /** The joints of a room's ceiling tiles, near a place. */
  | { readonly kind: 'tiles'; readonly room: RoomId; readonly at: Point }
  /** The frame of a selection, between two opposite corners. */
  | { readonly kind: 'frame'; readonly from: Point; readonly to: Point };
