/** Walls, openings, furniture and services out of models written for the purpose. */
import { describe, expect, test } from 'vitest';
import { boxOf, readModel, readStorey, saying } from './read-model.ts';
import { type Draft, draftIfc, MILLIMETRE, rectangle } from './write-ifc.ts';

/** A wall along x from 0 to 10 with its middle at y = 0, 0.2 thick. */
const wall = (draft: Draft, height = 3): number =>
  draft.element('IFCWALL', 'Wall', [draft.block(rectangle(0, -0.1, 10, 0.2), 0, height)]);

describe('openings', () => {
  test('a door in a hole: jambs on the middle line, thickness, head', async () => {
    const draft = draftIfc();
    const door = draft.element(
      'IFCDOOR',
      'Door A',
      [draft.block(rectangle(2.05, -0.02, 0.8, 0.04), 0, 2.05)],
      '$,2.1,0.9,$,.SINGLE_SWING_LEFT.,$',
    );
    // The hole reaches out of the wall on one side more than on the other.
    draft.opening(wall(draft), [draft.block(rectangle(2, -0.5, 0.9, 0.7), 0, 2.1)], door);
    const { openings, walls } = await readStorey(draft.text());
    expect(openings).toMatchObject([
      { kind: 'door', name: 'Door A', from: [2, 0], to: [2.9, 0], depth: 0.2, sill: 0, head: 2.1, standing: 'read' },
    ]);
    // The wall is whole: openings are told apart from it.
    expect(walls).toMatchObject([{ kind: 'footprint', base: 0, top: 3 }]);
    const [first] = walls;
    if (first?.kind === 'footprint') expect(boxOf(first.outline)).toEqual([0, -0.1, 10, 0.1]);
  });

  test('a hole pressed sideways through a turned wall', async () => {
    const draft = draftIfc({ unit: MILLIMETRE });
    const turned = draft.place(draft.ground.place, [1000, 1000, 0], [0.6, 0.8, 0]);
    const host = draft.product(
      'IFCWALL',
      'Wall',
      turned,
      draft.shape([draft.block(rectangle(0, -100, 5000, 200), 0, 2600)]),
      '$',
    );
    draft.contain(draft.ground.id, [host]);
    const local = draft.place(turned, [0, 0, 0]);
    // The profile stands upright in the wall and is pushed across it.
    const body = draft.extrude(
      draft.polygonProfile(rectangle(1000, 0, 1000, 2000)),
      400,
      [0, 200, 0],
      [0, -1, 0],
      [1, 0, 0],
    );
    const hole = draft.product('IFCOPENINGELEMENT', '', local, draft.shape([body]), '$,$');
    draft.add(`IFCRELVOIDSELEMENT(${draft.id()},$,$,$,#${host},#${hole})`);
    const { openings } = await readStorey(draft.text());
    expect(openings).toMatchObject([{ kind: 'passage', sill: 0, head: 2, depth: 0.2 }]);
    const { from, to } = openings[0]!;
    const ends = [from, to]
      .sort((a, b) => a[0] - b[0])
      .flat()
      .map((value) => Math.round(value * 1e6) / 1e6);
    expect(ends).toEqual([1.6, 1.8, 2.2, 2.6]);
  });

  test('a window has its sill, a bare hole is a passage, a pipe hole and a niche are none', async () => {
    const draft = draftIfc();
    const host = wall(draft);
    const pane = draft.element(
      'IFCWINDOW',
      'W1',
      [draft.block(rectangle(1, -0.05, 1.2, 0.1), 0.9, 2.1)],
      '$,1.2,1.2,$,$,$',
    );
    draft.opening(host, [draft.block(rectangle(1, -0.1, 1.2, 0.2), 0.9, 2.1)], pane);
    draft.opening(host, [draft.block(rectangle(4, -0.1, 1.5, 0.2), 0, 2.4)]);
    draft.opening(host, [draft.block(rectangle(7, -0.1, 0.2, 0.2), 1, 1.2)]);
    draft.opening(host, [draft.block(rectangle(8, 0, 1, 0.1), 0, 2)]);
    const { openings, remarks } = await readStorey(draft.text());
    expect(openings.map(({ kind, sill, head }) => [kind, sill, head])).toEqual([
      ['window', 0.9, 2.1],
      ['passage', 0, 2.4],
    ]);
    expect(saying(remarks, /pipes and ducts/)).toHaveLength(1);
    expect(saying(remarks, /a niche/)).toHaveLength(1);
  });

  test('a door that names no hole takes the wall it stands in, as a guess', async () => {
    const draft = draftIfc();
    wall(draft);
    draft.element('IFCDOOR', 'Loose', [draft.block(rectangle(5, -0.03, 1, 0.06), 0, 2)], '$,2.,1.,$,$,$');
    const { openings, remarks } = await readStorey(draft.text());
    expect(openings).toMatchObject([{ from: [5, 0], to: [6, 0], depth: 0.2, standing: 'guessed' }]);
    expect(saying(remarks, /nearest was taken/)).toHaveLength(1);
  });

  test('a door in a gap of a front runs along the front', async () => {
    const draft = draftIfc();
    const front = draft.element('IFCCURTAINWALL', 'Front', []);
    const at = draft.place(draft.ground.place, [0, 0, 0]);
    const pane = (x: number): number =>
      draft.product('IFCPLATE', 'Pane', at, draft.shape([draft.block(rectangle(x, 0, 2, 0.06), 0, 2.7)]), '$,$');
    const leaf = draft.shape([draft.block(rectangle(2, 0.01, 1, 0.04), 0, 2.2)]);
    const door = draft.product('IFCDOOR', 'Glass door', at, leaf, '$,2.2,1.,$,$,$');
    draft.relate('IFCRELAGGREGATES', front, [pane(0), pane(3), door]);
    const { openings } = await readStorey(draft.text());
    const found = openings.find(({ kind }) => kind === 'door');
    expect([found!.from, found!.to].sort((a, b) => a[0] - b[0])).toEqual([
      [2, 0.03],
      [3, 0.03],
    ]);
  });

  test('a door without a body takes its stated size at its place', async () => {
    const draft = draftIfc();
    wall(draft);
    const door = draft.product(
      'IFCDOOR',
      'Bare',
      draft.place(draft.ground.place, [3, 0, 0], [1, 0, 0]),
      null,
      '$,2.1,0.9,$,$,$',
    );
    draft.contain(draft.ground.id, [door]);
    const { openings } = await readStorey(draft.text());
    expect(openings).toMatchObject([{ kind: 'door', depth: 0.2, sill: 0, head: 2.1 }]);
    expect([openings[0]!.from[0], openings[0]!.to[0]].sort()).toEqual([3, 3.9]);
  });
});

