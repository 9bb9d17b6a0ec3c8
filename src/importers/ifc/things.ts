/** The things of a model that a floor may need: found, named, given their role and their shape. */
import type { Body } from './bodies.ts';
import type { Frame } from './frame.ts';
import { ownsParts, ROLE_TYPES, type Role, roleOf } from './roles.ts';
import type { Shape, Shapes } from './shapes.ts';
import { type StepFile, textOf, type Value } from './step-file.ts';
import type { Structure } from './structure.ts';
import { namesGlass } from './words.ts';

export interface Thing {
  readonly id: number;
  /** The entity type in capitals. */
  readonly type: string;
  readonly role: Role;
  /** The GlobalId, else the number in the file. */
  readonly key: string;
  /** What it is called; may be empty. */
  readonly name: string;
  /** Everything that may say what it is: its name, the names of its type, its predefined type. */
  readonly names: readonly string[];
  /** In its type's or its own words, as `.CEILING.`; '' when nothing is said. */
  readonly predefined: string;
  readonly storey: number;
  readonly args: readonly Value[];
  bodies: readonly Body[];
  form: Shape['form'];
  unread: readonly string[];
  /** Why it has no place. */
  readonly unplaced: string | undefined;
  readonly frame: Frame | undefined;
  /** The thing it is a part of, when that owns its parts. */
  readonly owner: number;
}

/** Where the predefined type stands among the arguments of an element: the last word between dots. */
function findPredefined(args: readonly Value[]): string {
  for (let at = args.length - 1; at > 7; at--) {
    const text = textOf(args[at]);
    if (/^\.\w+\.$/u.test(text) && text !== '.NOTDEFINED.' && text !== '.T.' && text !== '.F.') return text;
  }
  return '';
}

export interface ThingReader {
  /** Every product with a role, shapes read by hand. */
  listThings(onShare: (share: number) => void): Thing[];
  readThing(id: number, role: Role): Thing;
  /** Types of products that have no role, with how many there are. */
  readonly unknown: ReadonlyMap<string, readonly number[]>;
  namesGlass(thing: Thing): boolean;
}

export function createThingReader(step: StepFile, structure: Structure, shapes: Shapes): ThingReader {
  const unknown = new Map<string, number[]>();

  const ownerOf = (id: number): number => {
    let at = structure.parentOf(id);
    for (let depth = 0; at > 0 && depth < 60; depth++) {
      const role = roleOf(step.typeOf(at));
      if (role !== undefined && ownsParts(role)) return at;
      at = structure.parentOf(at);
    }
    return 0;
  };

  const readThing = (id: number, role: Role): Thing => {
    const args = step.read(id);
    const typeObject = structure.typeObjectOf(id);
    const typeArgs = typeObject === 0 ? [] : step.read(typeObject);
    const predefined = findPredefined(args) || findPredefined(typeArgs);
    const name = textOf(args[2]).trim();
    const names = [name, textOf(args[4]), textOf(typeArgs[2]), textOf(typeArgs[8]), textOf(args[3]), predefined];
    const needsShape = typeof role === 'string' && role !== 'assembly';
    const shape = needsShape ? shapes.shapeOf(id) : undefined;
    const isPlaced = shape !== undefined && 'bodies' in shape;
    return {
      id,
      type: step.typeOf(id),
      role,
      key: textOf(args[0]) || `#${id}`,
      name,
      names: names.map((text) => text.trim()),
      predefined,
      storey: structure.storeyOf(id),
      args,
      bodies: isPlaced ? shape.bodies : [],
      form: isPlaced ? shape.form : 'none',
      unread: isPlaced ? shape.unread : [],
      unplaced: shape !== undefined && 'reason' in shape ? shape.reason : undefined,
      frame: isPlaced ? shape.frame : undefined,
      owner: ownerOf(id),
    };
  };

  return {
    unknown,
    readThing,
    listThings(onShare) {
      const ids = new Map<number, Role>();
      for (const type of ROLE_TYPES) {
        const role = roleOf(type);
        if (role === undefined) continue;
        for (const id of step.listOf(type)) ids.set(id, refineRole(step, structure, id, role));
      }
      for (const id of structure.held) {
        if (ids.has(id)) continue;
        const type = step.typeOf(id);
        if (type === 'IFCSPACE' || type === '' || /^IFC(SPATIALZONE|SITE|BUILDING|BUILDINGSTOREY)$/u.test(type))
          continue;
        const list = unknown.get(type);
        if (list === undefined) unknown.set(type, [id]);
        else list.push(id);
      }
      const things: Thing[] = [];
      for (const [id, role] of ids) {
        things.push(readThing(id, role));
        if ((things.length & 63) === 0) onShare(things.length / ids.size);
      }
      return things;
    },
    namesGlass: (thing) => namesGlass(...thing.names) || namesGlass(...structure.materialsOf(thing.id)),
  };
}

/** Equipment of IFC2x3 says by its type object what it is; a part is what its owner is. */
function refineRole(step: StepFile, structure: Structure, id: number, role: Role): Role {
  if (role !== 'equipment') return role;
  const type = step.typeOf(structure.typeObjectOf(id));
  const finer = type === '' ? undefined : roleOf(type);
  return finer === undefined || finer === 'equipment' ? 'equipment' : finer;
}
