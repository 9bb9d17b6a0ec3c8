/** A DXF file as read: lengths in drawing units, texts decoded, nothing judged yet. */
import type { Remark } from '../storey.ts';
import type { PlaneMap } from './plane.ts';

/** Arcs within a path, six numbers each: centre, first point, last point. Counter-clockwise or clockwise. */
export type Arcs = readonly number[];

interface Drawn {
  readonly layer: string;
  /** The entity's handle, or `#` and its number in the file where it has none. */
  readonly handle: string;
}

/** Whatever is drawn with lines, curves cut into short ones. */
export interface Path extends Drawn {
  readonly kind: 'path';
  /** The name of the entity in the file: LINE, LWPOLYLINE … */
  readonly entity: string;
  /** Flat x, y. */
  readonly points: readonly number[];
  readonly closed: boolean;
  readonly arcs: Arcs;
  /** Width of a wide polyline, 0 for others. */
  readonly width: number;
  /** Height of an upright face over the plan (thickness), 0 for none; above the drawing's zero plus `level`. */
  readonly rise: number;
}

/** One word or paragraph. */
export interface Words extends Drawn {
  readonly kind: 'words';
  readonly text: string;
  /** About the middle of the text. */
  readonly points: readonly number[];
  readonly size: number;
}

/** One use of a block. */
export interface Insert extends Drawn {
  readonly kind: 'insert';
  readonly block: string;
  readonly map: PlaneMap;
  /** Rows and columns of an array, and their distances along the insert's own axes. */
  readonly rows: number;
  readonly columns: number;
  readonly rowStep: number;
  readonly columnStep: number;
  /** Its visible attributes. */
  readonly words: readonly Words[];
}

export type Entity = Path | Words | Insert;

export interface Layer {
  readonly name: string;
  /** Off or frozen: not to be seen in the drawing. */
  readonly hidden: boolean;
}

export interface Block {
  readonly name: string;
  /** What to call it: of an unnamed copy of a dynamic block, the name of that block. */
  readonly title: string;
  readonly baseX: number;
  readonly baseY: number;
  readonly entities: Entity[];
  /** The file it stands for, where it is a reference that was not bound. */
  readonly outside: string;
}

export interface Drawing {
  /** `$ACADVER`, for example AC1018; empty when the file does not say. */
  readonly version: string;
  readonly encoding: string;
  /** `$INSUNITS`, null when the file does not say; 0 is "unitless". */
  readonly insUnits: number | null;
  /** `$MEASUREMENT`: 0 imperial, 1 metric. */
  readonly measurement: number | null;
  /** `$LUNITS`: 3 engineering and 4 architectural write feet and inches. */
  readonly lengthUnits: number | null;
  readonly layers: ReadonlyMap<string, Layer>;
  readonly blocks: ReadonlyMap<string, Block>;
  readonly entities: readonly Entity[];
  /** How many entities of each kind the file has, in blocks and out of them. */
  readonly counts: ReadonlyMap<string, number>;
  readonly remarks: readonly Remark[];
}

/** Names of layers and blocks are the same in upper and lower case. */
export function keyOf(name: string): string {
  return name.toUpperCase();
}