describe('rooms that touch', () => {
  test('without a wall between them have a passage along their common edge, with one they have none', async () => {
    const draft = draftIfc();
    draft.space('1', 'Open west', [draft.block(rectangle(0, 0, 4, 5), 0, 2.7)]);
    draft.space('2', 'Open east', [draft.block(rectangle(4, 1, 4, 3), 0, 2.7)]);
    // These two are drawn up to the middle of their wall.
    draft.space('3', 'North', [draft.block(rectangle(0, 5.2, 4, 3), 0, 2.7)]);
    draft.space('4', 'Far north', [draft.block(rectangle(0, 8.2, 4, 3), 0, 2.7)]);
    draft.element('IFCWALL', 'Wall', [draft.block(rectangle(0, 8.1, 4, 0.2), 0, 2.7)]);
    const { openings, remarks } = await readStorey(draft.text());
    expect(openings).toMatchObject([
      { kind: 'passage', name: 'Open west 1 – Open east 2', sill: 0, head: null, standing: 'guessed' },
    ]);
    expect([openings[0]!.from, openings[0]!.to].sort((a, b) => a[1] - b[1])).toEqual([
      [4, 1],
      [4, 4],
    ]);
    expect(saying(remarks, /without a wall between/)).toMatchObject([{ fate: 'guessed', count: 1 }]);
  });
});

