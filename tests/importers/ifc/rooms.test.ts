/** Rooms out of models written for the purpose: each holds one trap and says what should come of it. */
import { describe, expect, test } from 'vitest';
import { areaOf, boxOf, readModel, readStorey, saying } from './read-model.ts';
import { type Draft, draftIfc, MILLIMETRE, type Pair, rectangle } from './write-ifc.ts';

const square = rectangle(0, 0, 4, 3);

describe('units', () => {
  test('millimetres', async () => {
    const draft = draftIfc({ unit: MILLIMETRE });
    draft.space('1', 'Office', [draft.block(rectangle(1000, 2000, 4000, 3000), 0, 2700)]);
    const { rooms } = await readStorey(draft.text());
    expect(rooms).toHaveLength(1);
    expect(rooms[0]).toMatchObject({ name: 'Office 1', ceiling: 2.7, standing: 'read' });
    expect(boxOf(rooms[0]!.outline)).toEqual([1, 2, 5, 5]);
  });

  test('feet, by a conversion that names metres', async () => {
    const draft = draftIfc();
    draft.space('1', 'Office', [draft.block(rectangle(0, 0, 10, 20), 0, 9)]);
    const feet = draft
      .text()
      .replace(
        /#1=[^;]*;/,
        `#1=IFCCONVERSIONBASEDUNIT(#9001,.LENGTHUNIT.,'FOOT',#9002);\n#9001=IFCDIMENSIONALEXPONENTS(1,0,0,0,0,0,0);\n#9002=IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(0.3048),#9003);\n#9003=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);`,
      );
    const { storeys, remarks } = await readModel(feet);
    const room = storeys[0]!.rooms[0]!;
    expect(boxOf(room.outline)).toEqual([0, 0, 3.048, 6.096]);
    expect(room.ceiling).toBeCloseTo(2.7432, 9);
    expect(saying(remarks, /FOOT/)).toHaveLength(1);
  });

  test('inches, named only', async () => {
    const draft = draftIfc({ unit: "IFCCONVERSIONBASEDUNIT($,.LENGTHUNIT.,'INCH',$)" });
    draft.space('1', 'Office', [draft.block(rectangle(0, 0, 100, 200), 0, 100)]);
    const { rooms } = await readStorey(draft.text());
    expect(boxOf(rooms[0]!.outline)).toEqual([0, 0, 2.54, 5.08]);
  });

  test('no unit at all: metres, and it is said', async () => {
    const draft = draftIfc({ unit: 'IFCSIUNIT(*,.MASSUNIT.,.KILO.,.GRAM.)' });
    draft.space('1', 'Office', [draft.block(square, 0, 3)]);
    const { storeys, remarks } = await readModel(draft.text());
    expect(boxOf(storeys[0]!.rooms[0]!.outline)).toEqual([0, 0, 4, 3]);
    expect(saying(remarks, /metres were assumed/)).toMatchObject([{ fate: 'guessed' }]);
  });
});

