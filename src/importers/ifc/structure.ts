/** How the things of a model hang together: storeys, what they hold, parts, openings, types, materials. */
import { refOf, refsOf, type StepFile, textOf, type Value } from './step-file.ts';

export interface Structure {
  /** What holds a thing: a storey, a space, a building; 0 when nothing does. */
  holderOf(id: number): number;
  /** Children by aggregation or nesting. */
  partsOf(id: number): readonly number[];
  parentOf(id: number): number;
  /** The storey something belongs to by what holds it, 0 when none does. */
  storeyOf(id: number): number;
  /** The openings cut out of a thing. */
  openingsOf(id: number): readonly number[];
  wallOf(opening: number): number;
  /** The doors and windows that stand in an opening. */
  fillingsOf(opening: number): readonly number[];
  openingOf(filling: number): number;
  /** The type object of a thing, 0 when it has none. */
  typeObjectOf(id: number): number;
  /** Names of the materials of a thing and of its type. */
  materialsOf(id: number): readonly string[];
  /** Ids held by anything, in the order of the file. */
  readonly held: readonly number[];
}

/** Things hang on things; deeper than this is a circle. */
const MAX_DEPTH = 60;

export function readStructure(step: StepFile): Structure {
  const holder = new Map<number, number>();
  const parent = new Map<number, number>();
  const parts = new Map<number, number[]>();
  const wall = new Map<number, number>();
  const openings = new Map<number, number[]>();
  const opening = new Map<number, number>();
  const fillings = new Map<number, number[]>();
  const typeObject = new Map<number, number>();
  const held: number[] = [];

  const push = (map: Map<number, number[]>, key: number, value: number): void => {
    const list = map.get(key);
    if (list === undefined) map.set(key, [value]);
    else list.push(value);
  };
  const each = (type: string, take: (args: readonly Value[]) => void): void => {
    for (const id of step.listOf(type)) take(step.read(id));
  };

  each('IFCRELCONTAINEDINSPATIALSTRUCTURE', (args) => {
    for (const id of refsOf(args[4])) {
      if (holder.has(id)) continue;
      holder.set(id, refOf(args[5]));
      held.push(id);
    }
  });
  for (const type of ['IFCRELAGGREGATES', 'IFCRELNESTS', 'IFCRELDECOMPOSES']) {
    each(type, (args) => {
      for (const id of refsOf(args[5])) {
        if (parent.has(id)) continue;
        parent.set(id, refOf(args[4]));
        push(parts, refOf(args[4]), id);
      }
    });
  }
  each('IFCRELVOIDSELEMENT', (args) => {
    wall.set(refOf(args[5]), refOf(args[4]));
    push(openings, refOf(args[4]), refOf(args[5]));
  });
  each('IFCRELFILLSELEMENT', (args) => {
    opening.set(refOf(args[5]), refOf(args[4]));
    push(fillings, refOf(args[4]), refOf(args[5]));
  });
  each('IFCRELDEFINESBYTYPE', (args) => {
    for (const id of refsOf(args[4])) typeObject.set(id, refOf(args[5]));
  });

  let materials: Map<number, number> | undefined;
  const readMaterials = (): Map<number, number> => {
    const found = new Map<number, number>();
    each('IFCRELASSOCIATESMATERIAL', (args) => {
      for (const id of refsOf(args[4])) found.set(id, refOf(args[5]));
    });
    return found;
  };
  const namesOf = (id: number, depth: number): readonly string[] => {
    if (id === 0 || depth > 6) return [];
    const args = step.read(id);
    const type = step.typeOf(id);
    if (type === 'IFCMATERIAL') return [textOf(args[0])];
    if (!type.startsWith('IFCMATERIAL')) return [];
    const own = args.filter((value) => typeof value === 'string' && !value.startsWith('.')) as string[];
    const inner = args.flatMap((value) => refsOf(value)).slice(0, 20);
    return [...own, ...inner.flatMap((ref) => namesOf(ref, depth + 1))];
  };

  const storeys = new Map<number, number>();
  const findStorey = (id: number, depth: number): number => {
    if (id === 0 || depth > MAX_DEPTH) return 0;
    if (step.typeOf(id) === 'IFCBUILDINGSTOREY') {
      // A storey may be a part of another one; the inner one counts.
      return id;
    }
    const known = storeys.get(id);
    if (known !== undefined) return known;
    const through = opening.get(id) ?? wall.get(id) ?? 0;
    const found =
      findStorey(holder.get(id) ?? 0, depth + 1) ||
      findStorey(parent.get(id) ?? 0, depth + 1) ||
      findStorey(through, depth + 1);
    storeys.set(id, found);
    return found;
  };

  return {
    holderOf: (id) => holder.get(id) ?? 0,
    partsOf: (id) => parts.get(id) ?? [],
    parentOf: (id) => parent.get(id) ?? 0,
    storeyOf: (id) => findStorey(id, 0),
    openingsOf: (id) => openings.get(id) ?? [],
    wallOf: (id) => wall.get(id) ?? 0,
    fillingsOf: (id) => fillings.get(id) ?? [],
    openingOf: (id) => opening.get(id) ?? 0,
    typeObjectOf: (id) => typeObject.get(id) ?? 0,
    materialsOf(id) {
      materials ??= readMaterials();
      return [...namesOf(materials.get(id) ?? 0, 0), ...namesOf(materials.get(typeObject.get(id) ?? 0) ?? 0, 0)];
    },
    held,
  };
}