describe('walls', () => {
  test('a low wall keeps its true top, a wall of parts is one, a wall on a building finds its storey', async () => {
    const draft = draftIfc();
    const upper = draft.storey('Upper floor', 3);
    draft.element('IFCWALLSTANDARDCASE', 'Low', [draft.block(rectangle(0, 0, 4, 0.1), 0, 1.4)]);
    const made = draft.element('IFCWALLELEMENTEDCASE', 'Framed', []);
    const part = (x: number): number =>
      draft.product(
        'IFCMEMBER',
        'Stud',
        draft.place(draft.ground.place, [0, 0, 0]),
        draft.shape([draft.block(rectangle(x, 5, 1, 0.1), 0, 2.8)]),
        '$,.STUD.',
      );
    draft.relate('IFCRELAGGREGATES', made, [part(0), part(1), part(2)]);
    const loose = draft.product(
      'IFCWALL',
      'Loose',
      draft.place(draft.buildingPlace, [0, 0, 3]),
      draft.shape([draft.block(rectangle(0, 0, 4, 0.2), 0, 2.5)]),
      '$',
    );
    draft.contain(draft.building, [loose]);
    const { storeys } = await readModel(draft.text());
    const [ground, above] = storeys;
    expect(
      ground!.walls.map((each) => each.kind === 'footprint' && [each.base, each.top, boxOf(each.outline)]),
    ).toEqual([
      [0, 1.4, [0, 0, 4, 0.1]],
      [0, 2.8, [0, 5, 3, 5.1]],
    ]);
    expect(ground!.pieces).toEqual([]);
    expect(above!.walls).toHaveLength(1);
    expect(saying(above!.remarks, /No storey holds them/)).toHaveLength(1);
    expect(upper.id).toBeGreaterThan(0);
  });

  test('a wall through two storeys stands on both', async () => {
    const draft = draftIfc();
    draft.storey('Upper floor', 3);
    draft.element('IFCWALL', 'Tall', [draft.block(rectangle(0, 0, 4, 0.2), 0, 6)]);
    const { storeys } = await readModel(draft.text());
    expect(storeys.map(({ walls }) => walls.map((each) => each.kind === 'footprint' && [each.base, each.top]))).toEqual(
      [[[0, 6]], [[-3, 3]]],
    );
  });

  test('glass: fronts between rooms are windows from the floor, panes in a room are glass partitions', async () => {
    const draft = draftIfc();
    draft.space('1', 'A', [draft.block(rectangle(0, 0, 6, 4), 0, 2.7)]);
    draft.space('2', 'B', [draft.block(rectangle(0, 4.1, 6, 4), 0, 2.7)]);
    const front = draft.element('IFCCURTAINWALL', 'Front', []);
    const pane = (x: number): number =>
      draft.product(
        'IFCPLATE',
        'Pane',
        draft.place(draft.ground.place, [0, 0, 0]),
        draft.shape([draft.block(rectangle(x, 4.03, 1.98, 0.04), 0, 2.7)]),
        '$,.CURTAIN_PANEL.',
      );
    draft.relate('IFCRELAGGREGATES', front, [pane(0), pane(2), pane(4)]);
    draft.element('IFCWALL', 'Trennwand verglast', [draft.block(rectangle(3, 1, 0.05, 2), 0, 2.2)]);
    draft.element('IFCWALL', 'Wand mit Glaswolle', [draft.block(rectangle(0, -0.2, 6, 0.2), 0, 2.7)]);
    const { openings, pieces, walls } = await readStorey(draft.text());
    expect(openings).toMatchObject([{ kind: 'window', sill: 0, head: 2.7 }]);
    expect(openings[0]!.depth).toBeCloseTo(0.04, 6);
    expect(pieces).toMatchObject([{ kind: 'partition', glass: true, base: 0, top: 2.2 }]);
    expect(walls).toHaveLength(1);
  });
});

