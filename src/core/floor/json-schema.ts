import * as z from 'zod/mini';
import * as schema from './schema.ts';

/** The shape of a floor file as JSON Schema (draft 2020-12): what editors complete, and other programs check against. */
export function floorJsonSchema(): object {
  return z.toJSONSchema(schema.floorSchema, { target: 'draft-2020-12', io: 'input', metadata: collectMeanings() });
}

/** What the numbers and parts of a floor file mean, for whoever writes one without reading the code. */
function collectMeanings(): z.core.$ZodRegistry<Meaning> {
  const meanings = z.registry<Meaning>();
  meanings.add(schema.coordinate, { description: 'Metres.' });
  meanings.add(schema.size, { description: 'Metres.' });
  meanings.add(schema.height, { description: 'Metres above the floor, or between two heights.' });
  meanings.add(schema.heightAboveFloor, { description: 'Metres above the floor.' });
  meanings.add(schema.degrees, {
    description: 'Degrees counter-clockwise from +x (of masks: from the detector’s own axis).',
  });
  meanings.add(schema.nadir, { description: 'Degrees from straight down (0) to level (90).' });
  meanings.add(schema.share, { description: 'A share, 0 to 1.' });
  meanings.add(schema.rawId, {
    description: 'An id, unique over the whole file where it names the thing it stands in.',
  });
  meanings.add(schema.point, { id: 'point', description: 'A place in plan, [x, y] in metres.' });
  meanings.add(schema.ring, {
    id: 'outline',
    description: 'A simple polygon in either winding. The first corner is not repeated at the end.',
  });
  meanings.add(schema.notes, { id: 'notes', description: 'Free text, or an object with any keys.' });
  meanings.add(schema.roomSchema, { id: 'room' });
  meanings.add(schema.openingSchema, { id: 'opening' });
  meanings.add(schema.furnitureSchema, { id: 'furniture' });
  meanings.add(schema.luminaireSchema, { id: 'luminaire' });
  meanings.add(schema.workplaceSchema, { id: 'workplace' });
  meanings.add(schema.zoneSchema, { id: 'zone' });
  meanings.add(schema.sourceSchema, { id: 'source' });
  meanings.add(schema.detectorTypeSchema, { id: 'detectorType' });
  meanings.add(schema.rangeRowSchema, {
    id: 'range',
    description: 'The size seen for one motion from one mounting height, round or rectangular, stated at the plane.',
  });
  meanings.add(schema.detectorSchema, { id: 'detector' });
  meanings.add(schema.maskSchema, { id: 'mask', description: 'Runs counter-clockwise from `from` to `to`.' });
  meanings.add(schema.groupSchema, { id: 'group' });
  meanings.add(schema.settingsSchema, {
    id: 'settings',
    description: 'level in lx, delay and ventilationDelay in min, background in %.',
  });
  meanings.add(schema.recordSchema, { id: 'record' });
  meanings.add(schema.revisionSchema, { id: 'revision' });
  meanings.add(schema.analysisSchema, { id: 'analysis' });
  meanings.add(schema.floorSchema, {
    title: 'Lacuna floor file, lacuna/1',
    description:
      'One storey. Lengths in metres; angles in degrees counter-clockwise from +x; z up, the floor at z = 0. What needs more than one value to judge (references, overlaps, order) is checked by Lacuna itself.',
  });
  return meanings;
}

interface Meaning {
  /** Names the part among the definitions of the schema. */
  readonly id?: string;
  readonly title?: string;
  readonly description?: string;
}
