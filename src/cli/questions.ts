/** Answers to what `check` is asked besides verdicts: as a document, and as tables for a reader. */
import type { Floor } from '../core/floor/index.ts';
import type { BodyField } from '../core/planning/question/bodies.ts';
import { computeBodies } from '../core/planning/question/bodies.ts';
import type { MoveRoomResult } from '../core/planning/question/move-room.ts';
import { findMoveRoom } from '../core/planning/question/move-room.ts';
import type { StressResult } from '../core/planning/question/stress.ts';
import { stressFloor } from '../core/planning/question/stress.ts';
import type { SweepResult } from '../core/planning/question/sweep.ts';
import { sweepHeights } from '../core/planning/question/sweep.ts';
import { formatShare } from '../handover/plan/words.ts';
import { seeHelp } from './arguments.ts';
import { type Column, escapeText, formatMetres, formatTable, wrapText } from './text.ts';
import { Unusable } from './unusable.ts';
import type { Output } from './verb.ts';

/** What is asked: an option that is there, or its value. */
export interface Asked {
  readonly stress?: boolean;
  readonly 'move-room'?: boolean;
  readonly bodies?: boolean;
  readonly sweep?: string;
}

interface Answer {
  readonly key: string;
  readonly document: unknown;
  readonly text: string;
}

const RIGHT = 'right';

/** @throws {Unusable} for pieces that are not on the floor. */
export function answer(floor: Floor, asked: Asked, output: Output): Answer[] {
  const onProgress = (what: string) => (share: number) => output.progress(`${what}: ${Math.round(share * 100)} %`);
  const answers: Answer[] = [];
  if (asked.stress) {
    const document = stressFloor(floor, onProgress('Stress'));
    answers.push({ key: 'stress', document, text: writeStress(floor, document, output) });
  }
  if (asked['move-room']) {
    const document = findMoveRoom(floor, {}, onProgress('Move-room'));
    answers.push({ key: 'moveRoom', document, text: writeMoveRoom(floor, document, output) });
  }
  if (asked.bodies) {
    const fields = [computeBodies(floor, 'seated'), computeBodies(floor, 'standing')];
    const document = fields.map(({ posture, slices, workplaces }) => ({ posture, slices, workplaces }));
    answers.push({ key: 'bodies', document, text: writeBodies(floor, fields, output) });
  }
  if (asked.sweep !== undefined) {
    const document = sweepHeights(floor, listPieces(floor, asked.sweep));
    answers.push({ key: 'sweep', document, text: writeSweep(floor, document, output) });
  }
  output.progress('');
  return answers;
}

/** Ids and kinds of furniture, with commas between. */
function listPieces(floor: Floor, words: string): string[] {
  return words.split(',').flatMap((word) => {
    const name = word.trim();
    const pieces = floor.furniture.filter((piece) => piece.id === name || piece.kind === name);
    if (pieces.length === 0) {
      throw new Unusable(
        `check: --sweep names ${escapeText(name)}, which is no piece and no kind of furniture on this floor.`,
        seeHelp('check'),
      );
    }
    return pieces.map((piece) => piece.id);
  });
}

type Style = Pick<Output, 'width' | 'colour'>;

function titled(style: Style, title: string, lines: readonly string[]): string {
  return [style.colour ? `\u001b[1m${title}\u001b[22m` : title, ...lines].join('\n');
}

function nameIn(things: readonly { readonly id: string; readonly name: string }[], id: string): string {
  const name = things.find((thing) => thing.id === id)?.name ?? '';
  return name === '' || name === id ? id : `${name} (${id})`;
}

function writeStress(floor: Floor, { cases, workplaces, holds }: StressResult, style: Style): string {
  const costly = cases.filter(({ lost }) => lost.workplaces.length + lost.zones.length + lost.entrances.length > 0);
  const headline = holds
    ? `Nothing is lost in any of ${cases.length} cases.`
    : `${costly.length} of ${cases.length} cases lose something that is met as drawn.`;
  const rows = costly.map(({ text, workplacesMet, lost }) => [
    text,
    `${workplacesMet[0]} of ${workplacesMet[1]}`,
    [...lost.workplaces, ...lost.zones, ...lost.entrances].join(', '),
  ]);
  const caseColumns: Column[] = [{ title: 'case' }, { title: 'workplaces met', flush: RIGHT }, { title: 'lost' }];
  const worst = workplaces.filter((each) => each.met && each.worst && !each.worst.met);
  const worstColumns: Column[] = [
    { title: 'workplace' },
    { title: 'as drawn', flush: RIGHT },
    { title: 'at worst', flush: RIGHT },
    { title: 'when' },
  ];
  return titled(style, 'Stress', [
    ...wrapText(headline, style.width),
    ...(rows.length > 0 ? ['', ...formatTable(caseColumns, rows)] : []),
    ...(worst.length > 0
      ? [
          '',
          ...formatTable(
            worstColumns,
            worst.map(({ id, share, worst: at }) => [
              nameIn(floor.workplaces, id),
              formatShare(share),
              formatShare(at?.share ?? null),
              cases[at?.case ?? 0]?.text ?? '',
            ]),
          ),
        ]
      : []),
  ]);
}

