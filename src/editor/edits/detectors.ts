/** Detectors placed, and their masks. */
import type { FloorFile, Mask, Point } from '../../core/floor/index.ts';
import { tidy, turnInto360 } from '../recipes.ts';
import { createChange } from './change.ts';
import { type Edit, type Refused, refuse, refuseGone } from './edit.ts';
import { nameThing } from './fault-words.ts';
import { createIdMaker } from './ids.ts';
import { findItem, type Items } from './lists.ts';
import { finePoint } from './plane.ts';

type Detector = Items['detectors'];

/** Hangs a detector of a type, named by the next free number: `D15`. Without a height it hangs from the ceiling by its type's drop. */
export function addDetector(
  file: FloorFile,
  typeId: string,
  at: Point,
  rest: Partial<Pick<Detector, 'turn' | 'height' | 'reach' | 'status'>> = {},
): Edit {
  if (findItem(file, 'types', typeId) === undefined) return refuseGone('detector type');
  const { id, name } = createIdMaker(file).nextDetector();
  const { turn, height } = rest;
  const item: Detector = {
    ...rest,
    id,
    name,
    type: typeId,
    at: finePoint(at),
    ...(turn === undefined ? {} : { turn: turnInto360(turn) }),
    ...(height === undefined ? {} : { height: tidy(height) }),
  };
  const change = createChange(file);
  change.add('detectors', item);
  return change.plan(`Added ${nameThing({ list: 'detectors', item })}`, [id]);
}

/** Angles of a mask, degrees: `from` and `to` counter-clockwise from the detector's turn, `inner` and `outer` from straight down. */
export type MaskAngles = Required<Pick<Mask, 'from' | 'to' | 'inner' | 'outer'>>;

/** Sticks a mask on a detector. */
export function addDetectorMask(file: FloorFile, id: string, angles: MaskAngles): Edit {
  const detector = findItem(file, 'detectors', id);
  if (detector === undefined) return refuseGone('detector');
  const mask = tidyMask(angles);
  if (!mask.ok) return mask;
  return setMasks(file, detector, [...(detector.masks ?? []), mask.angles], (name) => `Added a mask to ${name}`);
}

/** Changes angles of a mask; what is left out stays. */
export function changeDetectorMask(file: FloorFile, id: string, index: number, angles: Partial<MaskAngles>): Edit {
  const detector = findItem(file, 'detectors', id);
  const before = detector?.masks?.[index];
  if (detector === undefined || before === undefined) return refuseGone('mask');
  const { from, to, inner = 0, outer = 90 } = before;
  const mask = tidyMask({ from, to, inner, outer, ...angles });
  if (!mask.ok) return mask;
  const masks = (detector.masks ?? []).map((each, i) => (i === index ? { ...each, ...mask.angles } : each));
  return setMasks(file, detector, masks, (name) => `Changed a mask of ${name}`);
}

export function removeDetectorMask(file: FloorFile, id: string, index: number): Edit {
  const detector = findItem(file, 'detectors', id);
  if (detector?.masks?.[index] === undefined) return refuseGone('mask');
  const masks = detector.masks.filter((_, i) => i !== index);
  return setMasks(file, detector, masks, (name) => `Removed a mask of ${name}`);
}

/**
 * The mask with `from` in 0 to 360° and `to` counter-clockwise after it by at most a whole turn, or why it is none.
 * `from` and `to` a whole turn apart are the whole ring; in one direction they are nothing.
 */
function tidyMask(written: MaskAngles): { readonly ok: true; readonly angles: MaskAngles } | Refused {
  if (!Object.values(written).every(Number.isFinite))
    return refuse('A mask has no angle', 'Write degrees, such as 110.');
  const [inner, outer] = [tidy(written.inner), tidy(written.outer)];
  const span = written.to - written.from;
  const turn = span === 360 ? 360 : turnInto360(span);
  if (turn === 0)
    return refuse('The mask begins and ends in one direction', 'Turn one edge, or write 360° more for the whole ring.');
  if (!(inner >= 0 && outer <= 90 && inner < outer))
    return refuse(
      `The mask would run from ${inner}° to ${outer}° away from straight down`,
      'Both lie from 0 to 90°, the outer above the inner.',
    );
  const from = turnInto360(written.from);
  return { ok: true, angles: { from, to: tidy(from + turn), inner, outer } };
}

function setMasks(
  file: FloorFile,
  detector: Detector,
  masks: NonNullable<Detector['masks']>,
  name: (detector: string) => string,
): Edit {
  const whose = nameThing({ list: 'detectors', item: detector });
  if (masks.length > 100) return refuse(`${whose} would have more than 100 masks`, 'Join some of them.');
  const change = createChange(file);
  change.set('detectors', { ...detector, masks });
  return change.plan(name(whose), [detector.id]);
}
