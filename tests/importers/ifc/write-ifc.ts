/** Writes small building models as STEP text, so that a test can say exactly what stands in one. Lengths in the model's unit. */

export type Triple = readonly [number, number, number];
export type Pair = readonly [number, number];

export interface DraftOptions {
  readonly schema?: string;
  /** The statement of the unit of length, without its number. */
  readonly unit?: string;
  /** Placement of the site: where, and along which direction its x axis runs. */
  readonly site?: { readonly at: Triple; readonly x?: Triple };
  readonly trueNorth?: string;
  readonly elevation?: number | null;
}

const METRE = 'IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.)';
export const MILLIMETRE = 'IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.)';

const real = (value: number): string => {
  const text = String(value);
  return /[.e]/.test(text) ? text.replace('e', 'E') : `${text}.`;
};
const list = (values: readonly number[]): string => `(${values.map(real).join(',')})`;
const refs = (ids: readonly number[]): string => `(${ids.map((id) => `#${id}`).join(',')})`;

/** A storey of a draft: its statement and its placement. */
export interface Storey {
  readonly id: number;
  readonly place: number;
}

/** A model in the making: project, site, building and one storey stand already. */
export function draftIfc({ schema = 'IFC4', unit = METRE, site, trueNorth, elevation = 0 }: DraftOptions = {}) {
  const lines: string[] = [];
  let guid = 0;
  const add = (statement: string): number => {
    lines.push(`#${lines.length + 1}=${statement};`);
    return lines.length;
  };
  const id = (): string => `'test${String(++guid).padStart(18, '0')}'`;
  const point = (at: readonly number[]): number => add(`IFCCARTESIANPOINT(${list(at)})`);
  const direction = (to: readonly number[]): number => add(`IFCDIRECTION(${list(to)})`);
  const axes = (at: Triple, z?: Triple, x?: Triple): number =>
    add(`IFCAXIS2PLACEMENT3D(#${point(at)},${z ? `#${direction(z)}` : '$'},${x ? `#${direction(x)}` : '$'})`);
  const place = (outer: number | null, at: Triple, x?: Triple, z?: Triple): number =>
    add(`IFCLOCALPLACEMENT(${outer === null ? '$' : `#${outer}`},#${axes(at, z ?? (x ? [0, 0, 1] : undefined), x)})`);

  const unitId = add(unit);
  const angleId = add('IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.)');
  const units = add(`IFCUNITASSIGNMENT((#${unitId},#${angleId}))`);
  const world = axes([0, 0, 0]);
  const north = trueNorth === undefined ? '$' : `#${add(trueNorth)}`;
  const context = add(`IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-05,#${world},${north})`);
  const project = add(`IFCPROJECT(${id()},$,'Invented house',$,$,$,$,(#${context}),#${units})`);
  const sitePlace = place(null, site?.at ?? [0, 0, 0], site?.x);
  const siteId = add(`IFCSITE(${id()},$,'Site',$,$,#${sitePlace},$,$,.ELEMENT.,$,$,$,$,$)`);
  const buildingPlace = place(sitePlace, [0, 0, 0]);
  const building = add(`IFCBUILDING(${id()},$,'House',$,$,#${buildingPlace},$,$,.ELEMENT.,$,$,$)`);
  const relate = (type: string, whole: number, parts: readonly number[]): number =>
    add(`${type}(${id()},$,$,$,#${whole},${refs(parts)})`);
  relate('IFCRELAGGREGATES', project, [siteId]);
  relate('IFCRELAGGREGATES', siteId, [building]);

  const storey = (name: string, height: number | null, z = height ?? 0): Storey => {
    const at = place(buildingPlace, [0, 0, z]);
    const level = height === null ? '$' : real(height);
    const made = add(`IFCBUILDINGSTOREY(${id()},$,'${name}',$,$,#${at},$,$,.ELEMENT.,${level})`);
    relate('IFCRELAGGREGATES', building, [made]);
    return { id: made, place: at };
  };
  const ground = storey('Ground floor', elevation);

  const polyline = (points: readonly (readonly number[])[]): number =>
    add(`IFCPOLYLINE(${refs(points.map((at) => point(at)))})`);
  const close = (ring: readonly Pair[]): readonly Pair[] => [...ring, ring[0]!];
  const polygonProfile = (ring: readonly Pair[], holes: readonly (readonly Pair[])[] = []): number => {
    const outer = polyline(close(ring));
    if (holes.length === 0) return add(`IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#${outer})`);
    const inner = holes.map((hole) => polyline(close(hole)));
    return add(`IFCARBITRARYPROFILEDEFWITHVOIDS(.AREA.,$,#${outer},${refs(inner)})`);
  };
  const extrude = (profile: number, height: number, at: Triple = [0, 0, 0], z?: Triple, x?: Triple): number =>
    add(`IFCEXTRUDEDAREASOLID(#${profile},#${axes(at, z, x)},#${direction([0, 0, 1])},${real(height)})`);
  const shape = (items: readonly number[], name = 'Body', type = 'SweptSolid'): number => {
    const representation = add(`IFCSHAPEREPRESENTATION(#${context},'${name}','${type}',${refs(items)})`);
    return add(`IFCPRODUCTDEFINITIONSHAPE($,$,(#${representation}))`);
  };
  const block = (ring: readonly Pair[], from: number, to: number): number =>
    extrude(polygonProfile(ring), to - from, [0, 0, from]);

  /** A product: `rest` is what follows its shape. */
  const product = (type: string, name: string, placement: number, shapeId: number | null, rest: string): number =>
    add(`${type}(${id()},$,'${name}',$,$,#${placement},${shapeId === null ? '$' : `#${shapeId}`},${rest})`);
  const contain = (holder: number, things: readonly number[]): number =>
    add(`IFCRELCONTAINEDINSPATIALSTRUCTURE(${id()},$,$,$,${refs(things)},#${holder})`);

  const space = (name: string, longName: string, items: readonly number[], on: Storey = ground): number => {
    const made = product(
      'IFCSPACE',
      name,
      place(on.place, [0, 0, 0]),
      items.length > 0 ? shape(items) : null,
      `'${longName}',.ELEMENT.,.INTERNAL.,$`,
    );
    relate('IFCRELAGGREGATES', on.id, [made]);
    return made;
  };
  const element = (type: string, name: string, items: readonly number[], rest = '$', on: Storey = ground): number => {
    const made = product(type, name, place(on.place, [0, 0, 0]), items.length > 0 ? shape(items) : null, rest);
    contain(on.id, [made]);
    return made;
  };
  /** A hole through a wall, and what stands in it. */
  const opening = (wall: number, items: readonly number[], filling?: number, on: Storey = ground): number => {
    const hole = product('IFCOPENINGELEMENT', '', place(on.place, [0, 0, 0]), shape(items), '$,$');
    add(`IFCRELVOIDSELEMENT(${id()},$,$,$,#${wall},#${hole})`);
    if (filling !== undefined) add(`IFCRELFILLSELEMENT(${id()},$,$,$,#${hole},#${filling})`);
    return hole;
  };

  return {
    add,
    id,
    point,
    direction,
    axes,
    place,
    polyline,
    polygonProfile,
    extrude,
    block,
    shape,
    product,
    contain,
    relate,
    storey,
    ground,
    space,
    element,
    opening,
    context,
    building,
    buildingPlace,
    site: siteId,
    project,
    refs,
    list,
    real,
    text(): string {
      return `ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_NAME('invented.ifc','2026-01-01T00:00:00',(''),(''),'','','');\nFILE_SCHEMA(('${schema}'));\nENDSEC;\nDATA;\n${lines.join('\n')}\nENDSEC;\nEND-ISO-10303-21;\n`;
    },
  };
}

export type Draft = ReturnType<typeof draftIfc>;

export const rectangle = (x: number, y: number, width: number, depth: number): readonly Pair[] => [
  [x, y],
  [x + width, y],
  [x + width, y + depth],
  [x, y + depth],
];
