import type { CheckResult } from '../core/coverage/index.ts';
import {
  type DetectorTypeId,
  type Floor,
  type FloorFile,
  formatFault,
  type Ring,
  resolveFloor,
  serialiseFloor,
  validateFloor,
} from '../core/floor/index.ts';
import {
  ARRANGE_DEFAULTS,
  type ArrangeNews,
  type ArrangeOptions,
  type ArrangeResult,
  arrange,
  type CandidateGrid,
  type Solver,
} from '../core/planning/arrange/index.ts';
import { ASSUMPTIONS, writeHeadline } from '../handover/plan/words.ts';
import { readArguments, readChoice, readNumber, seeHelp } from './arguments.ts';
import { readFloor, writeWhole } from './files.ts';
import { escapeJson, escapeText, formatTable, wrapText } from './text.ts';
import { describeSystemError, Unusable } from './unusable.ts';
import type { ExitCode, Output } from './verb.ts';

const MOST_METRES = 100;

/** The verb `arrange`. In a module of its own: nothing of it is loaded by the other verbs. */
export async function runArrange(words: readonly string[], output: Output): Promise<ExitCode> {
  const { values, positionals } = readArguments('arrange', words, {
    type: 'list',
    out: 'string',
    pitch: 'string',
    turns: 'string',
    keep: 'string',
    price: 'list',
    wall: 'string',
    outlet: 'string',
    lamp: 'string',
    avoid: 'list',
    needs: 'list',
    time: 'string',
    'off-grid': 'boolean',
    json: 'boolean',
  });
  const [path, ...more] = positionals;
  if (path === undefined) throw new Unusable('arrange: no floor is named.', seeHelp('arrange'));
  // `--type A B` reads well too: what follows the floor can only be types.
  const named = [...splitList(values.type), ...more];
  if (named.length === 0)
    throw new Unusable('arrange: no detector type is named. Name one with --type ID.', seeHelp('arrange'));
  if (values.out === undefined)
    throw new Unusable('arrange: no file to write to. Name one with --out FLOOR.', seeHelp('arrange'));
  const keep = readChoice('arrange', 'keep', values.keep, ['fixed', 'all', 'none'] as const);
  const metres = (option: 'wall' | 'outlet' | 'lamp') =>
    readNumber('arrange', option, values[option], 0, MOST_METRES, 'metres') ?? ARRANGE_DEFAULTS.keepOuts[option];

  const read = readFloor(path, undefined);
  const { file, types } = await addTypes(read.file, named);
  const floor = resolveFloor(file);
  const options: ArrangeOptions = {
    types,
    grid: readGrid(values.pitch),
    turns: readTurns(values.turns),
    kept: keep ?? ARRANGE_DEFAULTS.kept,
    keepOuts: {
      wall: metres('wall'),
      outlet: metres('outlet'),
      lamp: metres('lamp'),
      areas: readAreas(floor, splitList(values.avoid)),
    },
    prices: readPrices(splitList(values.price), types),
    needs: values.needs === undefined ? null : splitList(values.needs),
    seconds: readNumber('arrange', 'time', values.time, 0.1, 86_400, 'seconds') ?? ARRANGE_DEFAULTS.seconds,
    offGrid: values['off-grid'] === true,
  };

  output.progress('Loading the solver.');
  const { solver, fault } = await load();
  const arranged = arrange(file, options, {
    solver,
    now: () => performance.now(),
    shouldStop: () => false,
    onNews: (news) => output.progress(describeNews(news)),
  });
  output.progress('');
  if (!arranged.ok) throw new Unusable(`arrange: ${escapeText(arranged.text)}`);
  const { proposal, check } = arranged;
  const result: ArrangeResult = fault === null ? arranged.result : { ...arranged.result, failure: fault };
  const text = serialiseFloor(proposal.file);
  const judged = validateFloor(JSON.parse(text));
  if (!judged.ok) throw new Error(`The arranged floor is not valid: ${judged.faults.map(formatFault).join(' ')}`);
  writeWhole(values.out, text);
  if (values.json === true) {
    const document = { ...result, out: values.out, added: proposal.added, replacedIds: proposal.replaced };
    output.write(`${escapeJson(JSON.stringify(document, null, 2))}\n`);
  } else {
    output.write(`${writeSummary(judged.floor, result, check, values.out, output)}\n`);
  }
  return result.met ? 0 : 1;
}

/** The solver, or why there is none: the search then goes without it. */
async function load(): Promise<{ readonly solver: Solver | null; readonly fault: string | null }> {
  try {
    const { loadSolver } = await import('../workers/highs-solver.ts');
    return { solver: await loadSolver(), fault: null };
  } catch (error) {
    return { solver: null, fault: describeSystemError(error) };
  }
}

function splitList(values: readonly string[] | undefined): string[] {
  return (values ?? []).flatMap((value) => value.split(',')).filter((each) => each !== '');
}

/** Types by id, of the floor or else of the catalogue; those of the catalogue are added to the file. */
async function addTypes(
  file: FloorFile,
  named: readonly string[],
): Promise<{ readonly file: FloorFile; readonly types: DetectorTypeId[] }> {
  const own = new Set(file.types.map(({ id }) => id));
  const missing = [...new Set(named)].filter((id) => !own.has(id));
  const types = [...new Set(named)] as DetectorTypeId[];
  if (missing.length === 0) return { file, types };
  const { default: text } = await import('../../models/detectors/types.json?raw');
  const catalogue = (JSON.parse(text) as { types: FloorFile['types'] }).types;
  const added = missing.map((id) => {
    const found = catalogue.find((type) => type.id === id);
    if (found) return found;
    const known = [...own, ...catalogue.map((type) => type.id)].map(escapeText).join(', ');
    throw new Unusable(
      `arrange: there is no detector type ${escapeText(id)}. There are: ${known}.`,
      seeHelp('arrange'),
    );
  });
  return { file: { ...file, types: [...file.types, ...added] }, types };
}

