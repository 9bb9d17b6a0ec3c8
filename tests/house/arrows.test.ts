import { describe, expect, test } from 'vitest';
import { checkArrows, ROOM_NAMES, roomOf } from './arrows.ts';
import { listFiles, readText } from './tree.ts';

const sources = new Map(
  listFiles('src')
    .filter((path) => /\.tsx?$/.test(path))
    .map((path) => [path, readText(path)] as const),
);

describe('the house', () => {
  test('holds its arrows', () => {
    const { breaches, crossings } = checkArrows(sources);
    expect(breaches, breaches.join('\n')).toEqual([]);
    expect(
      crossings,
      `only ${crossings} imports lead across rooms: too few to say that the arrows hold`,
    ).toBeGreaterThan(4);
  });

  test('has every room, and no other', () => {
    const furnished = new Set([...sources.keys()].filter((path) => !path.endsWith('.d.ts')).map(roomOf));
    // Importers have their place in the table; their first file is still to come.
    const empty = ROOM_NAMES.filter((room) => room !== 'importers' && !furnished.has(room));
    const unknown = [...furnished].filter((room) => room === undefined || !ROOM_NAMES.includes(room));
    expect({ empty, unknown }).toEqual({ empty: [], unknown: [] });
  });
});

describe('a planted import is caught', () => {
  test.each([
    ['src/core/floor/a.ts', `import { b } from '../../ui/b.ts';`],
    ['src/core/floor/a.ts', `import type { B } from '../../importers/b.ts';`],
    ['src/core/floor/a.ts', `export type { B } from '../sight/b.ts';`],
    ['src/core/geometry/a.ts', `export * from '../floor/b.ts';`],
    ['src/core/geometry/a.ts', `import '../index.ts';`],
    ['src/core/coverage/a.ts', `type B = import('../planning/b.ts').B;`],
    ['src/core/unlisted/a.ts', `import { b } from '../geometry/b.ts';`],
    ['src/core/floor/a.ts', `import type { Vector3 } from 'three';`],
    ['src/core/floor/a.ts', `import { b } from 'mutative';`],
    ['src/core/floor/a.ts', `import { readFileSync } from 'node:fs';`],
    ['src/core/floor/a.ts', `import { readFileSync } from 'fs';`],
    ['src/core/floor/a.ts', `export const now = () => Date.now();`],
    ['src/core/floor/a.ts', `export const dice = () => Math.random();`],
    ['src/importers/dxf/a.ts', `import { b } from '../../handover/b.ts';`],
    ['src/importers/dxf/a.ts', `import { readFileSync } from 'node:fs';`],
    ['src/importers/dxf/a.ts', `import { readFileSync } from 'fs';`],
    ['src/app/a.ts', `import floor from '/models/b.json';`],
    ['src/handover/a.ts', `const b = await import('../importers/b.ts');`],
    ['src/handover/a.ts', `import { Mesh } from 'three/webgpu';`],
    ['src/workers/a.ts', `import type { B } from '../editor/b.ts';`],
    ['src/editor/a.ts', `import { useState } from 'react';`],
    ['src/editor/a.ts', `import { b } from '../workers/b.ts';`],
    ['src/ui/panels/A.tsx', `import { b } from '../../workers/b.ts';`],
    ['src/ui/panels/A.tsx', `import { b } from '../../app/b.ts';`],
    ['src/ui/panels/A.tsx', `const worker = new URL('../../workers/b.worker.ts', import.meta.url);`],
    ['src/ui/panels/A.tsx', `const all = import.meta.glob('../../handover/*.ts');`],
    ['src/app/a.ts', `const worker = new Worker(new URL('../workers/b.worker.ts', import.meta.url));`],
    ['src/app/a.ts', `import B from '../workers/b.worker.ts?worker';`],
    ['src/app/a.ts', `import { create } from 'zustand';`],
    ['src/app/a.ts', `import { b } from '../../tests/b.ts';`],
    ['src/app/a.ts', `const b = (name: string) => import(name);`],
    ['src/cli/a.ts', `import { Canvas } from '@react-three/fiber';`],
    ['src/cli/a.ts', `import { b } from '../app/b.ts';`],
    ['src/cli/a.ts', `const b = require('node:fs');`],
  ])('%s: %s', (path, text) => {
    expect(checkArrows(new Map([[path, text]])).breaches).toHaveLength(1);
  });
});

describe('an import that the design allows passes', () => {
  test.each([
    ['src/core/index.ts', `export * from './floor/b.ts';`],
    ['src/core/planning/a.ts', `import type { B } from '../geometry/b.ts'; import { z } from 'zod';`],
    ['src/core/geometry/a.ts', `import earcut from 'earcut'; import { b } from './b.ts';`],
    ['src/workers/pool.ts', `new Worker(new URL('./b.worker.ts', import.meta.url), { type: 'module' });`],
    ['src/workers/a.ts', `import { b } from '../importers/ifc/b.ts';`],
    ['src/ui/scene/A.tsx', `import { Canvas } from '@react-three/fiber'; import { b } from '../../editor/b.ts';`],
    ['src/app/main.tsx', `import floor from '../../models/floors/b.json?raw'; import { b } from '../ui/b.ts';`],
    ['src/cli/main.ts', `import { readFile } from 'node:fs/promises'; import { b } from '../handover/b.ts';`],
  ])('%s: %s', (path, text) => {
    expect(checkArrows(new Map([[path, text]])).breaches).toEqual([]);
  });
});
