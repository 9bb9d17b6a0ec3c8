/** The verb `import`: reads a source in this process, puts one storey together and writes it. */
import { readdirSync, statSync } from 'node:fs';
import { basename, join } from 'node:path';
import { type FloorFile, LIMITS, serialiseFloor } from '../core/floor/index.ts';
import { computeSignedArea } from '../core/geometry/polygon.ts';
import { type FloorUpdate, updateFromSource } from '../importers/again/update.ts';
import { ASSUMED, type ImportAnswers, type PieceKind, WIDEST_GAP } from '../importers/assembly/answers.ts';
import { assembleFloor } from '../importers/assembly/assemble.ts';
import { writeReport } from '../importers/assembly/report.ts';
import { DXF_CLASSES, type DxfClass } from '../importers/dxf/names.ts';
import { DXF_UNITS } from '../importers/dxf/units.ts';
import type { NamedBytes } from '../importers/geojson/read.ts';
import { findMainStorey, nameOfStorey, readSource, type SourceAnswers } from '../importers/source.ts';
import type { DrawnStorey, ReadSource } from '../importers/storey.ts';
import { readArguments, readChoice, readNumber, seeHelp } from './arguments.ts';
import { readBytes, readFloor, writeWhole } from './files.ts';
import { openEngine } from './guarded-engine.ts';
import { escapeJson, escapeText, formatTable } from './text.ts';
import { Unusable } from './unusable.ts';
import type { ExitCode, Output } from './verb.ts';

const MOST_BYTES = 1_000_000_000;
const MOST_FILES = 200;
const NAMED_STOREYS = 40;
const PIECE_KINDS = Object.keys(ASSUMED) as PieceKind[];

export async function runImport(words: readonly string[], output: Output): Promise<ExitCode> {
  const { values, positionals } = readArguments('import', words, {
    out: 'string',
    storey: 'string',
    list: 'boolean',
    onto: 'string',
    report: 'string',
    json: 'boolean',
    unit: 'string',
    ceiling: 'string',
    gap: 'string',
    rooms: 'string',
    class: 'list',
    height: 'list',
    'no-seats': 'boolean',
  });
  if (positionals.length === 0) throw new Unusable('import: no source is named.', seeHelp('import'));
  if (values.out === undefined && values.list !== true)
    throw new Unusable(
      'import: no file to write to. Name one with --out FLOOR, or list the storeys with --list.',
      seeHelp('import'),
    );
  const answers = readAnswers(values);
  const unit = readChoice('import', 'unit', values.unit, [...DXF_UNITS, 'degrees'] as const);
  const onto = values.onto === undefined ? null : readFloor(values.onto, undefined).file;

  const sourceAnswers = readSourceAnswers(values.class, unit, answers);
  const files = readSources(positionals);
  const shown = positionals.length === 1 ? escapeText(positionals[0] ?? '') : 'The sources';
  const { source } = await readSource(files, sourceAnswers, { ifcApi: openEngine() }, (share, stage) =>
    output.progress(`${escapeText(stage)}: ${Math.round(share * 100)} %`),
  );
  output.progress('');
  if (!source.ok)
    throw new Unusable(`${shown}: ${escapeText(sentence(source.reason))}`, escapeText(sentence(source.remedy)));
  if (values.list === true) {
    output.write(values.json === true ? writeJson(listStoreys(source)) : writeStoreys(source));
    return 0;
  }

  const storey = chooseStorey(source, values.storey, shown, output);
  output.progress('Putting the floor together.');
  const { floor: fresh, report } = assembleFloor(storey, answers, source);
  const update = onto === null ? null : updateFromSource(onto, fresh);
  output.progress('');
  if (fresh.rooms.length === 0) {
    throw new Unusable(
      `${shown}: no rooms were found in ${escapeText(nameOfStorey(source, storey))}: ${storey.rooms.length} drawn outlines, ${storey.walls.length} walls, which enclose nothing.`,
      'Close wider gaps with --gap, say which layer holds the walls with --class, or choose another storey.',
    );
  }
  if (update?.ok === false) {
    throw new Unusable(
      `${escapeText(values.onto ?? '')}: the newer version and what is on the floor cannot stand together.`,
      ...update.reasons.map(escapeText),
      'Move the things named, then import again; or import without --onto.',
    );
  }
  const floor = update?.ok === true ? update.floor : fresh;
  const text = writeReport(report) + (update?.ok === true ? writeUpdate(update) : '');
  writeWhole(values.out ?? '', serialiseFloor(floor));
  if (values.report !== undefined) writeWhole(values.report, text);
  if (values.json === true) {
    const { remarks, counts, format, origin } = report;
    const document = {
      format: 'lacuna-import/1',
      source: report.source,
      read: format,
      storey: nameOfStorey(source, storey),
      storeys: source.storeys.map((each) => nameOfStorey(source, each)),
      origin,
      counts,
      areaM2: round(measureRooms(floor)),
      remarks,
      ...(update?.ok === true ? { changes: update.changes, unchanged: update.unchanged } : {}),
    };
    output.write(writeJson(document));
  } else output.write(text.split('\n').map(escapeText).join('\n'));
  return 0;
}

