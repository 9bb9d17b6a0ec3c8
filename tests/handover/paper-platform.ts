import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { rasterise } from '../../src/cli/raster.ts';
import { type FloorFile, formatFault, validateFloor } from '../../src/core/floor/index.ts';
import { createJob, type HandoverJob, type HandoverOptions } from '../../src/handover/job.ts';
import type { PaperPlatform } from '../../src/handover/part.ts';

const require = createRequire(import.meta.url);
const read = (file: string): Uint8Array => readFileSync(require.resolve(file));

/** The faces and the maker of pictures, as the command line hands them in. */
export const PLATFORM: PaperPlatform = {
  fonts: {
    working: read('@expo-google-fonts/source-sans-3/400Regular/SourceSans3_400Regular.ttf'),
    workingBold: read('@expo-google-fonts/source-sans-3/600SemiBold/SourceSans3_600SemiBold.ttf'),
    reading: read('@expo-google-fonts/source-serif-4/400Regular/SourceSerif4_400Regular.ttf'),
    more: read('dejavu-fonts-ttf/ttf/DejaVuSans.ttf'),
    moreBold: read('dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf'),
  },
  rasterise: (plan) => rasterise(plan, undefined),
  readSharePage: async () => readFileSync(new URL('../../dist/share/share.html', import.meta.url), 'utf8'),
};

export function jobOf(file: FloorFile, options: Partial<HandoverOptions> = {}): HandoverJob {
  const parsed = validateFloor(file);
  if (!parsed.ok) throw new Error(parsed.faults.map(formatFault).join('\n'));
  return createJob(parsed.floor, { paper: 'a4', scale: null, ...options });
}

export type Open<Value> = Value extends object ? { -readonly [Key in keyof Value]: Open<Value[Key]> } : Value;

export function readFloorFile(path: string, change: (floor: Open<FloorFile>) => void = () => {}): FloorFile {
  const floor = JSON.parse(readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8'));
  change(floor);
  return floor;
}
