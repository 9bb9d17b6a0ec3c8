/** Random edits of detectors, their types and groups, and of the floor as a whole. */
import type { Motion } from '../../../src/core/floor/index.ts';
import {
  addDetectorType,
  addRange,
  changeRange,
  removeRange,
  setRangePlane,
  setRangeShape,
} from '../../../src/editor/edits/detector-types.ts';
import {
  addDetector,
  addDetectorMask,
  changeDetectorMask,
  removeDetectorMask,
} from '../../../src/editor/edits/detectors.ts';
import {
  addRevision,
  changeRevision,
  removeRevision,
  setAnalysis,
  setFloorName,
  setNorth,
} from '../../../src/editor/edits/floor-settings.ts';
import {
  addExtensions,
  addGroup,
  removeFromGroups,
  setGroupSettings,
  setMain,
  setServed,
} from '../../../src/editor/edits/groups.ts';

import { idOf, place, type RandomEdit, someOf } from './random-choices.ts';

const MOTIONS: readonly Motion[] = ['minor', 'tangential', 'radial'];

const DETECTORS: Readonly<Record<string, RandomEdit>> = {
  addDetector: (file, random) => addDetector(file, idOf(file, random, 'types'), place(file, random)),
  addDetectorMask: (file, random) =>
    addDetectorMask(file, idOf(file, random, 'detectors'), {
      from: random.between(-400, 400),
      to: random.between(-400, 400),
      inner: random.between(0, 90),
      outer: random.between(30, 95),
    }),
  changeDetectorMask: (file, random) =>
    changeDetectorMask(file, idOf(file, random, 'detectors'), random.whole(0, 1), { from: random.between(-400, 400) }),
  removeDetectorMask: (file, random) => removeDetectorMask(file, idOf(file, random, 'detectors'), random.whole(0, 1)),
  addDetectorType: (file, random) =>
    addDetectorType(file, { drop: 0.05 }, [
      { motion: 'minor', mounting: random.between(0.5, 4), plane: 0.8, size: { diameter: 5 } },
    ]),
  addRange: (file, random) =>
    addRange(file, idOf(file, random, 'types'), {
      motion: random.pick(MOTIONS),
      mounting: random.between(0.5, 4),
      size: random.chance(0.5) ? { diameter: random.between(0, 9) } : { length: 4, width: 3 },
      ...(random.chance(0.5) ? { plane: random.pick([0, 0.8, 1.2]) } : {}),
    }),
  changeRange: (file, random) =>
    changeRange(file, idOf(file, random, 'types'), random.whole(0, 3), { mounting: random.between(0.5, 4) }),
  removeRange: (file, random) => removeRange(file, idOf(file, random, 'types'), random.whole(0, 3)),
  setRangePlane: (file, random) =>
    setRangePlane(file, idOf(file, random, 'types'), random.pick(MOTIONS), random.between(0, 2)),
  setRangeShape: (file, random) =>
    setRangeShape(file, idOf(file, random, 'types'), random.pick(MOTIONS), random.pick(['round', 'rectangular'])),
};

const GROUPS: Readonly<Record<string, RandomEdit>> = {
  addGroup: (file, random) => addGroup(file, idOf(file, random, 'detectors'), someOf(file, random, 'detectors')),
  addExtensions: (file, random) => addExtensions(file, idOf(file, random, 'groups'), someOf(file, random, 'detectors')),
  removeFromGroups: (file, random) => removeFromGroups(file, someOf(file, random, 'detectors')),
  setMain: (file, random) => setMain(file, idOf(file, random, 'groups'), idOf(file, random, 'detectors')),
  setServed: (file, random) =>
    setServed(
      file,
      idOf(file, random, 'groups'),
      random.chance(0.3) ? null : someOf(file, random, random.pick(['rooms', 'zones'])),
      random.pick(['serves', 'ventilation']),
    ),
  setGroupSettings: (file, random) =>
    setGroupSettings(file, someOf(file, random, 'groups'), {
      delay: random.pick([5, null, -1]),
      switchOn: random.pick(['automatic', 'manual', null]),
    }),
};

const WHOLE: Readonly<Record<string, RandomEdit>> = {
  setFloorName: (file, random) => setFloorName(file, `Floor ${random.whole(1, 9)}`),
  setNorth: (file, random) => setNorth(file, random.between(-720, 720)),
  setAnalysis: (file, random) =>
    setAnalysis(file, { cell: random.pick([0.1, null, 0.05, 2]), seatedPlane: random.pick([0.8, 1, null]) }),
  addRevision: (file, random) =>
    addRevision(file, { no: `${random.whole(1, 9)}`, date: '2031-05-02', by: 'A', text: '' }),
  changeRevision: (file, random) => changeRevision(file, random.whole(0, 2), { text: 'Moved a desk' }),
  removeRevision: (file, random) => removeRevision(file, random.whole(0, 2)),
};

export const SWITCHING_EDITS: Readonly<Record<string, RandomEdit>> = { ...DETECTORS, ...GROUPS, ...WHOLE };
