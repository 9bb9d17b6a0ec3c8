/** The changes a person makes, as recipes for `edit` and gestures. Each finds its thing by id; one that is gone changes nothing. */
import { type Draft, original } from 'mutative';
import type { FloorFile, Mask, Point } from '../core/floor/index.ts';
import type { Recipe } from './history.ts';
import { indexOfId } from './things.ts';

type Lists =
  | 'rooms'
  | 'openings'
  | 'furniture'
  | 'luminaires'
  | 'workplaces'
  | 'zones'
  | 'sources'
  | 'types'
  | 'detectors'
  | 'groups';
type Item<List extends Lists> = NonNullable<Draft<FloorFile>[List]>[number];

/** Looks the place up in the list as it was, so that a long list is not drafted item by item. */
function withItem<List extends Lists>(list: List, id: string, change: (item: Item<List>) => void): Recipe {
  return (draft) => {
    const drafted = draft[list];
    if (drafted === undefined) return;
    const at = indexOfId(original(drafted) as readonly { readonly id: string }[], id);
    const item = drafted[at];
    if (item !== undefined) change(item as Item<List>);
  };
}

/** Millimetres and thousandths of a degree: what a hand or a sum gives, without the noise of its last bits. */
export function tidy(value: number): number {
  return Math.round(value * 1000) / 1000 || 0;
}

/** Degrees from 0 up to but not 360. */
export function turnInto360(degrees: number): number {
  return tidy(((degrees % 360) + 360) % 360) % 360;
}

export function moveDetector(id: string, at: Point): Recipe {
  return withItem('detectors', id, (detector) => {
    detector.at = [tidy(at[0]), tidy(at[1])];
  });
}

export function turnDetector(id: string, degrees: number): Recipe {
  return withItem('detectors', id, (detector) => {
    detector.turn = turnInto360(degrees);
  });
}

/** Null takes the stated height away: the ceiling less the type's drop counts again. */
export function setLensHeight(id: string, height: number | null): Recipe {
  return withItem('detectors', id, (detector) => {
    if (height === null) delete detector.height;
    else detector.height = tidy(height);
  });
}

export function setReach(id: string, reach: number): Recipe {
  return withItem('detectors', id, (detector) => {
    detector.reach = tidy(reach);
  });
}

export function setDetectorType(id: string, type: string): Recipe {
  return withItem('detectors', id, (detector) => {
    detector.type = type;
  });
}

export type MaskPart = 'from' | 'to' | 'inner' | 'outer';

/** Sets one angle of a mask, degrees: `from` and `to` counter-clockwise from the detector's turn, `inner` and `outer` from straight down. */
export function setMaskPart(id: string, mask: number, part: MaskPart, degrees: number): Recipe {
  return withItem('detectors', id, (detector) => {
    const held = detector.masks?.[mask];
    if (held !== undefined) held[part] = tidy(degrees);
  });
}

/** Turns a whole mask: both edges by the same degrees. */
export function turnMask(id: string, mask: number, by: number): Recipe {
  return withItem('detectors', id, (detector) => {
    const held = detector.masks?.[mask];
    if (held === undefined) return;
    const span = held.to - held.from;
    held.from = turnInto360(held.from + by);
    held.to = tidy(held.from + span);
  });
}

export function addMask(id: string, mask: Pick<Mask, 'from' | 'to' | 'inner' | 'outer'>): Recipe {
  return withItem('detectors', id, (detector) => {
    detector.masks = [...(detector.masks ?? []), { ...mask }];
  });
}

export function removeMask(id: string, mask: number): Recipe {
  return withItem('detectors', id, (detector) => {
    detector.masks = (detector.masks ?? []).filter((_, i) => i !== mask);
  });
}

export function setFurnitureTop(id: string, top: number): Recipe {
  return withItem('furniture', id, (piece) => {
    piece.top = tidy(top);
  });
}

/** Sets the top of several pieces at once: a mark on the rule. */
export function setFurnitureTops(ids: readonly string[], top: number): Recipe {
  const recipes = ids.map((id) => setFurnitureTop(id, top));
  return (draft) => {
    for (const recipe of recipes) recipe(draft);
  };
}

export type Named = Exclude<Lists, 'openings'>;

export function setName(list: Named, id: string, name: string): Recipe {
  return withItem(list, id, (item) => {
    item.name = name;
  });
}

export function setPlaneHeight(plane: 'seated' | 'walking', height: number): Recipe {
  return (draft) => {
    draft.analysis = { ...draft.analysis, [plane === 'seated' ? 'seatedPlane' : 'walkingPlane']: tidy(height) };
  };
}
