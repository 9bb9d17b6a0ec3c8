/** What `check` says to a reader: the headline, what fails, then tables of everything that was judged. */
import type { CheckResult, Finding, Level } from '../core/coverage/index.ts';
import type { Floor } from '../core/floor/index.ts';
import { ASSUMPTIONS, formatShare, writeHeadline } from '../handover/plan/words.ts';
import { type Column, escapeText, formatMetres, formatTable, wrapText } from './text.ts';

/** How a report is set: cells to a line, and whether the terminal shows colour. */
export interface ReportStyle {
  readonly width: number;
  readonly colour: boolean;
}

const LEVELS: readonly Level[] = ['fail', 'warn', 'note'];
const MOST_FINDINGS: Readonly<Record<Level, number>> = { fail: Number.POSITIVE_INFINITY, warn: 8, note: 4 };
const MOST_BLIND = 10;
const RIGHT = 'right';

/** The report on one floor, without a line break at its end. */
export function writeReport(floor: Floor, result: CheckResult, style: ReportStyle): string {
  const bold = (text: string) => (style.colour ? `\u001b[1m${text}\u001b[22m` : text);
  const nameOf = createNames(floor);
  const headline = writeHeadline(floor, result).map(escapeText).join(' ');
  const lines = [
    bold(escapeText(result.floor)),
    ...wrapText(headline, style.width).map((line) => bold(line.replaceAll('\u00a0', ' '))),
  ];
  const section = (title: string, columns: readonly Column[], rows: readonly (readonly string[])[]): void => {
    if (rows.length > 0) lines.push('', bold(title), ...formatTable(columns, rows));
  };

  lines.push(...writeFindings(result.findings, style));
  section(
    'Planes',
    [
      { title: '' },
      { title: 'height m', flush: RIGHT },
      { title: 'floor m²', flush: RIGHT },
      { title: 'seen m²', flush: RIGHT },
      { title: 'seen', flush: RIGHT },
    ],
    (['seated', 'walking'] as const).map((name) => {
      const plane = result.planes[name];
      return [
        name,
        formatMetres(plane.height),
        formatMetres(plane.areaM2),
        formatMetres(plane.seenM2),
        formatShare(plane.share),
      ];
    }),
  );
  const unmet = result.workplaces.filter((each) => !each.met);
  section(
    `Workplaces not met: ${unmet.length} of ${result.workplaces.length}`,
    [
      { title: 'workplace' },
      { title: 'seen', flush: RIGHT },
      { title: 'level' },
      { title: 'seen by' },
      { title: 'seen by others' },
      { title: 'hidden by' },
    ],
    unmet.map((each) => [
      nameOf(each.id),
      formatShare(each.share),
      each.level,
      each.seenBy.map(nameOf).join(', '),
      each.seenByOther.map(nameOf).join(', '),
      each.hiddenBy.map(nameOf).join(', '),
    ]),
  );
  section(
    'Rooms',
    [{ title: 'room' }, { title: 'seated', flush: RIGHT }, { title: 'walking', flush: RIGHT }],
    result.rooms.map((each) => [nameOf(each.id), formatShare(each.seated), formatShare(each.walking)]),
  );
  section(
    'Zones',
    [{ title: 'zone' }, { title: 'need' }, { title: 'seen', flush: RIGHT }, { title: 'verdict' }],
    result.zones.map((each) => [nameOf(each.id), each.need, formatShare(each.share), sayMet(each.met)]),
  );
  const blind = [...result.blind].sort((a, b) => b.areaM2 - a.areaM2);
  section(
    blind.length > MOST_BLIND ? `Blind areas: the largest ${MOST_BLIND} of ${blind.length}` : 'Blind areas',
    [
      { title: 'plane' },
      { title: 'm²', flush: RIGHT },
      { title: 'x m', flush: RIGHT },
      { title: 'y m', flush: RIGHT },
      { title: 'cause' },
      { title: 'by' },
    ],
    blind
      .slice(0, MOST_BLIND)
      .map((each) => [
        each.plane,
        formatMetres(each.areaM2),
        formatMetres(each.at[0]),
        formatMetres(each.at[1]),
        each.cause,
        each.by === null ? '' : nameOf(each.by),
      ]),
  );
  section(
    'Entrances',
    [{ title: 'opening' }, { title: 'into' }, { title: 'first seen after', flush: RIGHT }],
    [...result.entrances]
      .sort((a, b) => (b.firstSeenM ?? Number.POSITIVE_INFINITY) - (a.firstSeenM ?? Number.POSITIVE_INFINITY))
      .map((each) => [
        nameOf(each.id),
        nameOf(each.room),
        each.firstSeenM === null ? 'never' : `${formatMetres(each.firstSeenM)} m`,
      ]),
  );
  section(
    'Spill',
    [{ title: 'group' }, { title: 'sees of' }, { title: 'm²', flush: RIGHT }],
    result.spill.map((each) => [nameOf(each.group), nameOf(each.room), formatMetres(each.areaM2)]),
  );
  section(
    'Sources',
    [{ title: 'source' }, { title: 'seen by' }, { title: 'near' }, { title: 'masks that would hide it' }],
    result.sources.map((each) => [
      nameOf(each.id),
      each.seenBy.map(nameOf).join(', ') || 'none',
      each.near ? 'too near' : 'no',
      each.masks
        .map((mask) => `${nameOf(mask.detector)} ${mask.from}–${mask.to}° nadir ${mask.inner}–${mask.outer}°`)
        .join('; '),
    ]),
  );
  section(
    'Detectors',
    [
      { title: 'detector' },
      { title: 'seated m²', flush: RIGHT },
      { title: 'walking m²', flush: RIGHT },
      { title: 'alone m²', flush: RIGHT },
    ],
    result.detectors.map((each) => [
      nameOf(each.id),
      formatMetres(each.seatedM2),
      formatMetres(each.walkingM2),
      formatMetres(each.aloneM2),
    ]),
  );
  section(
    'Groups',
    [{ title: 'group' }, { title: 'verdict' }],
    result.groups.map((each) => [nameOf(each.id), sayMet(each.met)]),
  );
  return [...lines, '', ...wrapText(ASSUMPTIONS, style.width)].join('\n');
}

