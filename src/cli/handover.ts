/** The verb `handover`. In a module of its own: nothing of it is loaded by the other verbs. */
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import type { Floor } from '../core/floor/index.ts';
import { createJob, type HandoverJob, type HandoverOptions } from '../handover/job.ts';
import { PAPER_SIZES } from '../handover/paper/sizes.ts';
import type { HandoverFile, PaperPlatform, Part } from '../handover/part.ts';
import { PARTS } from '../handover/parts.ts';
import { readArguments, readChoice, seeHelp } from './arguments.ts';
import { readFloor, writeWhole } from './files.ts';
import { rasterise } from './raster.ts';
import { escapeText } from './text.ts';
import { describeSystemError, Unusable } from './unusable.ts';
import type { ExitCode, Output } from './verb.ts';

const SCALES = ['50', '100', '200', '500'] as const;

export async function runHandover(words: readonly string[], output: Output): Promise<ExitCode> {
  const { values, positionals } = readArguments('handover', words, {
    out: 'string',
    only: 'string',
    paper: 'string',
    scale: 'string',
  });
  const [path, ...others] = positionals;
  if (path === undefined) throw new Unusable('handover: no floor is named.', seeHelp('handover'));
  if (others.length > 0) throw new Unusable('handover: more than one floor is named.', seeHelp('handover'));
  if (values.out === undefined || values.out === '')
    throw new Unusable('handover: no folder to write to. Name one with --out DIR.', seeHelp('handover'));
  const parts = choosePartsOf(values.only);
  const scale = readChoice('handover', 'scale', values.scale, SCALES);
  const options: HandoverOptions = {
    paper: readChoice('handover', 'paper', values.paper, PAPER_SIZES) ?? 'a4',
    scale: scale === undefined ? null : Number(scale),
  };

  const { floor } = readFloor(path, undefined);
  // A folder that cannot be made is found before the work, not after it.
  makeFolder(values.out);
  output.progress('Judging the floor.');
  const job = judge(path, floor, options);
  const { files, refusals } = await makeParts(job, parts, output);
  output.progress('Writing.');
  for (const file of files) {
    const target = join(values.out, file.name);
    if (file.name.includes('/')) makeFolder(dirname(target));
    writeWhole(target, file.content);
  }
  output.progress('');
  for (const refusal of refusals) output.complain(escapeText(refusal));
  if (files.length === 0) return 2;
  output.write(`${files.map((file) => escapeText(join(values.out ?? '', file.name))).join('\n')}\n`);
  return job.result.met ? 0 : 1;
}

function choosePartsOf(only: string | undefined): readonly Part[] {
  if (only === undefined) return PARTS;
  const names = only
    .split(',')
    .map((name) => name.trim())
    .filter((name) => name !== '');
  for (const name of names.length === 0 ? [''] : names) {
    if (!PARTS.some((part) => part.name === name)) {
      throw new Unusable(
        `handover: --only names ${name === '' ? 'no part' : escapeText(name)}. It must be of: ${PARTS.map((part) => part.name).join(', ')}.`,
        seeHelp('handover'),
      );
    }
  }
  return PARTS.filter((part) => names.includes(part.name));
}

function judge(path: string, floor: Floor, options: HandoverOptions): HandoverJob {
  try {
    return createJob(floor, options);
  } catch (error) {
    throw new Unusable(`${escapeText(path)}: cannot be judged: ${escapeText(describeSystemError(error))}`);
  }
}

interface Made {
  readonly files: readonly HandoverFile[];
  readonly refusals: readonly string[];
}

/** Everything is made before anything is written. */
async function makeParts(job: HandoverJob, parts: readonly Part[], output: Output): Promise<Made> {
  const platform = createPlatform();
  const files: HandoverFile[] = [];
  const refusals: string[] = [];
  for (const part of parts) {
    const say = (share: number) => output.progress(`${part.title}: ${Math.round(share * 100)} %`);
    say(0);
    const made = await part.produce(job, platform, say);
    files.push(...made.files);
    refusals.push(...made.refusals);
  }
  return { files, refusals };
}

function makeFolder(path: string): void {
  try {
    mkdirSync(path, { recursive: true });
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : '';
    const why =
      code === 'EEXIST' || code === 'ENOTDIR'
        ? 'something that is no folder is in its way'
        : `it ${describeSystemError(error)}`;
    throw new Unusable(`${escapeText(path)}: the folder cannot be made: ${escapeText(why)}.`);
  }
}

const require = createRequire(import.meta.url);

/** The faces of the documents and the maker of pictures, from the packages that come along. */
function createPlatform(): PaperPlatform {
  const read = (file: string): Uint8Array => readFileSync(require.resolve(file));
  return {
    fonts: {
      working: read('@expo-google-fonts/source-sans-3/400Regular/SourceSans3_400Regular.ttf'),
      workingBold: read('@expo-google-fonts/source-sans-3/600SemiBold/SourceSans3_600SemiBold.ttf'),
      reading: read('@expo-google-fonts/source-serif-4/400Regular/SourceSerif4_400Regular.ttf'),
      more: read('dejavu-fonts-ttf/ttf/DejaVuSans.ttf'),
      moreBold: read('dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf'),
    },
    rasterise: (plan) => rasterise(plan, undefined),
    async readSharePage() {
      // Built beside the program; from the sources it lies in `dist`.
      const places = ['../share/share.html', '../../dist/share/share.html'];
      const path = places.map((place) => join(import.meta.dirname, place)).find((each) => existsSync(each));
      if (path === undefined) throw new Unusable('The page to share is not built.', 'Run: npm run build:share');
      return readFileSync(path, 'utf8');
    },
  };
}