/** One room of 10 × 8 m under 2.7 m with things in it. */
const office = (): Draft => {
  const draft = draftIfc();
  draft.space('1', 'Office', [draft.block(rectangle(0, 0, 10, 8), 0, 2.7)]);
  return draft;
};

describe('furniture', () => {
  test.each([
    ['Schreibtisch 160', 'desk'],
    ['Bureau individuel', 'desk'],
    ['Scrivania', 'desk'],
    ['Mesa de trabajo', 'desk'],
    ['デスク W1600', 'desk'],
    ['Bücherregal', 'shelving'],
    ['Étagère métallique', 'shelving'],
    ['書架', 'shelving'],
    ['Aktenschrank', 'cabinet'],
    ['Armadio', 'cabinet'],
    ['ロッカー', 'cabinet'],
    ['Stellwand', 'screen'],
    ['Biombo', 'screen'],
    ['パーティション', 'partition'],
    ['Desk screen', 'screen'],
    ['Säule', 'column'],
    ['Pflanzkübel', 'other'],
  ])('%s is a %s', async (name, kind) => {
    const draft = office();
    const encoded = [...name]
      .map((c) =>
        c.charCodeAt(0) < 128 ? c : `\\X2\\${c.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}\\X0\\`,
      )
      .join('');
    draft.element('IFCFURNISHINGELEMENT', encoded, [draft.block(rectangle(2, 2, 0.9, 0.5), 0, 0.95)]);
    const { pieces } = await readStorey(draft.text());
    expect(pieces).toMatchObject([{ kind, name, standing: 'guessed', base: 0, top: 0.95 }]);
  });

  test.each([
    [1.6, 0.8, 0, 0.74, 'desk'],
    [1.2, 0.6, 0, 1.1, 'desk'],
    [1.8, 0.05, 0, 1.6, 'screen'],
    [1, 0.4, 0, 2, 'shelving'],
    [1.2, 0.42, 0, 1.3, 'cabinet'],
    [1, 0.35, 1.4, 2.1, 'cabinet'],
  ])('without a name: %s × %s m from %s to %s m is a %s', async (length, width, from, to, kind) => {
    const draft = office();
    draft.element('IFCFURNITURE', '', [draft.block(rectangle(2, 2, length, width), from, to)], '$,$');
    expect((await readStorey(draft.text())).pieces).toMatchObject([{ kind }]);
  });

  test('chairs at desks become workplaces that face them; others are told', async () => {
    const draft = office();
    draft.element('IFCFURNITURE', 'Tisch', [draft.block(rectangle(2, 2, 1.6, 0.8), 0, 0.74)], '$,$');
    draft.element('IFCFURNITURE', 'Bureaustoel', [draft.block(rectangle(2.6, 1.3, 0.5, 0.5), 0, 1)], '$,$');
    draft.element('IFCFURNITURE', '', [draft.block(rectangle(2.6, 3, 0.5, 0.5), 0, 0.9)], '$,$');
    draft.element('IFCFURNITURE', 'Stuhl', [draft.block(rectangle(8, 6, 0.5, 0.5), 0, 0.9)], '$,$');
    const { workplaces, pieces, remarks } = await readStorey(draft.text());
    expect(pieces.map(({ kind }) => kind)).toEqual(['desk']);
    expect(workplaces).toMatchObject([
      { at: [2.85, 1.55], facing: 90, standing: 'guessed' },
      { at: [2.85, 3.25], facing: 270 },
    ]);
    expect(saying(remarks, /no desk or table/)[0]).toMatchObject({ fate: 'left out', count: 1 });
  });

  test('a desk with a screen on it is two pieces, a desk on legs one', async () => {
    const draft = office();
    const legs = [2, 3.55].flatMap((x) => [2, 2.75].map((y) => draft.block(rectangle(x, y, 0.05, 0.05), 0, 0.7)));
    draft.element('IFCFURNITURE', 'Desk', [draft.block(rectangle(2, 2, 1.6, 0.8), 0.7, 0.74), ...legs], '$,$');
    draft.element(
      'IFCFURNITURE',
      'Desk',
      [draft.block(rectangle(5, 2, 1.6, 0.8), 0.7, 0.74), draft.block(rectangle(5, 2.75, 1.6, 0.04), 0.74, 1.3)],
      '$,$',
    );
    const { pieces } = await readStorey(draft.text());
    expect(pieces.map(({ kind, top }) => [kind, top])).toEqual([
      ['desk', 0.74],
      ['desk', 0.74],
      ['screen', 1.3],
    ]);
    expect(boxOf(pieces[0]!.outline)).toEqual([2, 2, 3.6, 2.8]);
    expect(new Set(pieces.map(({ key }) => key)).size).toBe(3);
  });

  test('mats, monitors, figures and what lies above the ceiling are left out with a reason each', async () => {
    const draft = office();
    draft.element('IFCFURNITURE', 'Carpet', [draft.block(rectangle(1, 1, 2, 2), 0, 0.02)], '$,$');
    draft.element('IFCFURNITURE', 'Monitor 24', [draft.block(rectangle(1, 1, 0.6, 0.2), 0.74, 1.2)], '$,$');
    draft.element(
      'IFCBUILDINGELEMENTPROXY',
      'Person standing',
      [draft.block(rectangle(1, 1, 0.5, 0.5), 0, 1.8)],
      '$,$',
    );
    draft.element('IFCBUILDINGELEMENTPROXY', 'Cabinet', [draft.block(rectangle(1, 1, 0.5, 0.5), 2.8, 3.2)], '$,$');
    const { pieces, remarks } = await readStorey(draft.text());
    expect(pieces).toEqual([]);
    expect(remarks.filter(({ fate }) => fate === 'left out').map(({ reason }) => reason)).toHaveLength(4);
  });

  test('a column placed by a grid stands at its crossing', async () => {
    const draft = office();
    const axis = (name: string, from: readonly number[], to: readonly number[]): number =>
      draft.add(`IFCGRIDAXIS('${name}',#${draft.polyline([from, to])},.T.)`);
    const [a, b] = [axis('A', [0, 3], [10, 3]), axis('1', [4, 0], [4, 8])];
    draft.add(`IFCGRID(${draft.id()},$,'Grid',$,$,#${draft.place(draft.ground.place, [1, 0, 0])},$,(#${a}),(#${b}),$)`);
    const crossing = draft.add(`IFCVIRTUALGRIDINTERSECTION((#${a},#${b}),(0.5,0.))`);
    const placement = draft.add(`IFCGRIDPLACEMENT(#${crossing},$)`);
    const column = draft.product(
      'IFCCOLUMN',
      'C1',
      placement,
      draft.shape([draft.block(rectangle(-0.2, -0.2, 0.4, 0.4), 0, 2.7)]),
      '$,$',
    );
    draft.contain(draft.ground.id, [column]);
    const { pieces } = await readStorey(draft.text());
    expect(pieces.map(({ kind, outline }) => [kind, boxOf(outline)])).toEqual([['column', [4.8, 3.3, 5.2, 3.7]]]);
  });
});

