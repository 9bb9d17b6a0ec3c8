/** Mask templates as one document and as single drawings, at 1:1. */
import type { PdfContent, PdfNode } from 'pdfmake/build/pdfmake.js';
import type { Detector, Floor, Point } from '../../core/floor/index.ts';
import type { HandoverJob } from '../job.ts';
import { createSplitRuns, type FontFiles } from '../paper/fonts.ts';
import { printPdf } from '../paper/printer.ts';
import { printedArea } from '../paper/sizes.ts';
import type { HandoverFile, PartOutput } from '../part.ts';
import { definePages } from '../report/report.ts';
import { createSetter, listOf, paragraph, type Setter } from '../report/setter.ts';
import { createSetOut } from '../set-out.ts';
import { findMaskFacts } from './mask-facts.ts';
import { drawTemplate, type Template, type TemplateFacts } from './template.ts';

/** A masked detector with its template, or with the reason why it has none. */
interface Masked {
  readonly detector: Detector;
  readonly facts: TemplateFacts | null;
}

/** One page a masked detector: its template twice where the paper holds both, what it hides and what it costs. */
export async function makeMasks(job: HandoverJob, fonts: FontFiles): Promise<PartOutput> {
  const masked = listMasked(job);
  const refusals = masked.flatMap(({ detector, facts }) => (facts === null ? [refuse(job, detector)] : []));
  if (masked.length === 0)
    return { files: [], refusals: ['No detector wears a mask, so there is no template to make.'] };
  const setter = createSetter(createSplitRuns(fonts));
  const files: HandoverFile[] = [];
  const pages: PdfContent[] = [];
  for (const { detector, facts } of masked) {
    if (facts === null) continue;
    const template = drawTemplate(facts);
    files.push({ name: `masks/${toFileName(facts.name)}.svg`, mime: 'image/svg+xml', content: `${template.svg}\n` });
    pages.push(...writePage(job, setter, detector, facts, template, pages.length > 0));
  }
  if (files.length === 0) return { files, refusals };
  const pdf = await printPdf(definePages(job, setter, 'Mask templates', pages), fonts);
  return { files: [{ name: 'masks.pdf', mime: 'application/pdf', content: pdf }, ...dropTwins(files)], refusals };
}

/** Numbers that differ only in signs a file name cannot have are told apart by a count. */
function dropTwins(files: readonly HandoverFile[]): HandoverFile[] {
  const uses = new Map<string, number>();
  return files.map((file) => {
    const use = (uses.get(file.name) ?? 0) + 1;
    uses.set(file.name, use);
    return use === 1 ? file : { ...file, name: file.name.replace(/\.svg$/u, `-${use}.svg`) };
  });
}

function listMasked(job: HandoverJob): Masked[] {
  const { floor, names } = job;
  const measure = createSetOut(floor);
  return floor.detectors
    .filter((detector) => detector.masks.length > 0 && detector.status !== 'remove')
    .map((detector) => {
      const lensDiameter = typeOf(floor, detector)?.lensDiameter;
      if (lensDiameter === undefined) return { detector, facts: null };
      const [wall] = measure(detector);
      const north = (floor.north * Math.PI) / 180;
      const toward: Point =
        wall === undefined
          ? [Math.cos(north), Math.sin(north)]
          : [wall.foot[0] - detector.at[0], wall.foot[1] - detector.at[1]];
      const number = names.numberOf(detector.id);
      return {
        detector,
        facts: {
          name: `M-${number}`,
          number,
          detector,
          lensDiameter,
          toward,
          towardWords: wall === undefined ? 'north' : `the ${wall.side} wall, ${wall.metres.toFixed(2)} m away`,
        },
      };
    });
}

function typeOf(floor: Floor, detector: Detector): Floor['types'][number] | undefined {
  return floor.types.find((each) => each.id === detector.type);
}

function refuse({ names }: HandoverJob, detector: Detector): string {
  return `There is no mask template for ${names.numberOf(detector.id)}: its type ${names.nameOf(detector.type)} states no lensDiameter. Add it to the type, in metres.`;
}

function writePage(
  job: HandoverJob,
  setter: Setter,
  detector: Detector,
  facts: TemplateFacts,
  template: Template,
  isLater: boolean,
): PdfContent[] {
  const { names } = job;
  const width = printedArea(job.paper, 'portrait').width;
  const drawing = () => setter.drawing(template.svg, template.widthMm, template.heightMm, [0, 4, 0, 10]);
  const fitsTwice = 2 * template.widthMm + 4 <= width;
  const hides = findMaskFacts(job, detector);
  const title: PdfNode = setter.say(`Mask template ${facts.name}`, {
    fontSize: 17,
    bold: true,
    margin: [0, 0, 0, 4],
    ...(isLater ? { pageBreak: 'before' as const } : {}),
  });
  const notes = hides.flatMap(({ mask, sources, seats }, k) => {
    const sector = `Sector ${k + 1}: ${mask.from}° to ${mask.to}° from the turn mark, nadir ${mask.inner}° to ${mask.outer}°.`;
    const hidden =
      sources.length === 0
        ? 'Hides no source that is drawn.'
        : `Hides ${names.listOf(sources.map((each) => each.id))}.`;
    const lost = seats.filter((each) => !each.met).map(({ seat }) => names.numberOf(seat.id));
    const kept = seats.filter((each) => each.met).map(({ seat }) => names.numberOf(seat.id));
    const cost =
      seats.length === 0
        ? 'Costs no seat.'
        : `${lost.length === 0 ? 'No seat is lost by it' : `Not met: ${lost.join(', ')}`}${kept.length === 0 ? '.' : `; hidden from this lens but met by others: ${kept.join(', ')}.`}`;
    return `${sector} ${hidden} ${cost}`;
  });
  return [
    title,
    paragraph(
      setter,
      `For detector ${facts.number}, type ${names.nameOf(detector.type)}, lens ${(facts.lensDiameter * 1000).toFixed(1)} mm. Print at full size (100 %), and measure the 50 mm bar before cutting. Shaded sectors are taken out of the view: the lens is covered there. The template is held against the ceiling with this side down, the arrow towards ${facts.towardWords}.`,
    ),
    fitsTwice
      ? { columns: [drawing(), drawing()].map((each) => ({ ...each, width: each.width ?? 0 })), columnGap: 8 }
      : drawing(),
    ...(fitsTwice ? [paragraph(setter, 'The second is a spare.')] : []),
    listOf(setter, notes, false),
    paragraph(
      setter,
      'The lens is taken as a half-sphere; check the effect with the walk test. Do not use a mask that conducts or burns.',
    ),
  ];
}

/** A name for a file: letters, digits and hyphens. */
function toFileName(name: string): string {
  const plain = name
    .replace(/[^\p{Letter}\p{Number}]+/gu, '-')
    .replace(/^-+|-+$/gu, '')
    .slice(0, 60);
  return plain === '' ? 'mask' : plain;
}
