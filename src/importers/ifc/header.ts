/** The header of a model: which schema it follows, what the project is called, and in what state the file is. */
import type { Refusal, Remark } from '../storey.ts';
import type { Contained } from './container.ts';
import type { StepFile } from './step-file.ts';
import { textOf } from './step-file.ts';
import { readAscii } from './step-index.ts';

export interface IfcHeader {
  /** As the file writes it: `IFC2X3`, `IFC4`, `IFC4X3_ADD2`. */
  readonly schema: string;
  /** The project's name, '' when there is none. */
  readonly project: string;
}

/** A header is never longer than this. */
const HEAD = 65_536;

export function readHeader(bytes: Uint8Array, step: StepFile): IfcHeader | Refusal {
  const { dataStart } = step.index;
  const head = readAscii(bytes, 0, Math.min(bytes.length, HEAD, dataStart < 0 ? HEAD : dataStart));
  const schema = /FILE_SCHEMA\s*\(\s*\(\s*'([^']*)'/iu.exec(head)?.[1]?.toUpperCase().trim();
  if (dataStart < 0) {
    return {
      ok: false,
      reason: `The file ends in its header, after ${bytes.length} bytes: no section DATA begins.`,
      remedy: 'The file was cut off: fetch or export it again.',
    };
  }
  if (schema !== undefined && !schema.startsWith('IFC')) {
    return {
      ok: false,
      reason: `The file is STEP of another kind: its schema is "${schema.slice(0, 60)}", not IFC.`,
      remedy: 'Export the building as IFC2x3, IFC4 or IFC4x3.',
    };
  }
  const project = step.read(step.listOf('IFCPROJECT')[0] ?? 0);
  return {
    schema: schema ?? 'IFC (schema not stated)',
    project: textOf(project[2]).trim() || textOf(project[5]).trim(),
  };
}

/** What is wrong with the file as a file. */
export function tellState(step: StepFile, header: IfcHeader, { bytes, entry }: Contained): Remark[] {
  const { index, encoding } = step;
  const remarks: Remark[] = [];
  const tell = (fate: Remark['fate'], what: string, count: number, reason: string): void => {
    remarks.push({ fate, what, count, reason, places: [] });
  };
  if (entry !== undefined) tell('taken', 'models in a zipped file', 1, `"${entry}" was read.`);
  if (!index.isWhole) {
    const line = countLines(bytes, index.end);
    tell(
      'left out',
      'statements after a break',
      1,
      `The file ends without its end mark: it was cut off after line ${line} (byte ${index.end} of ${bytes.length}). What followed is missing, walls and storeys may be among it. Fetch or export it again.`,
    );
  }
  if (index.strays.count > 0) {
    tell(
      'left out',
      'statements that are none',
      index.strays.count,
      `The first lies in line ${countLines(bytes, index.strays.at)}. They cannot be read.`,
    );
  }
  if (index.complexCount > 0)
    tell('left out', 'statements of several types', index.complexCount, 'Such statements are not read.');
  if (!encoding.isCertain) {
    tell(
      'guessed',
      'names',
      1,
      `Names are written in a code page that the standard does not allow: read as ${encoding.label}. Check them.`,
    );
  }
  if (!/^IFC(2X3|4|4X\d)/u.test(header.schema)) {
    tell('guessed', 'schemas', 1, `The schema "${header.schema.slice(0, 60)}" is read as if it were IFC4.`);
  }
  return remarks;
}

function countLines(bytes: Uint8Array, to: number): number {
  let lines = 1;
  for (let at = bytes.indexOf(0x0a); at >= 0 && at < to; at = bytes.indexOf(0x0a, at + 1)) lines++;
  return lines;
}