function writeMoveRoom(floor: Floor, { detectors, within }: MoveRoomResult, style: Style): string {
  const critical = detectors.filter((each) => each.critical).length;
  const columns: Column[] = [
    { title: 'detector' },
    { title: 'on' },
    { title: 'may hang at', flush: RIGHT },
    { title: 'of', flush: RIGHT },
    { title: '' },
    { title: 'places' },
  ];
  const rows = detectors.map(({ detector, on, places, allowed, critical: only }) => [
    nameIn(floor.detectors, detector),
    on,
    String(allowed),
    String(places.length),
    only ? 'critical' : '',
    places
      .filter((place) => place.allowed)
      .slice(1, 5)
      .map(({ at }) => `(${formatMetres(at[0])}, ${formatMetres(at[1])})`)
      .join(' ') + (allowed > 5 ? ' …' : ''),
  ]);
  const headline = `Within ${within} m, every need still met, the others where they are. ${critical} of ${detectors.length} may hang nowhere else.`;
  return titled(style, 'Move-room', [...wrapText(headline, style.width), '', ...formatTable(columns, rows)]);
}

function writeBodies(floor: Floor, fields: readonly BodyField[], style: Style): string {
  const columns: Column[] = [
    { title: 'workplace' },
    { title: 'body seen', flush: RIGHT },
    { title: '' },
    { title: 'seen by' },
  ];
  const rows = fields.flatMap(({ workplaces }) =>
    workplaces
      .filter(({ view }) => view !== 'whole')
      .map(({ id, share, view, seenBy }) => [
        nameIn(floor.workplaces, id),
        formatShare(share),
        view,
        seenBy
          .slice(0, 4)
          .map((each) => `${each.detector} ${formatShare(each.share)}`)
          .join(', '),
      ]),
  );
  const all = fields.reduce((sum, { workplaces }) => sum + workplaces.length, 0);
  const headline = `The body of a small woman (5th percentile, open ANSUR II survey) at the chair's centre, tops nobody measured taken tall: ${all - rows.length} of ${all} are seen whole.`;
  return titled(style, 'Bodies', [
    ...wrapText(headline, style.width),
    ...(rows.length > 0 ? ['', ...formatTable(columns, rows)] : []),
  ]);
}

function writeSweep(floor: Floor, { pieces, points, workplaces, free }: SweepResult, style: Style): string {
  const columns: Column[] = [
    { title: 'top m', flush: RIGHT },
    { title: 'seated', flush: RIGHT },
    { title: 'walking', flush: RIGHT },
    { title: 'seated blind m²', flush: RIGHT },
    { title: 'walking blind m²', flush: RIGHT },
    { title: 'workplaces met', flush: RIGHT },
  ];
  const rows = points.map((point) => [
    formatMetres(point.top),
    formatShare(point.seatedShare),
    formatShare(point.walkingShare),
    formatMetres(point.seatedBlindM2),
    formatMetres(point.walkingBlindM2),
    `${point.workplacesMet[0]} of ${point.workplacesMet[1]}`,
  ]);
  const dark = workplaces.map(({ id, metUpTo }) => [
    nameIn(floor.workplaces, id),
    metUpTo === null ? 'not at the lowest' : `${formatMetres(metUpTo)} m`,
  ]);
  const headline =
    workplaces.length === 0
      ? `${pieces.length} pieces: no workplace depends on their height.`
      : `${pieces.length} pieces: at ${free === null ? 'no height' : `${formatMetres(free)} m or less`} they cost no workplace.`;
  return titled(style, 'Heights', [
    ...wrapText(headline, style.width),
    '',
    ...formatTable(columns, rows),
    ...(dark.length > 0 ? ['', ...formatTable([{ title: 'workplace' }, { title: 'met up to' }], dark)] : []),
  ]);
}
