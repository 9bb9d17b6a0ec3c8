/** The drawing with its blocks put in place: every path and word in the drawing's own axes. */
import type { Block, Drawing, Entity, Insert, Path, Words } from './drawing.ts';
import { keyOf } from './drawing.ts';
import { applyX, applyY, compose, IDENTITY, mapPoints, type PlaneMap, scaleOf } from './plane.ts';
import type { Remarks } from './remarks.ts';

/** One use of a block, in place. */
export interface Use {
  readonly block: Block;
  /** The use it lies in, null in the model itself. */
  readonly parent: Use | null;
  readonly layer: string;
  /** The handles of the inserts on the way, joined: the same when the file is read again. */
  readonly key: string;
  readonly map: PlaneMap;
  readonly words: readonly Words[];
  /** Paths and words of this use and of the uses in it, as a range of the shapes. */
  readonly from: number;
  to: number;
}

/** A path or a word in place. */
export interface Shape {
  readonly drawn: Path | Words;
  readonly points: readonly number[];
  /** The layer that counts: things on layer 0 of a block lie on the layer of its use. */
  readonly layer: string;
  readonly use: Use | null;
}

/** Shapes of the whole drawing at most; blocks within blocks can multiply without end. */
const MOST_SHAPES = 1_000_000;
const MOST_USES = 300_000;
const MOST_VISITS = 3_000_000;
const MOST_DEPTH = 40;
const OUTSIDE = 'references to other files';

export interface Expanded {
  readonly shapes: readonly Shape[];
  readonly uses: readonly Use[];
}

export function expand(drawing: Drawing, remarks: Remarks): Expanded {
  const shapes: Shape[] = [];
  const uses: Use[] = [];
  let visits = 0;
  let full = false;
  const open = new Set<Block>();

  const tellFull = (): void => {
    if (!full)
      remarks.add(
        'left out',
        'repeated blocks',
        `a drawing may hold ${MOST_USES.toLocaleString('en')} uses of blocks and ${MOST_SHAPES.toLocaleString('en')} lines; what came after is left out`,
      );
    full = true;
  };

  const visit = (entities: readonly Entity[], map: PlaneMap, use: Use | null): void => {
    for (const entity of entities) {
      if (full) return;
      if (shapes.length >= MOST_SHAPES || ++visits > MOST_VISITS) {
        tellFull();
        return;
      }
      const layer = entity.layer === '0' && use !== null ? use.layer : entity.layer;
      if (entity.kind === 'insert') place(entity, map, use, layer);
      else
        shapes.push({
          drawn: entity,
          points: map === IDENTITY ? entity.points : mapPoints(map, entity.points),
          layer,
          use,
        });
    }
  };

  const refuseUse = (block: Block): { what: string; reason: string } | null => {
    if (block.outside !== '') return { what: OUTSIDE, reason: 'bind them into the drawing before saving it' };
    if (open.has(block)) return { what: 'uses of blocks', reason: 'the block holds itself' };
    if (open.size >= MOST_DEPTH)
      return { what: 'uses of blocks', reason: `blocks lie more than ${MOST_DEPTH} deep in each other` };
    return null;
  };

  const place = (insert: Insert, map: PlaneMap, parent: Use | null, layer: string): void => {
    const block = drawing.blocks.get(keyOf(insert.block));
    const at = [applyX(map, insert.map.e, insert.map.f), applyY(map, insert.map.e, insert.map.f)] as const;
    const told = { key: insert.handle, name: insert.block, at: null };
    if (block === undefined) {
      remarks.add('left out', 'uses of blocks', 'the file does not hold the block they name', told);
      return;
    }
    const refused = refuseUse(block);
    if (refused !== null) {
      remarks.add(
        'left out',
        refused.what,
        refused.reason,
        refused.what === OUTSIDE ? { ...told, name: block.outside } : told,
      );
      return;
    }
    if (!Number.isFinite(at[0]) || !Number.isFinite(at[1])) return;
    open.add(block);
    for (let row = 0; row < insert.rows && !full; row++) {
      for (let column = 0; column < insert.columns && !full; column++) {
        if (++visits > MOST_VISITS || uses.length >= MOST_USES) {
          tellFull();
          break;
        }
        const x = column * insert.columnStep;
        const y = row * insert.rowStep;
        const own = compose(insert.map, { ...IDENTITY, e: x - block.baseX, f: y - block.baseY });
        const cell = insert.rows * insert.columns > 1 ? `${insert.handle}(${row},${column})` : insert.handle;
        const use: Use = {
          block,
          parent,
          layer,
          key: parent === null ? cell : `${parent.key}/${cell}`,
          map: compose(map, own),
          words: insert.words,
          from: shapes.length,
          to: shapes.length,
        };
        uses.push(use);
        visit(block.entities, use.map, use);
        for (const words of insert.words)
          shapes.push({
            drawn: words,
            points: mapPoints(map, words.points),
            layer: words.layer === '0' ? layer : words.layer,
            use,
          });
        use.to = shapes.length;
      }
    }
    open.delete(block);
  };

  visit(drawing.entities, IDENTITY, null);
  return { shapes, uses };
}

/** The key of a shape, the same when the file is read again. */
export function keyOfShape(shape: Shape): string {
  return shape.use === null ? shape.drawn.handle : `${shape.use.key}/${shape.drawn.handle}`;
}

/** The arcs of a path in place. */
export function arcsOf(shape: Shape): readonly number[] {
  if (shape.drawn.kind !== 'path' || shape.drawn.arcs.length === 0) return [];
  return shape.use === null ? shape.drawn.arcs : mapPoints(shape.use.map, shape.drawn.arcs);
}

export function widthOf(shape: Shape): number {
  if (shape.drawn.kind !== 'path') return 0;
  return shape.use === null ? shape.drawn.width : shape.drawn.width * scaleOf(shape.use.map);
}