describe('placements', () => {
  test.each(['IFC2X3', 'IFC4', 'IFC4X3_ADD2'])('a turned site and a nested placement, %s', async (schema) => {
    const draft = draftIfc({ schema, site: { at: [100, 50, 7], x: [0, 1, 0] }, trueNorth: 'IFCDIRECTION((1.,0.))' });
    draft.space('1', 'Office', [draft.extrude(draft.polygonProfile(square), 2.5, [10, 0, 0])]);
    const { storeys, format } = await readModel(draft.text());
    const [storey] = storeys;
    expect(format).toBe(schema);
    // x runs along the world's y: (10…14, 0…3) lands at (100 − 3…100, 60…64).
    expect(boxOf(storey!.rooms[0]!.outline)).toEqual([97, 60, 100, 64]);
    expect(storey).toMatchObject({ north: 0, elevation: 0 });
    expect(storey!.rooms[0]!.ceiling).toBeCloseTo(2.5, 9);
  });

  test('a site thousands of kilometres off keeps its millimetres', async () => {
    const draft = draftIfc({
      site: { at: [4_468_123.456, 5_333_987.654, 520.25], x: [Math.cos(0.3), Math.sin(0.3), 0] },
    });
    draft.space('1', 'Office', [
      draft.block(
        [
          [0, 0],
          [8, 0],
          [8, 5],
          [4, 5],
          [4, 3],
          [0, 3],
        ],
        0,
        2.8,
      ),
    ]);
    const { storeys, origin, remarks } = await readModel(draft.text());
    const room = storeys[0]!.rooms[0]!;
    expect(Math.hypot(origin[0] - 4_468_123, origin[1] - 5_333_988)).toBeLessThan(20);
    expect(Number.isInteger(origin[0])).toBe(true);
    expect(areaOf(room)).toBeCloseTo(32, 6);
    const [x, y] = room.outline.find(([, b], _, all) => b === Math.min(...all.map((each) => each[1])))!;
    expect([x + origin[0], y + origin[1]].map((value) => Math.round(value * 1e4) / 1e4)).toEqual([
      4_468_123.456, 5_333_987.654,
    ]);
    expect(room.ceiling).toBeCloseTo(2.8, 6);
    expect(saying(remarks, /far from its origin/)).toHaveLength(1);
  });

  test('faces whose own coordinates lie far off keep their millimetres too', async () => {
    const draft = draftIfc();
    const [x, y] = [512_345.678, 5_400_123.456];
    const corners = [
      [x, y, 0],
      [x + 4, y, 0],
      [x + 4, y + 3, 0],
      [x, y + 3, 0],
    ];
    const all = [...corners, ...corners.map(([a, b]) => [a!, b!, 2.6])].map((point) => draft.list(point)).join(',');
    const points = draft.add(`IFCCARTESIANPOINTLIST3D((${all}))`);
    const faces = ['(1,4,3,2)', '(5,6,7,8)', '(1,2,6,5)', '(2,3,7,6)', '(3,4,8,7)', '(4,1,5,8)'].map((loop) =>
      draft.add(`IFCINDEXEDPOLYGONALFACE(${loop})`),
    );
    draft.space('1', 'Office', [draft.add(`IFCPOLYGONALFACESET(#${points},.T.,${draft.refs(faces)},$)`)]);
    const { storeys } = await readModel(draft.text());
    expect(areaOf(storeys[0]!.rooms[0]!)).toBeCloseTo(12, 5);
  });

  test('a true north and a map conversion that differ are told', async () => {
    const draft = draftIfc({ trueNorth: 'IFCDIRECTION((0.,1.))' });
    draft.add(
      `IFCMAPCONVERSION(#${draft.context},$,0.,0.,0.,${draft.real(Math.cos(0.2))},${draft.real(Math.sin(0.2))},1.)`,
    );
    draft.space('1', 'Office', [draft.block(square, 0, 3)]);
    const { storeys, remarks } = await readModel(draft.text());
    expect(storeys[0]!.north).toBeCloseTo(90, 9);
    expect(saying(remarks, /norths: True north/)).toHaveLength(1);
  });

  test('a map conversion alone gives the north', async () => {
    const draft = draftIfc();
    draft.add(`IFCMAPCONVERSION(#${draft.context},$,0.,0.,0.,0.,1.,1.)`);
    draft.space('1', 'Office', [draft.block(square, 0, 3)]);
    // The model's x runs to the map's north.
    expect((await readStorey(draft.text())).north).toBe(0);
  });
});

const corner: readonly Pair[] = [
  [0, 0],
  [6, 0],
  [6, 2],
  [2, 2],
  [2, 5],
  [0, 5],
];

