/** Reads which file of `src` leans on which, and holds the arrows between the rooms. */
import { isBuiltin } from 'node:module';
import { posix } from 'node:path';
import { parseSync } from 'vite';

/** Source text by path from the top, with forward slashes: `src/core/floor/schema.ts`. */
export type Sources = ReadonlyMap<string, string>;

export interface Arrows {
  /** One sentence for every import that a rule forbids. */
  readonly breaches: readonly string[];
  /** How many imports lead from one room, or one folder of core, into another. */
  readonly crossings: number;
}

/** The rooms each room may import. */
const ROOMS: Readonly<Record<string, readonly string[]>> = {
  core: [],
  importers: ['core'],
  handover: ['core'],
  workers: ['core', 'importers'],
  editor: ['core'],
  ui: ['core', 'editor'],
  app: ['core', 'importers', 'handover', 'workers', 'editor', 'ui'],
  cli: ['core', 'importers', 'handover', 'workers', 'editor', 'ui'],
};

/** Core from the top down: each folder imports only those before it. */
const CORE = ['geometry', 'floor', 'sight', 'coverage', 'planning'];
const CORE_PACKAGES = ['zod', 'zod/mini', 'earcut'];

/** Packages that only some rooms may know. */
const KEPT_IN: readonly (readonly [name: RegExp, rooms: readonly string[]])[] = [
  [/^(three|react|react-dom)(\/|$)/, ['ui', 'app']],
  [/^@react-three\//, ['ui', 'app']],
  [/^(zustand|mutative)(\/|$)/, ['editor', 'ui']],
];

export const ROOM_NAMES: readonly string[] = Object.keys(ROOMS);

/** The room a path lies in, or undefined outside `src`. */
export function roomOf(path: string): string | undefined {
  return /^src\/([^/]+)\//.exec(path)?.[1];
}

/** Checks every import of every file; types count as much as values. */
export function checkArrows(sources: Sources): Arrows {
  const breaches: string[] = [];
  let crossings = 0;
  for (const [path, text] of sources) {
    const found = readImports(path, text);
    breaches.push(...found.breaches);
    for (const name of found.names) {
      const target = name.startsWith('.') ? posix.join(posix.dirname(path), name.replace(/\?.*$/, '')) : undefined;
      const breach = target === undefined ? judgePackage(path, name) : judgePath(path, target);
      const startsWorker = /\.worker\.ts$|[?&]worker\b/.test(name) && roomOf(path) !== 'workers';
      if (breach !== undefined) breaches.push(`${path} imports ${name}: ${breach}`);
      else if (startsWorker) breaches.push(`${path} starts ${name}: only workers starts a worker`);
      if (target !== undefined && areaOf(target) !== areaOf(path)) crossings += 1;
    }
  }
  return { breaches, crossings };
}

function judgePackage(path: string, name: string): string | undefined {
  const room = roomOf(path) ?? '';
  if (room === 'core' && !CORE_PACKAGES.includes(name)) return `core knows only ${CORE_PACKAGES.join(' and ')}`;
  if (name.startsWith('/')) return 'a path starts with a dot';
  if (isBuiltin(name)) return room === 'cli' ? undefined : 'only cli knows Node';
  const kept = KEPT_IN.find(([pattern]) => pattern.test(name));
  return kept === undefined || kept[1].includes(room) ? undefined : `only ${kept[1].join(' and ')} may`;
}

function judgePath(path: string, target: string): string | undefined {
  const from = roomOf(path) ?? '';
  const to = roomOf(target);
  if (to === undefined) {
    if (target.startsWith('models/') && (from === 'app' || from === 'cli')) return undefined;
    return 'it lies outside src (app and cli alone may read models)';
  }
  if (from !== to) return ROOMS[from]?.includes(to) ? undefined : `${from} does not see ${to}`;
  if (from !== 'core') return undefined;
  const [fromRank, toRank] = [coreRank(path), coreRank(target)];
  return toRank <= fromRank ? undefined : 'inside core each folder imports only those above it';
}

/** A file beside the folders of core gathers them, so it ranks last. */
function coreRank(path: string): number {
  const folder = /^src\/core\/([^/]+)\//.exec(path)?.[1];
  return folder === undefined ? CORE.length : CORE.indexOf(folder);
}

/** A room, or one folder of core. */
function areaOf(path: string): string {
  return /^src\/core\/[^/]+\//.exec(path)?.[0] ?? roomOf(path) ?? '';
}

interface Node {
  readonly type: string;
  readonly [key: string]: unknown;
}

const isNode = (value: unknown): value is Node =>
  typeof value === 'object' && value !== null && typeof (value as { type?: unknown }).type === 'string';

const literal = (value: unknown): string | undefined =>
  isNode(value) && value.type === 'Literal' && typeof value.value === 'string' ? value.value : undefined;

const isIdentifier = (value: unknown, name: string): boolean =>
  isNode(value) && value.type === 'Identifier' && value.name === name;

/** Every module a file names, and what it holds that core may not. */
function readImports(path: string, text: string): { names: string[]; breaches: string[] } {
  const parsed = parseSync(path, text);
  if (parsed.errors.length > 0) throw new Error(`${path} cannot be parsed: ${parsed.errors[0]?.message}`);
  const names: string[] = [];
  const breaches: string[] = [];
  const inCore = roomOf(path) === 'core';

  const visit = (node: Node): void => {
    const args = Array.isArray(node.arguments) ? node.arguments : [];
    switch (node.type) {
      case 'ImportDeclaration':
      case 'ExportNamedDeclaration':
      case 'ExportAllDeclaration':
      case 'ImportExpression':
      case 'TSImportType':
      case 'TSExternalModuleReference': {
        const name = literal(node.source ?? node.expression);
        if (name !== undefined) names.push(name);
        else if (node.type === 'ImportExpression') breaches.push(`${path} imports a name worked out at run time`);
        break;
      }
      case 'NewExpression': {
        const name = isIdentifier(node.callee, 'URL') ? literal(args[0]) : undefined;
        if (name !== undefined && /^\..*\.tsx?$/.test(name)) names.push(name);
        break;
      }
      case 'CallExpression': {
        const callee = node.callee;
        if (isIdentifier(callee, 'require')) breaches.push(`${path} calls require`);
        const globs = isNode(callee) && isNode(callee.object) && callee.object.type === 'MetaProperty';
        if (globs) names.push(...globPatterns(args[0]));
        break;
      }
      case 'MemberExpression':
        if (inCore && isIdentifier(node.object, 'Math') && isIdentifier(node.property, 'random')) {
          breaches.push(`${path} calls Math.random: core gives the same answer twice`);
        }
        break;
      case 'Identifier':
        if (inCore && node.name === 'Date') breaches.push(`${path} names Date: core has no clock`);
        break;
      default:
    }
    for (const value of Object.values(node)) {
      for (const child of Array.isArray(value) ? value : [value]) if (isNode(child)) visit(child);
    }
  };
  visit(parsed.program as unknown as Node);
  return { names, breaches };
}

/** The patterns of `import.meta.glob(…)`, cut before the first star so that they name a folder. */
function globPatterns(argument: unknown): string[] {
  const list = isNode(argument) && argument.type === 'ArrayExpression' ? argument.elements : [argument];
  const patterns = (Array.isArray(list) ? list : []).map(literal).filter((name) => name !== undefined);
  return patterns.map((pattern) => pattern.replace(/\*.*$/, ''));
}
