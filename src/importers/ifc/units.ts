/** Units of a model: what one of its length and of its angles is. */
import type { Remark } from '../storey.ts';
import { numberOf, refOf, refsOf, type StepFile, textOf } from './step-file.ts';

export interface Units {
  /** Metres. */
  readonly length: number;
  /** Radians. */
  readonly angle: number;
  readonly remarks: readonly Remark[];
}

const PREFIXES: Readonly<Record<string, number>> = {
  '.EXA.': 1e18,
  '.PETA.': 1e15,
  '.TERA.': 1e12,
  '.GIGA.': 1e9,
  '.MEGA.': 1e6,
  '.KILO.': 1e3,
  '.HECTO.': 1e2,
  '.DECA.': 1e1,
  '.DECI.': 1e-1,
  '.CENTI.': 1e-2,
  '.MILLI.': 1e-3,
  '.MICRO.': 1e-6,
  '.NANO.': 1e-9,
  '.PICO.': 1e-12,
};

/** Used when a conversion based unit does not say what it is: exact by definition (1 inch = 25.4 mm). */
const NAMED_METRES: Readonly<Record<string, number>> = {
  INCH: 0.0254,
  FOOT: 0.3048,
  'US SURVEY FOOT': 1200 / 3937,
  YARD: 0.9144,
  MILE: 1609.344,
};

/** Reads the units that the project assigns. Without any, metres are taken and it is said. */
export function readUnits(step: StepFile): Units {
  const project = step.listOf('IFCPROJECT')[0] ?? 0;
  const assignment = refOf(step.read(project)[8]) || (step.listOf('IFCUNITASSIGNMENT')[0] ?? 0);
  let length: { size: number; words: string } | undefined;
  let angle: number | undefined;
  for (const id of refsOf(step.read(assignment)[0])) {
    const kind = textOf(step.read(id)[1]);
    if (kind === '.LENGTHUNIT.') length ??= readUnit(step, id, 0);
    if (kind === '.PLANEANGLEUNIT.') angle ??= readUnit(step, id, 0)?.size;
  }
  const isSound = length !== undefined && length.size > 1e-12 && length.size < 1e12;
  const taken = isSound && length !== undefined ? length : { size: 1, words: 'metres' };
  const reason = isSound
    ? `The file is drawn in ${taken.words}; everything was turned into metres.`
    : 'The file names no unit of length that can be used: metres were assumed. Check a known width.';
  return {
    length: taken.size,
    angle: angle !== undefined && angle > 0 ? angle : 1,
    remarks: [{ fate: isSound ? 'taken' : 'guessed', what: 'units of length', count: 1, reason, places: [] }],
  };
}

function readUnit(step: StepFile, id: number, depth: number): { size: number; words: string } | undefined {
  const args = step.read(id);
  if (depth > 8) return undefined;
  switch (step.typeOf(id)) {
    case 'IFCSIUNIT': {
      const prefix = textOf(args[2]);
      const name = textOf(args[3]).replaceAll('.', '').toLowerCase();
      if (name !== 'metre' && name !== 'radian') return undefined;
      const words = `${prefix.replaceAll('.', '').toLowerCase()}${name}s`;
      return { size: PREFIXES[prefix] ?? 1, words };
    }
    case 'IFCCONVERSIONBASEDUNIT':
    case 'IFCCONVERSIONBASEDUNITWITHOFFSET': {
      const name = textOf(args[2]).replaceAll('_', ' ').trim();
      const measure = step.read(refOf(args[3]));
      const factor = numberOf(measure[0]);
      const base = readUnit(step, refOf(measure[1]), depth + 1);
      const size = factor !== undefined && base !== undefined ? factor * base.size : NAMED_METRES[name.toUpperCase()];
      return size === undefined
        ? undefined
        : { size, words: `units named "${name}" of ${Number(size.toPrecision(9))} m` };
    }
    default:
      return undefined;
  }
}