function readGrid(word: string | undefined): CandidateGrid {
  if (word === undefined || word === 'tiles') return { kind: 'tiles' };
  const pitch = readNumber('arrange', 'pitch', word, 0.05, MOST_METRES, 'metres, or tiles');
  return pitch === undefined ? { kind: 'tiles' } : { kind: 'pitch', pitch };
}

function readTurns(word: string | undefined): readonly number[] {
  if (word === undefined) return ARRANGE_DEFAULTS.turns;
  return word.split(',').map((part) => {
    const turn = /^-?\d*\.?\d+$/.test(part) ? Number(part) : Number.NaN;
    if (Math.abs(turn) <= 3_600) return turn;
    throw new Unusable(
      `arrange: --turns is ${escapeText(word)}. It must be degrees with commas between: 0,90.`,
      seeHelp('arrange'),
    );
  });
}

function readPrices(words: readonly string[], types: readonly string[]): Record<string, number> {
  const prices: Record<string, number> = {};
  for (const word of words) {
    const at = word.lastIndexOf('=');
    const id = word.slice(0, Math.max(0, at));
    if (!types.includes(id)) {
      throw new Unusable(
        `arrange: --price is ${escapeText(word)}. It must be a chosen type, =, and a number: ${escapeText(types[0] ?? 'ID')}=1.`,
        seeHelp('arrange'),
      );
    }
    prices[id] = readNumber('arrange', 'price', word.slice(at + 1), 0.01, 1e9, 'in any currency') ?? 1;
  }
  return prices;
}

function readAreas(floor: Floor, ids: readonly string[]): Ring[] {
  return ids.map((id) => {
    const found = [...floor.zones, ...floor.rooms].find((each) => each.id === id);
    if (found) return found.outline;
    throw new Unusable(
      `arrange: --avoid is ${escapeText(id)}. There is no such zone or room on the floor.`,
      seeHelp('arrange'),
    );
  });
}

function describeNews({ stage, best, bound, seconds }: ArrangeNews): string {
  if (stage === 'seeing' || best === null) return 'Working out what every place sees.';
  const what = stage === 'off grid' ? 'Moving off the grid' : stage === 'checking' ? 'Checking' : 'Searching';
  const cost = best.cost === best.count ? '' : `, cost ${formatCost(best.cost)}`;
  return `${what}: ${best.count} detectors${cost}, at least ${formatCost(bound)}, ${seconds.toFixed(1)} s`;
}

function formatCost(cost: number): string {
  return Number.isInteger(cost) ? String(cost) : cost.toFixed(2);
}

function writeSummary(
  floor: Floor,
  result: ArrangeResult,
  check: CheckResult,
  out: string,
  { width, colour }: Pick<Output, 'width' | 'colour'>,
): string {
  const bold = (text: string) => (colour ? `\u001b[1m${text}\u001b[22m` : text);
  const wrap = (text: string) => wrapText(escapeText(text).replaceAll('\u00a0', ' '), width);
  const counts = result.types.map((id) => {
    const name = floor.types.find((type) => type.id === id)?.name ?? id;
    return `${result.places.filter(({ type }) => type === id).length} × ${name}`;
  });
  const priced = result.cost !== result.count ? `, cost ${formatCost(result.cost)}` : '';
  const bound = `at least ${formatCost(result.bound)}, greedy ${formatCost(result.greedyCost)}`;
  const stay = result.staying > 0 ? ` ${result.staying} stay.` : '';
  const [seats, allSeats] = result.workplacesMet;
  const [zones, allZones] = result.zonesMet;
  const fails = check.findings.filter(({ level }) => level === 'fail').length;
  const lines = [
    bold(escapeText(result.floor)),
    ...wrap(`${result.count} new detectors (${counts.join(', ')})${priced}: ${bound}. ${result.statement}${stay}`).map(
      bold,
    ),
    ...wrap(`Workplaces met: ${seats} of ${allSeats}. Zones met: ${zones} of ${allZones}.`),
    ...wrap(writeHeadline(floor, check).join(' ')),
    '',
    ...formatTable(
      [{ title: 'stage' }, { title: 'seconds', flush: 'right' }],
      [
        ['what every place sees', result.seconds.seeing.toFixed(2)],
        ['first sufficient arrangement', result.seconds.first.toFixed(2)],
        ['all', result.seconds.all.toFixed(2)],
      ],
    ),
    '',
    ...wrap(
      `${result.grid.places} places of the grid, ${result.grid.keptOut} taken by keep-outs, ${result.grid.candidates} candidates; left after reduction: ${result.reduced.columns} candidates, ${result.reduced.rows} rows, ${result.reduced.parts} parts, ${result.reduced.essential} without a choice.`,
    ),
    ...result.notes.flatMap(wrap),
    ...result.unmet.flatMap(({ text }) => wrap(`not met  ${text}`)),
    ...(fails > 0
      ? wrap(`The check of the arranged floor has ${fails} findings of level fail: lacuna check ${out}`)
      : []),
    ...wrap(`Written to ${out}.`),
    '',
    ...wrap(ASSUMPTIONS),
  ];
  return lines.join('\n');
}