describe('what hangs and what is warm', () => {
  test('ducts and beams below the ceiling hang, those above are left out', async () => {
    const draft = office();
    draft.element('IFCDUCTSEGMENT', 'Duct low', [draft.block(rectangle(1, 1, 6, 0.4), 2.2, 2.5)], '$,$');
    draft.element('IFCDUCTSEGMENT', 'Duct high', [draft.block(rectangle(1, 3, 6, 0.4), 2.75, 3)], '$,$');
    draft.element('IFCBEAM', 'Beam', [draft.block(rectangle(0, 5, 10, 0.3), 2.4, 2.9)], '$,$');
    const { pieces, remarks } = await readStorey(draft.text());
    expect(new Map(pieces.map(({ kind, name, base, top }) => [name, [kind, base, top]]))).toEqual(
      new Map([
        ['Duct low', ['hanging', 2.2, 2.5]],
        ['Beam', ['hanging', 2.4, 2.9]],
      ]),
    );
    expect(saying(remarks, /at or above the ceiling/)[0]).toMatchObject({ count: 1, places: [{ name: 'Duct high' }] });
  });

  test('luminaires and sources, in IFC2x3 by their type objects', async () => {
    const draft = office();
    draft.element('IFCLIGHTFIXTURE', 'Panel', [draft.block(rectangle(2, 2, 1.2, 0.3), 2.5, 2.55)], '$,$');
    draft.element('IFCSPACEHEATER', 'Radiator', [draft.block(rectangle(4, 0.05, 1, 0.1), 0.1, 0.7)], '$,$');
    const outlet = draft.element('IFCFLOWTERMINAL', 'X', [draft.block(rectangle(6, 6, 0.6, 0.6), 2.65, 2.7)]);
    const type = draft.add(`IFCAIRTERMINALTYPE(${draft.id()},$,'Swirl',$,$,$,$,$,$,.DIFFUSER.)`);
    draft.add(`IFCRELDEFINESBYTYPE(${draft.id()},$,$,$,(#${outlet}),#${type})`);
    const { luminaires, sources } = await readStorey(draft.text());
    expect(luminaires).toMatchObject([{ name: 'Panel', at: [2.6, 2.15], turn: 0, base: 2.5, top: 2.55 }]);
    expect(luminaires[0]!.size.map((value) => Math.round(value * 1e6) / 1e6)).toEqual([1.2, 0.3]);
    expect(sources.map(({ kind, at, radius }) => [kind, at, radius])).toEqual(
      expect.arrayContaining([
        ['heater', [4.5, 0.1], 0.5],
        ['air outlet', [6.3, 6.3], 0.3],
      ]),
    );
  });
});