/** A body of a closed shell: the outline pulled up. */
function brep(draft: Draft, ring: readonly Pair[], height: number): number {
  const at = (z: number) => ring.map(([x, y]) => draft.point([x, y, z]));
  const [low, high] = [at(0), at(height)];
  const face = (loop: readonly number[]): number => {
    const poly = draft.add(`IFCPOLYLOOP(${draft.refs(loop)})`);
    return draft.add(`IFCFACE((#${draft.add(`IFCFACEOUTERBOUND(#${poly},.T.)`)}))`);
  };
  const sides = ring.map((_, i) => {
    const next = (i + 1) % ring.length;
    return face([low[i]!, low[next]!, high[next]!, high[i]!]);
  });
  const shell = draft.add(`IFCCLOSEDSHELL(${draft.refs([face([...low].reverse()), face(high), ...sides])})`);
  return draft.add(`IFCFACETEDBREP(#${shell})`);
}

describe('bodies of rooms', () => {
  const bodies: readonly (readonly [string, (draft: Draft) => number, number])[] = [
    ['an extruded outline with dents', (draft) => draft.block(corner, 0, 3), 18],
    [
      'an extruded outline with a hole',
      (draft) => draft.extrude(draft.polygonProfile(rectangle(0, 0, 6, 6), [rectangle(2, 2, 1, 1)]), 3),
      35,
    ],
    ['a closed shell with dents', (draft) => brep(draft, corner, 3), 18],
    [
      'a box with a shaft taken out of it',
      (draft) =>
        draft.add(
          `IFCBOOLEANRESULT(.DIFFERENCE.,#${draft.block(rectangle(0, 0, 6, 6), 0, 3)},#${draft.block(rectangle(2, 2, 1, 1), -1, 4)})`,
        ),
      35,
    ],
    [
      'a box under a roof plane',
      (draft) => {
        const plane = draft.add(`IFCPLANE(#${draft.axes([0, 0, 2], [-1, 0, 1], [1, 0, 1])})`);
        const half = draft.add(`IFCHALFSPACESOLID(#${plane},.F.)`);
        return draft.add(
          `IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#${draft.block(rectangle(0, 0, 2, 5), 0, 9)},#${half})`,
        );
      },
      10,
    ],
    [
      'a CSG block',
      (draft) => draft.add(`IFCCSGSOLID(#${draft.add(`IFCBLOCK(#${draft.axes([1, 1, 0])},2.,3.,2.5)`)})`),
      6,
    ],
    ['a round profile', (draft) => draft.extrude(draft.add('IFCCIRCLEPROFILEDEF(.AREA.,$,$,3.)'), 3), Math.PI * 9],
    [
      'a body swept along a curve, meshed by the engine',
      (draft) => {
        const profile = draft.add('IFCRECTANGLEPROFILEDEF(.AREA.,$,$,2.,3.)');
        const axis = draft.add(`IFCAXIS1PLACEMENT(#${draft.point([5, 0, 0])},#${draft.direction([0, 1, 0])})`);
        return draft.add(`IFCREVOLVEDAREASOLID(#${profile},#${draft.axes([0, 0, 0])},#${axis},1.)`);
      },
      -1,
    ],
  ];

  test.each(bodies)('%s', async (_, build, area) => {
    const draft = draftIfc();
    draft.space('1', 'Office', [build(draft)]);
    const { rooms } = await readStorey(draft.text());
    expect(rooms).toHaveLength(1);
    if (area > 0) expect(Math.abs(areaOf(rooms[0]!) - area)).toBeLessThan(area * 0.005);
    else expect(areaOf(rooms[0]!)).toBeGreaterThan(5);
    expect(rooms[0]!.standing).toBe('read');
  });

  test('holes stay holes, exactly', async () => {
    const draft = draftIfc();
    draft.space('1', 'Office', [
      draft.extrude(draft.polygonProfile(rectangle(0, 0, 6, 6), [rectangle(2, 2, 1, 1)]), 3),
    ]);
    const { rooms } = await readStorey(draft.text());
    expect(boxOf(rooms[0]!.outline)).toEqual([0, 0, 6, 6]);
    expect(rooms[0]!.holes.map(boxOf)).toEqual([[2, 2, 3, 3]]);
  });

  test('a sloped ceiling is told, its highest point taken', async () => {
    const draft = draftIfc();
    const plane = draft.add(`IFCPLANE(#${draft.axes([0, 0, 2], [-1, 0, 1], [1, 0, 1])})`);
    const half = draft.add(`IFCHALFSPACESOLID(#${plane},.F.)`);
    draft.space('1', 'Attic', [
      draft.add(`IFCBOOLEANCLIPPINGRESULT(.DIFFERENCE.,#${draft.block(rectangle(0, 0, 2, 5), 0, 9)},#${half})`),
    ]);
    const { rooms, remarks } = await readStorey(draft.text());
    expect(rooms[0]!.ceiling).toBeCloseTo(4, 6);
    expect(saying(remarks, /not level/)).toHaveLength(1);
  });

  test('a mirrored mapped body lies mirrored', async () => {
    const draft = draftIfc();
    const representation = draft.add(
      `IFCSHAPEREPRESENTATION(#${draft.context},'Body','SweptSolid',(#${draft.block(corner, 0, 3)}))`,
    );
    const map = draft.add(`IFCREPRESENTATIONMAP(#${draft.axes([0, 0, 0])},#${representation})`);
    const mirror = draft.add(
      `IFCCARTESIANTRANSFORMATIONOPERATOR3D(#${draft.direction([-1, 0, 0])},#${draft.direction([0, 1, 0])},#${draft.point([20, 0, 0])},1.,#${draft.direction([0, 0, 1])})`,
    );
    const item = draft.add(`IFCMAPPEDITEM(#${map},#${mirror})`);
    const space = draft.product(
      'IFCSPACE',
      '1',
      draft.place(draft.ground.place, [0, 0, 0]),
      draft.shape([item], 'Body', 'MappedRepresentation'),
      "'Office',.ELEMENT.,.INTERNAL.,$",
    );
    draft.relate('IFCRELAGGREGATES', draft.ground.id, [space]);
    const { rooms } = await readStorey(draft.text());
    expect(boxOf(rooms[0]!.outline)).toEqual([14, 0, 20, 5]);
    // The arm that ran to +x now runs to −x: nothing lies at (15, 4), and something at (19, 4).
    expect(rooms[0]!.outline.some(([x, y]) => x === 20 && y === 5)).toBe(true);
    expect(rooms[0]!.outline.some(([x, y]) => x === 14 && y === 5)).toBe(false);
    expect(areaOf(rooms[0]!)).toBeCloseTo(18, 9);
  });
});

describe('rooms without bodies', () => {
  test('an outline on the floor alone: no ceiling is stated', async () => {
    const draft = draftIfc();
    const outline = draft.polyline([...corner, corner[0]!]);
    const set = draft.add(`IFCGEOMETRICCURVESET((#${outline}))`);
    const space = draft.product(
      'IFCSPACE',
      '1',
      draft.place(draft.ground.place, [0, 0, 0]),
      draft.shape([set], 'FootPrint', 'GeometricCurveSet'),
      "'Office',.ELEMENT.,.INTERNAL.,$",
    );
    draft.relate('IFCRELAGGREGATES', draft.ground.id, [space]);
    const { rooms } = await readStorey(draft.text());
    expect(rooms[0]).toMatchObject({ ceiling: null, standing: 'read' });
    expect(areaOf(rooms[0]!)).toBeCloseTo(18, 9);
  });

  test('the ceiling covering over it tells its height', async () => {
    const draft = draftIfc();
    const set = draft.add(`IFCGEOMETRICCURVESET((#${draft.polyline([...corner, corner[0]!])}))`);
    const space = draft.product(
      'IFCSPACE',
      '1',
      draft.place(draft.ground.place, [0, 0, 0]),
      draft.shape([set], 'FootPrint', 'GeometricCurveSet'),
      "'Office',.ELEMENT.,.INTERNAL.,$",
    );
    draft.relate('IFCRELAGGREGATES', draft.ground.id, [space]);
    draft.element('IFCCOVERING', 'Tiles', [draft.block(rectangle(-1, -1, 9, 9), 2.65, 2.7)], '$,.CEILING.');
    expect((await readStorey(draft.text())).rooms[0]!.ceiling).toBeCloseTo(2.65, 9);
  });

  test('a box around it alone: taken, and said to be a guess', async () => {
    const draft = draftIfc();
    const box = draft.add(`IFCBOUNDINGBOX(#${draft.point([1, 2, 0])},4.,3.,2.5)`);
    const space = draft.product(
      'IFCSPACE',
      '1',
      draft.place(draft.ground.place, [0, 0, 0]),
      draft.shape([box], 'Box', 'BoundingBox'),
      "'Office',.ELEMENT.,.INTERNAL.,$",
    );
    draft.relate('IFCRELAGGREGATES', draft.ground.id, [space]);
    const { rooms, remarks } = await readStorey(draft.text());
    expect(boxOf(rooms[0]!.outline)).toEqual([1, 2, 5, 5]);
    expect(rooms[0]).toMatchObject({ standing: 'guessed', ceiling: 2.5 });
    expect(saying(remarks, /box was taken/)).toMatchObject([{ fate: 'guessed', count: 1 }]);
  });

  test.each([
    ['with a floor', true],
    ['by its walls alone', false],
  ] as const)('boundaries %s', async (_, hasFloor) => {
    const draft = draftIfc();
    const space = draft.space('1', 'Office', []);
    const bound = (frame: number, ring: readonly Pair[]): void => {
      const plane = draft.add(`IFCPLANE(#${frame})`);
      const outer = draft.polyline([...ring, ring[0]!]);
      const surface = draft.add(`IFCCURVEBOUNDEDPLANE(#${plane},#${outer},())`);
      const geometry = draft.add(`IFCCONNECTIONSURFACEGEOMETRY(#${surface},$)`);
      draft.add(`IFCRELSPACEBOUNDARY(${draft.id()},$,$,$,#${space},$,#${geometry},.PHYSICAL.,.INTERNAL.)`);
    };
    if (hasFloor) bound(draft.axes([0, 0, 0]), corner);
    corner.forEach(([x, y], i) => {
      const [a, b] = corner[(i + 1) % corner.length]!;
      const length = Math.hypot(a - x, b - y);
      // Local y runs up, local x along the wall.
      const along = [(a - x) / length, (b - y) / length] as const;
      bound(draft.axes([x, y, 0], [along[1], -along[0], 0], [along[0], along[1], 0]), rectangle(0, 0, length, 2.6));
    });
    const { rooms } = await readStorey(draft.text());
    expect(rooms).toHaveLength(1);
    expect(areaOf(rooms[0]!)).toBeCloseTo(18, 6);
    expect(rooms[0]!.ceiling).toBeCloseTo(2.6, 9);
  });

  test('neither body nor boundaries: left out by name', async () => {
    const draft = draftIfc();
    draft.space('1', 'Nowhere', []);
    draft.space('2', 'Office', [draft.block(square, 0, 3)]);
    const { rooms, remarks } = await readStorey(draft.text());
    expect(rooms).toHaveLength(1);
    expect(saying(remarks, /neither a body nor boundaries/)[0]?.places[0]?.name).toBe('Nowhere 1');
  });
});

describe('spaces that are no rooms', () => {
  test('parts of a room, gross areas, outside', async () => {
    const draft = draftIfc();
    const whole = draft.space('1', 'Hall', [draft.block(rectangle(0, 0, 8, 4), 0, 3)]);
    const part = draft.product(
      'IFCSPACE',
      '1a',
      draft.place(draft.ground.place, [0, 0, 0]),
      draft.shape([draft.block(rectangle(0, 0, 4, 4), 0, 3)]),
      "'Hall west',.PARTIAL.,.INTERNAL.,$",
    );
    draft.relate('IFCRELAGGREGATES', whole, [part]);
    const gross = draft.product(
      'IFCSPACE',
      'G',
      draft.place(draft.ground.place, [0, 0, 0]),
      draft.shape([draft.block(rectangle(-1, -1, 10, 6), 0, 3)]),
      "'Gross',.ELEMENT.,.GFA.,$",
    );
    const terrace = draft.product(
      'IFCSPACE',
      'T',
      draft.place(draft.ground.place, [0, 0, 0]),
      draft.shape([draft.block(rectangle(9, 0, 4, 4), 0, 3)]),
      "'Terrace',.ELEMENT.,.EXTERNAL.,$",
    );
    draft.relate('IFCRELAGGREGATES', draft.ground.id, [gross, terrace]);
    const { storeys, remarks } = await readModel(draft.text());
    expect(storeys[0]!.rooms.map(({ name }) => name)).toEqual(['Hall 1']);
    expect(saying(remarks, /parts of rooms|gross floor area|spaces outside/)).toHaveLength(3);
  });

  test('a group of rooms without a body gives way to its rooms', async () => {
    const draft = draftIfc();
    const group = draft.space('1', 'Flat', []);
    const part = (name: string, x: number): number =>
      draft.product(
        'IFCSPACE',
        name,
        draft.place(draft.ground.place, [0, 0, 0]),
        draft.shape([draft.block(rectangle(x, 0, 4, 4), 0, 3)]),
        "'Part',.PARTIAL.,.INTERNAL.,$",
      );
    draft.relate('IFCRELAGGREGATES', group, [part('1a', 0), part('1b', 4)]);
    const { storeys } = await readModel(draft.text());
    expect(storeys[0]!.rooms.map(({ name }) => name)).toEqual(['Part 1a', 'Part 1b']);
  });
});
