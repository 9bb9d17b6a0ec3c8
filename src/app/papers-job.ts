/** Makes the documents of one floor off the main thread. It lives with the wiring: it joins what workers may not see. */

import working from '@expo-google-fonts/source-sans-3/400Regular/SourceSans3_400Regular.ttf?url';
import workingBold from '@expo-google-fonts/source-sans-3/600SemiBold/SourceSans3_600SemiBold.ttf?url';
import reading from '@expo-google-fonts/source-serif-4/400Regular/SourceSerif4_400Regular.ttf?url';
import rasteriser from '@resvg/resvg-wasm/index_bg.wasm?url';
import more from 'dejavu-fonts-ttf/ttf/DejaVuSans.ttf?url';
import moreBold from 'dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf?url';
import { zipSync } from 'fflate';
import { resolveFloor } from '../core/floor/index.ts';
import { createJob } from '../handover/job.ts';
import type { FontFiles } from '../handover/paper/fonts.ts';
import type { HandoverFile, PaperPlatform } from '../handover/part.ts';
import { PARTS } from '../handover/parts.ts';
import type { Plan } from '../handover/plan/plan.ts';
import { ARCHIVE_TIME } from '../handover/tables/xlsx.ts';
import type { PaperBundle, PaperFile, PaperRequest } from '../ui/panels/handover/papers.ts';

export type PapersReply =
  | { readonly type: 'progress'; readonly title: string; readonly share: number }
  | { readonly type: 'done'; readonly bundle: PaperBundle }
  | { readonly type: 'failed'; readonly message: string };

const post = (reply: PapersReply): void => self.postMessage(reply);

self.onmessage = ({ data }: MessageEvent<PaperRequest>) => {
  makeBundle(data).then(
    (bundle) => post({ type: 'done', bundle }),
    (error: unknown) => post({ type: 'failed', message: error instanceof Error ? error.message : String(error) }),
  );
};

async function makeBundle({ file, parts: names, paper, scale }: PaperRequest): Promise<PaperBundle> {
  const platform = await createPlatform();
  const job = createJob(resolveFloor(file), { paper, scale });
  const parts = PARTS.filter((part) => names.includes(part.name));
  const files: PaperFile[] = [];
  const refusals: string[] = [];
  for (const [k, part] of parts.entries()) {
    const hear = (share: number) => post({ type: 'progress', title: part.title, share: (k + share) / parts.length });
    hear(0);
    const made = await part.produce(job, platform, hear);
    files.push(...made.files.map(toPaperFile));
    refusals.push(...made.refusals);
  }
  return { files, refusals, archive: files.length > 1 ? pack(files) : null };
}

function toPaperFile({ name, mime, content }: HandoverFile): PaperFile {
  const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : new Uint8Array(content);
  return { name, mime, bytes };
}

function pack(files: readonly PaperFile[]): PaperFile {
  const entries = Object.fromEntries(files.map(({ name, bytes }) => [name, bytes]));
  return { name: 'handover.zip', mime: 'application/zip', bytes: zipSync(entries, { mtime: ARCHIVE_TIME, level: 6 }) };
}

async function createPlatform(): Promise<PaperPlatform> {
  const fetchBytes = async (address: string): Promise<Uint8Array> => {
    const answer = await fetch(address);
    if (!answer.ok) throw new Error(`A font could not be loaded (${answer.status}). Reload the page.`);
    return new Uint8Array(await answer.arrayBuffer());
  };
  const [a, b, c, d, e] = await Promise.all([working, workingBold, reading, more, moreBold].map(fetchBytes));
  if (!a || !b || !c || !d || !e) throw new Error('A font could not be loaded. Reload the page.');
  const fonts: FontFiles = { working: a, workingBold: b, reading: c, more: d, moreBold: e };
  return {
    fonts,
    rasterise: (plan) => rasterise(plan, fonts),
    async readSharePage() {
      // It lies beside the app; this worker lies one folder further in.
      const answer = await fetch(new URL('../share-page.html', self.location.href));
      if (!answer.ok) throw new Error(`The page to share could not be loaded (${answer.status}). Reload the page.`);
      return answer.text();
    },
  };
}

/** Dots per millimetre (150 an inch), as long as the picture stays within the most pixels. */
const DOTS_PER_MM = 150 / 25.4;
const MOST_PIXELS = 4_000;
let loading: Promise<typeof import('@resvg/resvg-wasm')> | undefined;

async function rasterise(plan: Plan, fonts: FontFiles): Promise<Uint8Array> {
  loading ??= import('@resvg/resvg-wasm').then(async (library) => {
    await library.initWasm(fetch(rasteriser));
    return library;
  });
  const { Resvg } = await loading;
  const picture = new Resvg(plan.svg, {
    fitTo: { mode: 'width', value: Math.min(MOST_PIXELS, Math.round(plan.widthMm * DOTS_PER_MM)) },
    background: '#ffffff',
    font: {
      fontBuffers: [fonts.working, fonts.workingBold, fonts.reading, fonts.more],
      defaultFontFamily: 'Source Sans 3',
      sansSerifFamily: 'Source Sans 3',
      serifFamily: 'Source Serif 4',
    },
  });
  return picture.render().asPng();
}
