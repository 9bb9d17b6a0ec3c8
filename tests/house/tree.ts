import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';

const TOP = fileURLToPath(new URL('../..', import.meta.url));

/** Made by tools and ignored by git. */
const MADE = new Set(['node_modules', 'dist', 'coverage', '.git']);

/** Names on the top level, without what tools make. */
export function listTop(): string[] {
  return readdirSync(TOP).filter((name) => !MADE.has(name));
}

/** Every file under a folder, as a path from the top with forward slashes. */
export function listFiles(folder: string): string[] {
  return readdirSync(join(TOP, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(TOP, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .sort();
}

export function readText(path: string): string {
  return readFileSync(join(TOP, path), 'utf8');
}