/** The files named, or those of a folder of maps. */
function readSources(paths: readonly string[]): readonly NamedBytes[] {
  return paths.flatMap((path) => {
    const stat = path === '-' ? undefined : statSync(path, { throwIfNoEntry: false });
    if (stat?.isDirectory() !== true) return [{ name: basename(path), bytes: readBytes(path, MOST_BYTES) }];
    const names = readdirSync(path)
      .filter((name) => /\.(?:geo)?json$/iu.test(name))
      .sort();
    if (names.length === 0)
      throw new Unusable(`${escapeText(path)}: is a folder without maps (.geojson, .json). Name a file in it.`);
    if (names.length > MOST_FILES)
      throw new Unusable(`${escapeText(path)}: has ${names.length} files. At most ${MOST_FILES} are read together.`);
    return names.map((name) => ({ name: `${basename(path)}/${name}`, bytes: readBytes(join(path, name), MOST_BYTES) }));
  });
}

interface AnswerWords {
  readonly ceiling?: string;
  readonly gap?: string;
  readonly rooms?: string;
  readonly height?: readonly string[];
  readonly 'no-seats'?: boolean;
}

function readAnswers(words: AnswerWords): ImportAnswers {
  const ceiling = readNumber('import', 'ceiling', words.ceiling, 0.5, LIMITS.height, 'metres');
  const gap = readNumber('import', 'gap', words.gap, 0, WIDEST_GAP, 'metres');
  const rooms = readChoice('import', 'rooms', words.rooms, ['auto', 'drawn', 'walls', 'both'] as const);
  const heights = new Map<PieceKind, number>();
  for (const word of words.height ?? []) {
    const [name, value] = splitPair('height', word, 'KIND=M');
    const kind = readChoice('import', 'height', name, PIECE_KINDS);
    const height = readNumber('import', 'height', value, 0.01, LIMITS.height, 'metres');
    if (kind !== undefined && height !== undefined) heights.set(kind, height);
  }
  return {
    ...(ceiling === undefined ? {} : { ceiling }),
    ...(gap === undefined ? {} : { gap }),
    ...(rooms === undefined ? {} : { rooms }),
    ...(words['no-seats'] === true ? { seats: false } : {}),
    heights: Object.fromEntries(heights),
  };
}

function readSourceAnswers(
  classes: readonly string[] | undefined,
  unit: (typeof DXF_UNITS)[number] | 'degrees' | undefined,
  { gap }: ImportAnswers,
): SourceAnswers {
  const byName: Record<string, DxfClass> = {};
  for (const word of classes ?? []) {
    const [name, value] = splitPair('class', word, 'LAYER=WHAT');
    const kind = readChoice('import', 'class', value, DXF_CLASSES);
    if (kind !== undefined) byName[name] = kind;
  }
  return {
    dxf: {
      layers: byName,
      blocks: byName,
      ...(unit === undefined || unit === 'degrees' ? {} : { unit }),
      ...(gap === undefined ? {} : { gapM: gap }),
    },
    geoJson: unit === 'm' || unit === 'degrees' ? { unit } : {},
  };
}