/** Everything that fails, then the first of what is less; the JSON has them all. */
function writeFindings(findings: readonly Finding[], style: ReportStyle): string[] {
  const lines: string[] = [];
  const left: string[] = [];
  for (const level of LEVELS) {
    const found = findings.filter((finding) => finding.level === level);
    for (const finding of found.slice(0, MOST_FINDINGS[level])) {
      const word = level === 'fail' && style.colour ? `\u001b[1;31m${level}\u001b[22;39m` : level;
      const [first, ...rest] = wrapText(escapeText(finding.text), Math.max(40, style.width - 6));
      lines.push(`${word}  ${first ?? ''}`, ...rest.map((line) => `      ${line}`));
    }
    const more = found.length - MOST_FINDINGS[level];
    if (more > 0) left.push(`${more} more of level ${level}`);
  }
  if (left.length > 0) lines.push(`And ${left.join(' and ')}: --json lists them all.`);
  return lines.length === 0 ? [] : ['', ...lines];
}

/** Ids as a reader knows them: `Screen 4 (S4)`; the id alone where the name says no more. */
function createNames(floor: Floor): (id: string) => string {
  const names = new Map<string, string>();
  for (const list of [
    floor.rooms,
    floor.furniture,
    floor.luminaires,
    floor.workplaces,
    floor.zones,
    floor.sources,
    floor.detectors,
    floor.groups,
  ]) {
    for (const { id, name } of list) names.set(id, name);
  }
  return (id) => {
    const name = names.get(id);
    return name === undefined || name === '' || name === id ? id : `${name} (${id})`;
  };
}

function sayMet(met: boolean): string {
  return met ? 'met' : 'not met';
}
