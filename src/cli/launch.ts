#!/usr/bin/env node
/**
 * Starts the program. Reading and compiling its source would take longer than judging a small floor, so the build leaves
 * V8's compiled code beside it; another version of Node does not take that, and compiles as usual.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire, Module } from 'node:module';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { Script } from 'node:vm';

// Most of a check runs once: code is optimised only when it stays hot, or optimising costs more than it saves.
setFlagsFromString('--interrupt-budget=2100000');

const path = join(import.meta.dirname, 'program.js');
const cachePath = join(import.meta.dirname, 'program.cache');

function readCache(): Buffer | undefined {
  try {
    return readFileSync(cachePath);
  } catch {
    return undefined;
  }
}

const cachedData = readCache();
const script = new Script(
  `(function (exports, require, module, __filename, __dirname) {${readFileSync(path, 'utf8')}\n})`,
  {
    filename: path,
    ...(cachedData === undefined ? {} : { cachedData }),
  },
);
const program = new Module(path);
program.filename = path;
program.loaded = true;
const require = createRequire(path);
// What is loaded later asks for the program by its path, and must find this one.
require.cache[path] = program;
script.runInThisContext()(program.exports, require, program, path, import.meta.dirname);

// Asked by the build, after a run that has compiled what a check needs.
if (process.env.LACUNA_WRITE_CODE_CACHE === '1') {
  process.on('exit', () => writeFileSync(cachePath, script.createCachedData()));
}
