import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { tmpdir, userInfo } from 'node:os';
import { join } from 'node:path';

/** What `chromium.launch` of playwright-core needs. */
export interface Browser {
  readonly executablePath: string;
  readonly args: string[];
}

const INSTALLED = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome-stable',
  '/usr/bin/google-chrome',
  '/snap/bin/chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
];

/** Software WebGL, no calls home, and text and colour that come out the same everywhere. */
const ARGS = [
  '--no-sandbox',
  '--use-gl=angle',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--ignore-gpu-blocklist',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--hide-scrollbars',
  '--force-color-profile=srgb',
  '--font-render-hinting=none',
];

/** Per user, since one folder for all would belong to whoever came first; and fixed before `TMPDIR` is changed below. */
const UNPACKED = join(tmpdir(), `chromium-${userInfo().uid}`);

/**
 * Finds a Chromium to test in: the one named by `CHROME_PATH`, else an installed one, else the one that `npm ci` brought
 * (`CHROME_PATH=bundled` asks for that one). Throws when there is none: browser tests are never skipped.
 */
export async function findBrowser(): Promise<Browser> {
  const named = process.env.CHROME_PATH;
  if (named !== undefined && named !== 'bundled') {
    if (!existsSync(named)) throw new Error(`CHROME_PATH=${named} does not exist.`);
    return { executablePath: named, args: ARGS };
  }
  const installed = INSTALLED.find((path) => existsSync(path));
  if (installed !== undefined && named !== 'bundled') return { executablePath: installed, args: ARGS };
  if (process.platform === 'linux' && process.arch === 'x64') return unpackBundled();
  throw new Error('No Chromium found. Install one (Debian, Ubuntu: apt-get install chromium) or set CHROME_PATH.');
}

/** Unpacks the packaged Chromium, once per user. */
async function unpackBundled(): Promise<Browser> {
  mkdirSync(UNPACKED, { recursive: true });
  // The package's own font list names folders of another machine; a page without any font has no text to click.
  const fonts = `<fontconfig><dir>${UNPACKED}/fonts</dir><cachedir>${UNPACKED}/font-cache</cachedir></fontconfig>`;
  writeFileSync(join(UNPACKED, 'fonts.conf'), `<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd">${fonts}`);
  // All three must stand before the import: the package reads them as it loads, and only then brings its NSS libraries.
  process.env.CODEBUILD_BUILD_IMAGE ??= 'nodejs20';
  process.env.FONTCONFIG_PATH = UNPACKED;
  process.env.TMPDIR = UNPACKED;
  const { default: bundled } = await import('@sparticuz/chromium');
  // Not its own --single-process, under which a second browser context ends the first.
  return { executablePath: await bundled.executablePath(), args: [...ARGS, '--in-process-gpu', '--no-zygote'] };
}
