#!/usr/bin/env node
/**
 * Starts the program. Reading and compiling its source would take longer than judging a small floor, so the build leaves
 * V8's compiled code beside each file of it that a check loads; another version of Node does not take that, and compiles as usual.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire, Module } from 'node:module';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { Script } from 'node:vm';

// Most of a check runs once: code is optimised only when it stays hot, or optimising costs more than it saves.
setFlagsFromString('--interrupt-budget=2100000');

/** Set by the build: the compiled code of a check is left for the runs to come. */
const isLeavingCode = process.env.LACUNA_WRITE_CODE_CACHE === '1';
const folder = import.meta.dirname;
const loadByNode = createRequire(join(folder, 'program.js'));
const scripts = new Map<string, Script>();

const codeBeside = (path: string): string => `${path.slice(0, -'.js'.length)}.cache`;

function readCode(path: string): Buffer | null {
  try {
    return readFileSync(codeBeside(path));
  } catch {
    return null;
  }
}

/** What a file of the program hands out. Files without compiled code are loaded as Node does. */
function load(id: string): unknown {
  if (!id.startsWith('./')) return loadByNode(id);
  const path = join(folder, id);
  const known = loadByNode.cache[path];
  if (known !== undefined) return known.exports;
  const cachedData = isLeavingCode ? null : readCode(path);
  if (cachedData === null && !isLeavingCode) return loadByNode(id);
  const source = readFileSync(path, 'utf8');
  const script = new Script(`(function (exports, require, module, __filename, __dirname) {${source}\n})`, {
    filename: path,
    ...(cachedData === null ? {} : { cachedData }),
  });
  scripts.set(path, script);
  const file = new Module(path);
  file.filename = path;
  file.loaded = true;
  // Files that Node loads later ask for this one by its path, and must find it.
  loadByNode.cache[path] = file;
  script.runInThisContext()(file.exports, load, file, path, folder);
  return file.exports;
}

load('./program.js');

if (isLeavingCode) {
  process.on('exit', () => {
    for (const [path, script] of scripts) writeFileSync(codeBeside(path), script.createCachedData());
  });
}
