import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Plan } from '../handover/plan/plan.ts';

/** Dots per millimetre (150 an inch), as long as the picture stays within the most pixels. */
const DOTS_PER_MM = 150 / 25.4;
const MOST_PIXELS = 4_000;

/** The fonts a plan asks for, and one with more letters for names that those cannot write. */
const FONTS = [
  '@expo-google-fonts/source-sans-3/400Regular/SourceSans3_400Regular.ttf',
  '@expo-google-fonts/source-sans-3/600SemiBold/SourceSans3_600SemiBold.ttf',
  '@expo-google-fonts/source-serif-4/400Regular/SourceSerif4_400Regular.ttf',
  'dejavu-fonts-ttf/ttf/DejaVuSans.ttf',
];

/** A plan as a PNG of the given width in pixels, or of a sensible one. The fonts are the project's own, so it looks alike everywhere. */
export async function rasterise(plan: Plan, width: number | undefined): Promise<Uint8Array> {
  const { Resvg } = await loadRasteriser();
  const sensible = Math.min(MOST_PIXELS, Math.round(plan.widthMm * DOTS_PER_MM));
  const picture = new Resvg(plan.svg, {
    fitTo: { mode: 'width', value: width ?? sensible },
    background: '#ffffff',
    font: {
      fontBuffers: FONTS.map((font) => readFileSync(require.resolve(font))),
      defaultFontFamily: 'Source Sans 3',
      sansSerifFamily: 'Source Sans 3',
      serifFamily: 'Source Serif 4',
    },
  });
  return picture.render().asPng();
}

const require = createRequire(import.meta.url);
let loading: Promise<typeof import('@resvg/resvg-wasm')> | undefined;

/** Loaded with the first PNG, and once: the other verbs, and drawings in SVG, do without it. */
function loadRasteriser(): Promise<typeof import('@resvg/resvg-wasm')> {
  loading ??= import('@resvg/resvg-wasm').then(async (library) => {
    await library.initWasm(readFileSync(require.resolve('@resvg/resvg-wasm/index_bg.wasm')));
    return library;
  });
  return loading;
}