describe('storeys', () => {
  test('in order of height, the bare one told', async () => {
    const draft = draftIfc();
    const cellar = draft.storey('Cellar', -3);
    draft.storey('Roof', 6);
    draft.space('1', 'Office', [draft.block(rectangle(0, 0, 4, 4), 0, 3)]);
    draft.space('2', 'Store', [draft.block(rectangle(0, 0, 4, 4), 0, 2.4)], cellar);
    const { storeys } = await readModel(draft.text());
    expect(storeys.map(({ name, elevation, rooms }) => [name, elevation, rooms.length])).toEqual([
      ['Cellar', -3, 1],
      ['Ground floor', 0, 1],
      ['Roof', 6, 0],
    ]);
    expect(storeys[0]!.rooms[0]!.ceiling).toBeCloseTo(2.4, 9);
    expect(saying(storeys[2]!.remarks, /neither rooms nor walls/)).toHaveLength(1);
  });

  test('a storey without elevation, and one whose placement forgot its height', async () => {
    const draft = draftIfc({ elevation: null });
    draft.space('1', 'Office', [draft.block(rectangle(0, 0, 4, 4), 0, 3)]);
    // Placed at 0 although it says 3 m; its room stands at 3 m.
    const upper = draft.storey('Upper', 3, 0);
    draft.space('2', 'Above', [draft.block(rectangle(0, 0, 4, 4), 3, 6)], upper);
    const { storeys } = await readModel(draft.text());
    const above = storeys.find(({ name }) => name === 'Upper')!;
    expect(above.rooms[0]!.ceiling).toBeCloseTo(3, 9);
    expect(saying(above.remarks, /differ/)).toHaveLength(1);
    expect(storeys.find(({ name }) => name === 'Ground floor')!.rooms[0]!.ceiling).toBe(3);
  });

  test('no storey at all: one stands for the file', async () => {
    const draft = draftIfc();
    draft.space('1', 'Office', [draft.block(rectangle(0, 0, 4, 4), 0, 3)]);
    const text = draft.text().replace(/#\d+=IFCBUILDINGSTOREY[^;]*;\n/, '');
    const { storeys, remarks } = await readModel(text);
    expect(storeys).toHaveLength(1);
    expect(storeys[0]!.rooms).toHaveLength(1);
    expect(saying(remarks, /no storeys/)).toHaveLength(1);
  });
});