/** A name and a value; a name may hold the sign itself, so the last one parts them. */
function splitPair(option: string, word: string, form: string): readonly [string, string] {
  const at = word.lastIndexOf('=');
  if (at < 1) throw new Unusable(`import: --${option} is ${escapeText(word)}. It must be ${form}.`, seeHelp('import'));
  return [word.slice(0, at), word.slice(at + 1)];
}

function chooseStorey(source: ReadSource, name: string | undefined, shown: string, output: Output): DrawnStorey {
  const { storeys } = source;
  const names = storeys.map((storey) => nameOfStorey(source, storey));
  if (name !== undefined) {
    const index = [
      names.indexOf(name),
      names.findIndex((each) => each.toLowerCase() === name.trim().toLowerCase()),
      /^\d+$/u.test(name) ? Number(name) - 1 : -1,
    ].find((each) => each >= 0 && each < storeys.length);
    const storey = index === undefined ? undefined : storeys[index];
    if (storey !== undefined) return storey;
    const known = names.slice(0, NAMED_STOREYS).map(escapeText).join(', ');
    throw new Unusable(`${shown}: has no storey ${escapeText(name)}. It has: ${known}.`, seeHelp('import'));
  }
  const main = findMainStorey(source);
  if (main === undefined) throw new Unusable(`${shown}: has no storeys.`);
  if (storeys.length > 1)
    output.complain(
      `${shown}: has ${storeys.length} storeys; ${escapeText(nameOfStorey(source, main))} is taken, with most rooms (${main.rooms.length}). Choose with --storey.`,
    );
  return main;
}

function listStoreys(source: ReadSource) {
  const storeys = source.storeys.map((storey) => ({
    name: nameOfStorey(source, storey),
    elevation: storey.elevation,
    rooms: storey.rooms.length,
    walls: storey.walls.length,
    openings: storey.openings.length,
    pieces: storey.pieces.length,
    workplaces: storey.workplaces.length,
  }));
  return { format: 'lacuna-import/1', source: source.name, read: source.format, storeys };
}

function writeStoreys(source: ReadSource): string {
  const right = { flush: 'right' } as const;
  const lines = formatTable(
    [
      { title: 'storey' },
      { title: 'elevation m', ...right },
      { title: 'rooms', ...right },
      { title: 'walls', ...right },
      { title: 'openings', ...right },
      { title: 'pieces', ...right },
    ],
    source.storeys.map((storey) => [
      nameOfStorey(source, storey),
      storey.elevation === null ? '' : storey.elevation.toFixed(2),
      ...[storey.rooms, storey.walls, storey.openings, storey.pieces].map((list) => String(list.length)),
    ]),
  );
  return `${escapeText(source.name)} (${escapeText(source.format)})\n${lines.join('\n')}\n`;
}

function writeUpdate({ changes, unchanged }: FloorUpdate & { readonly ok: true }): string {
  const lines = changes.map(({ fate, list, id, name, at, what }) => {
    const called = name === '' ? id : `${name} (${id})`;
    return `  ${fate}: ${called} of ${list} at ${at[0].toFixed(2)}, ${at[1].toFixed(2)}${what === '' ? '' : `: ${what}`}`;
  });
  return ['', `Against the older version: ${unchanged} unchanged, ${changes.length} different`, ...lines, ''].join(
    '\n',
  );
}

function writeJson(document: unknown): string {
  return `${escapeJson(JSON.stringify(document, null, 2))}\n`;
}

function measureRooms(floor: FloorFile): number {
  const size = (ring: Parameters<typeof computeSignedArea>[0]): number => Math.abs(computeSignedArea(ring));
  return floor.rooms.reduce(
    (sum, { outline, holes = [] }) => sum + size(outline) - holes.reduce((part, hole) => part + size(hole), 0),
    0,
  );
}

function round(value: number): number {
  return Math.round(value * 1000) / 1000;
}

function sentence(text: string): string {
  return /[.!?]$/u.test(text) ? text : `${text}.`;
}
