/** What an import tells: kept with the floor in short form, shown on the page, saved as text. */
import type { FloorFile, Point } from '../../core/floor/index.ts';
import type { ReadSource, Remark } from '../storey.ts';

export interface ImportReport {
  /** The source's file name. */
  readonly source: string;
  readonly format: string;
  readonly storey: string;
  /** Taken off every coordinate, metres. */
  readonly origin: Point;
  /** Things taken as rooms, openings and so on. */
  readonly counts: Readonly<Record<string, number>>;
  /** What was guessed, left out and taken, in this order. */
  readonly remarks: readonly Remark[];
}

/** What an assembly is told of where a storey comes from. */
export type SourceWords = Pick<ReadSource, 'name' | 'format' | 'origin' | 'remarks'>;

const MOST_REMARKS = 100;
const KEPT_PLACES = 50;
/** Places kept of all lines together, the first lines' first. */
const ALL_PLACES = 1_000;
const KEPT_TEXT = 300;
const KEPT_NAME = 120;

/** The report as a floor's notes keep it: bounded, plain JSON. */
export function shortenReport(report: ImportReport) {
  const clip = (text: string, most = KEPT_TEXT): string => text.slice(0, most).replace(/[\uD800-\uDBFF]$/u, '');
  const round = (value: number): number => Math.round(value * 1000) / 1000;
  let left = ALL_PLACES;
  return {
    source: clip(report.source),
    format: clip(report.format),
    storey: clip(report.storey),
    origin: report.origin,
    counts: report.counts,
    remarks: report.remarks.slice(0, MOST_REMARKS).map(({ fate, what, count, reason, places }) => {
      const kept = places.slice(0, Math.min(KEPT_PLACES, left));
      left -= kept.length;
      return {
        fate,
        what: clip(what),
        count,
        reason: clip(reason),
        places: kept.map(({ key, name, at }) => ({
          key: clip(key, KEPT_NAME),
          name: clip(name, KEPT_NAME),
          at: at?.every(Number.isFinite) === true ? [round(at[0]), round(at[1])] : null,
        })),
      };
    }),
  };
}

const TITLES: Readonly<Record<Remark['fate'], string>> = { guessed: 'Guessed', 'left out': 'Left out', taken: 'Taken' };
const NAMED = 8;

/** The report as plain text, a line each. */
export function writeReport(report: ImportReport): string {
  const lines = [
    `Import of ${line(report.source)}${report.storey === '' ? '' : `, storey ${line(report.storey)}`} (${report.format})`,
  ];
  lines.push(`The floor has ${sayCounts(report.counts) || 'nothing on it'}.`);
  const [x, y] = report.origin;
  if (x !== 0 || y !== 0) lines.push(`Taken off every coordinate: ${x} m in x, ${y} m in y.`);
  for (const fate of ['guessed', 'left out', 'taken'] as const) {
    const remarks = report.remarks.filter((remark) => remark.fate === fate);
    if (remarks.length === 0) continue;
    lines.push('', TITLES[fate]);
    for (const remark of remarks) {
      lines.push(`  ${line(remark.what)} (${remark.count})${remark.reason === '' ? '' : `: ${line(remark.reason)}`}`);
      const places =
        fate === 'taken'
          ? []
          : remark.places
              .slice(0, NAMED)
              .map(writePlace)
              .filter((place) => place !== '');
      if (places.length > 0) lines.push(`    ${places.join('; ')}${remark.count > places.length ? '; …' : ''}`);
    }
  }
  return `${lines.join('\n')}\n`;
}

function writePlace({ key, name, at }: Remark['places'][number]): string {
  const called = line(name === '' ? key : name);
  const where = at === null ? '' : `at ${at[0].toFixed(2)}, ${at[1].toFixed(2)}`;
  return [called, where].filter((part) => part !== '').join(' ');
}

/** A text of the source on one line. */
function line(text: string): string {
  return text.replace(/[\p{Cc}\p{Zl}\p{Zp}\u202a-\u202e\u2066-\u2069]+/gu, ' ').trim();
}

/** `22 rooms, 1 door`: what there is of, in the words of `countThings`; empty for nothing. */
export function sayCounts(counts: ImportReport['counts']): string {
  const say = ([what, count]: readonly [string, number]): string =>
    `${count} ${count === 1 ? what.replace(/^(\w+)s\b/u, '$1') : what}`;
  return Object.entries(counts)
    .filter(([, count]) => count > 0)
    .map(say)
    .join(', ');
}

/** How many things of each kind a floor has, in words of a report. */
export function countThings(floor: FloorFile): Readonly<Record<string, number>> {
  const openings = floor.openings ?? [];
  const kind = (word: string): number => openings.filter((opening) => opening.kind === word).length;
  return {
    rooms: floor.rooms.length,
    doors: kind('door'),
    windows: kind('window'),
    passages: kind('passage'),
    'pieces of furniture': floor.furniture?.length ?? 0,
    luminaires: floor.luminaires?.length ?? 0,
    workplaces: floor.workplaces?.length ?? 0,
    sources: floor.sources?.length ?? 0,
  };
}
