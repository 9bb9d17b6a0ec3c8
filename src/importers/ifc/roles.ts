/** What a kind of entity is to a floor. */

export type Role =
  | 'wall'
  | 'curtain wall'
  | 'plate'
  | 'member'
  | 'beam'
  | 'column'
  | 'door'
  | 'window'
  | 'furniture'
  | 'proxy'
  | 'railing'
  | 'covering'
  | 'duct'
  | 'luminaire'
  | 'heater'
  | 'air outlet'
  | 'fan'
  | 'machine'
  | 'fixture'
  | 'assembly'
  | 'part'
  /** Served by its entity's type object in IFC2x3, which has no finer kinds of its own. */
  | 'equipment'
  | { readonly leftOut: string; readonly reason: string };

const NO_KIND = 'A floor has no such thing: one level floor under one ceiling is what is computed.';
const TOO_SMALL = 'Too small to hide anybody.';

const leftOut = (what: string, reason: string): Role => ({ leftOut: what, reason });

/** By the entity's name without IFC and without STANDARDCASE. */
const ROLES: Readonly<Record<string, Role>> = {
  WALL: 'wall',
  WALLELEMENTEDCASE: 'wall',
  CURTAINWALL: 'curtain wall',
  PLATE: 'plate',
  MEMBER: 'member',
  BEAM: 'beam',
  COLUMN: 'column',
  CHIMNEY: 'column',
  DOOR: 'door',
  WINDOW: 'window',
  FURNISHINGELEMENT: 'furniture',
  FURNITURE: 'furniture',
  SYSTEMFURNITUREELEMENT: 'furniture',
  BUILDINGELEMENTPROXY: 'proxy',
  BUILDINGELEMENT: 'proxy',
  BUILTELEMENT: 'proxy',
  RAILING: 'railing',
  COVERING: 'covering',
  BUILDINGELEMENTPART: 'part',
  ELEMENTASSEMBLY: 'assembly',
  DUCTSEGMENT: 'duct',
  DUCTFITTING: 'duct',
  DUCTSILENCER: 'duct',
  PIPESEGMENT: 'duct',
  PIPEFITTING: 'duct',
  CABLECARRIERSEGMENT: 'duct',
  CABLECARRIERFITTING: 'duct',
  FLOWSEGMENT: 'duct',
  FLOWFITTING: 'duct',
  COOLEDBEAM: 'duct',
  DAMPER: 'duct',
  LIGHTFIXTURE: 'luminaire',
  LAMP: 'luminaire',
  SPACEHEATER: 'heater',
  AIRTERMINAL: 'air outlet',
  AIRTERMINALBOX: 'duct',
  FAN: 'fan',
  ELECTRICAPPLIANCE: 'machine',
  AUDIOVISUALAPPLIANCE: 'machine',
  COMMUNICATIONSAPPLIANCE: 'machine',
  UNITARYEQUIPMENT: 'machine',
  EVAPORATIVECOOLER: 'machine',
  BOILER: 'machine',
  CHILLER: 'machine',
  COIL: 'machine',
  SANITARYTERMINAL: 'fixture',
  MEDICALDEVICE: 'fixture',
  FLOWTERMINAL: 'equipment',
  FLOWMOVINGDEVICE: 'equipment',
  ENERGYCONVERSIONDEVICE: 'equipment',
  FLOWCONTROLLER: 'equipment',
  FLOWTREATMENTDEVICE: 'equipment',
  FLOWSTORAGEDEVICE: 'equipment',
  DISTRIBUTIONFLOWELEMENT: 'equipment',
  DISTRIBUTIONELEMENT: 'equipment',
  DISTRIBUTIONCONTROLELEMENT: leftOut('sensors, switches and controls', TOO_SMALL),
  SENSOR: leftOut('sensors, switches and controls', TOO_SMALL),
  SWITCHINGDEVICE: leftOut('sensors, switches and controls', TOO_SMALL),
  ACTUATOR: leftOut('sensors, switches and controls', TOO_SMALL),
  ALARM: leftOut('sensors, switches and controls', TOO_SMALL),
  CONTROLLER: leftOut('sensors, switches and controls', TOO_SMALL),
  OUTLET: leftOut('outlets and terminals', TOO_SMALL),
  JUNCTIONBOX: leftOut('outlets and terminals', TOO_SMALL),
  WASTETERMINAL: leftOut('outlets and terminals', TOO_SMALL),
  FIRESUPPRESSIONTERMINAL: leftOut('sprinklers', TOO_SMALL),
  VALVE: leftOut('valves', TOO_SMALL),
  CABLESEGMENT: leftOut('cables', TOO_SMALL),
  CABLEFITTING: leftOut('cables', TOO_SMALL),
  DISCRETEACCESSORY: leftOut('fasteners and accessories', TOO_SMALL),
  FASTENER: leftOut('fasteners and accessories', TOO_SMALL),
  MECHANICALFASTENER: leftOut('fasteners and accessories', TOO_SMALL),
  REINFORCINGBAR: leftOut('reinforcement', 'It lies inside other parts.'),
  REINFORCINGMESH: leftOut('reinforcement', 'It lies inside other parts.'),
  TENDON: leftOut('reinforcement', 'It lies inside other parts.'),
  SLAB: leftOut('slabs', 'The floor and the ceiling of a room come from the room.'),
  ROOF: leftOut('roofs', 'The ceiling of a room comes from the room.'),
  STAIR: leftOut('stairs', NO_KIND),
  STAIRFLIGHT: leftOut('stairs', NO_KIND),
  RAMP: leftOut('ramps', NO_KIND),
  RAMPFLIGHT: leftOut('ramps', NO_KIND),
  TRANSPORTELEMENT: leftOut('lifts and escalators', NO_KIND),
  FOOTING: leftOut('foundations', 'They lie below the floor.'),
  PILE: leftOut('foundations', 'They lie below the floor.'),
  SHADINGDEVICE: leftOut('shading devices', 'They hang outside or before windows.'),
  GEOGRAPHICELEMENT: leftOut('things of the site', 'They lie outside the building.'),
  CIVILELEMENT: leftOut('things of the site', 'They lie outside the building.'),
  VIRTUALELEMENT: leftOut('virtual elements', 'They are no bodies.'),
  ANNOTATION: leftOut('annotations', 'Words and lines of the drawing, no bodies.'),
  GRID: leftOut('grids', 'Lines of the drawing, no bodies.'),
  PROXY: 'proxy',
};

/** The role of an entity type (`IFCWALLSTANDARDCASE`) or of a type object (`IFCLIGHTFIXTURETYPE`), undefined for one that is not known. */
export function roleOf(type: string): Role | undefined {
  const name = type.replace(/^IFC/u, '').replace(/STANDARDCASE$/u, '');
  return ROLES[name] ?? ROLES[name.replace(/(TYPE|STYLE)$/u, '')];
}

/** Every entity name that has a role, to look for things that hang on no storey. */
export const ROLE_TYPES: readonly string[] = Object.keys(ROLES).flatMap((name) => [
  `IFC${name}`,
  `IFC${name}STANDARDCASE`,
]);

/** Whether the parts of a thing belong to it rather than being things of their own. */
export function ownsParts(role: Role): boolean {
  return typeof role === 'object' || OWNERS.has(role);
}

const OWNERS: ReadonlySet<Role> = new Set([
  'wall',
  'curtain wall',
  'column',
  'beam',
  'railing',
  'covering',
  'door',
  'window',
] as const);
