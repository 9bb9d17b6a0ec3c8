/**
 * What the names of layers and blocks say about the things on them, in the languages drawings are written in. The words are
 * ordinary words for building parts, and the two-to-four-letter fields of the US national CAD standard's layer names; from memory.
 */

/** What a layer or a block holds. `contents`: a block that only groups what its own layers say. */
export const DXF_CLASSES = [
  'wall',
  'door',
  'window',
  'opening',
  'room',
  'obstacle',
  'room name',
  'desk',
  'chair',
  'cabinet',
  'shelving',
  'screen',
  'partition',
  'column',
  'hanging',
  'furniture',
  'luminaire',
  'heater',
  'air outlet',
  'contents',
  'ignore',
] as const;
export type DxfClass = (typeof DXF_CLASSES)[number];

/** Words about something: room names may be among them. */
const WRITTEN =
  '=iden =anno annotation anntext anntxt =ann =text texts =txt texte textes texto testo testi tekst =note =notes label beschrift *beschriftung schrift écriture scritte 注記 文字 文字列 текст надпис';

/**
 * A rule: words at the beginning of a part of the name (`tür` finds "Türen" and, after a cut, "A_TUER_EG"); written with `=` in front
 * only the whole part; with `*` in front anywhere in a part, for languages that join words ("Innentür", "Trennwand").
 */
type Rule = readonly [DxfClass, string];

/** Said of a thing, not of the thing: its number, its hatch, its dimension. Beats every other word but a room's. */
const ABOUT =
  '=dims =dim =patt =symb =legn =revs =revc =rdme =schd =nplt =npl schraff *schraffur hatch hachure sombread tratteg arcering kreskow ハッチ 寸法 bemass *bemassung massketten massen =masse dimension maatv cotas =cota =cote =cotes cotation quotatur =quote wymiar мерн размер 尺寸 标注';

const RULES: readonly Rule[] = [
  // What is certainly no part of the floor's plan.
  [
    'ignore',
    'defpoints viewport =vport =vp =view =ansicht =schnitt section =sect coupe sezion seccion przekroj elevation =elev title titel cartouche cartiglio plankopf schriftfeld =ttlb =logo legend north nord =grid gitter =grille =axis =axes =achse =achsen =axe =axen =eje =ejes =assi =as =osie =eixo =eixos raster *raster stramien 通り芯 通芯 軸 轴 =osi осев =cut =hidden verdeckt demo abbruch abriss demolition demoliz sloop =rueckbau found *fundament fondation cimient fondazion fundering =footer footing footprint =stem =slab =slabs =beam =beams =joist =roof =dach *dachstuhl toiture =techo techumbre =tetto =dak =telhado 屋根 =site =topo =tree =trees =plant grundst terrain gelaende parcel strasse =road =temp =tmp =header =head =hdr =stair =strs =stairs treppe *treppe escalier escaler scala =scale =schody =trap =trappen 階段 楼梯 sprink brandmeld steckdose *steckdose socket outlet =prise =kabel cable elektro *elektro electr elettr =strom =power =powr',
  ],
  // Room names, before rooms.
  [
    'room name',
    'raumname raumnam raumnr raumnummer raumbez raumtext raumstempel raumbeschrift roomname roomnum roomno roomtag roomtext areaiden roomiden spaceiden nomlocal nompiece nomlocaux nomestanza nomelocale ruimtenaam kamernummer ruimtenummer 室名 部屋名 房间名 =rmname =rmno =rmnum =romn',
  ],
  [
    'partition',
    '=tptn =prht cubicle *trennwandwc wctrennwand =move mobilewand faltwand *faltwand toilettrenn sanitaertrenn 移動間仕切',
  ],
  [
    'column',
    '=cols =col column pillar stuetze *stuetze saeule *saeule pfeiler *pfeiler poteau =pilier pilar pilares pilastr colonn kolom =slup =slupy coluna sloup stolp колонн 柱 기둥',
  ],
  [
    'screen',
    '=screen =screens stellwand *stellwand sichtschutz trennschirm paravent parawan biombo schermo scherm akustikwand 衝立 ついたて パーティション パーテーション ローパーティション',
  ],
  [
    'wall',
    '=wall =walls *wall wand waende *wand *waende mauer *mauer *mauerwerk =mur =murs =muro =muros =muri murat cloison pared =paredes parete =pareti tramezz tabique muren wanden =muur sciana sciany =mury parede paredes alvenaria vaegg =vegg vegger =seina stena steny =zed =zdi =fal =falak perete duvar стен перегород 壁 墙 牆 벽 間仕切 gypsum drywall gipskarton =gk bearing partition przegrod divisoria tabiqueria',
  ],
  [
    'window',
    '=window =windows window =wind =win =glaz glazing *fenster fenster fenetre =ventana =ventanas ventan finestr =raam =ramen kozijn =okno =okna =okien janela vindu foenster fonster ikkun =ablak fereastr pencere =okn окно окна 窓 サッシ 窗 창 verglasung *verglasung vitrage =serrament',
  ],
  [
    'door',
    '=door =doors door *door =tuer =tueren tuer *tuer *tueren =tur =turen =tueroeffnung tor =tore porte =portes puerta *puerta =porta =porte =deur deuren =drzwi porta =portas doer doerr =dorr dveri dvere ajto =ajtok =usa =usi kapi двер 扉 ドア 戸 建具 门 門 문 =swing anschlag',
  ],
  [
    'opening',
    '=opening =openings opening oeffnung *oeffnung durchgang passage ouverture apertura =vano =vani =opng 開口',
  ],
  ['obstacle', 'obstacle *obstacle obstacles hindernis ostacol obstaculo'],
  [
    'luminaire',
    '=lite =light =lights lighting luminair *leuchte *leuchten leuchte beleucht *beleuchtung =lampe =lampen =lamp =lamps luminari eclairage illumin armatuur verlicht oprawa oprawy oswietl downlight 照明 灯 светильн',
  ],
  [
    'heater',
    'heater heizk *heizkoerper radiator radiateur radiador radiatore calorif termosifon grzejnik konvektor convector 暖房 ラジエ 散热 радиатор',
  ],
  [
    'air outlet',
    'diffus =diff difus luftauslass *auslass zuluft abluft anemostat nawiewnik bocchett rooster ventilrooster 吹出 制気口 风口',
  ],
  [
    'chair',
    '=chair =chairs chair *chair *stuhl stuhl stuehle *stuehle =sessel drehstuhl =chaise =chaises silla sillas =sedia =sedie =stoel stoelen krzesl cadeira fauteuil =seat seating =sitz stool hocker 椅子 イス チェア 椅 стул',
  ],
  [
    'shelving',
    'shelf shelv shelves =regal =regale *regal *regale etager rayonnage estant scaffal stelling boekenkast =rek =rekken =rack racks =polki prateleir 棚 書架 ラック 书架 стеллаж bookcase buecherregal',
  ],
  [
    'cabinet',
    'cabinet =cab cupboard *schrank schrank *schraenke armoire armario armadi =kast =kasten szafa szafk sideboard rollcontainer =container pedestal credenza kommode casework =case =cases =cswk locker =spind *spind filing lateral caisson =classeur archivador キャビネット 収納 柜 шкаф',
  ],
  [
    'desk',
    '=desk =desks desk *desk schreibtisch *tisch tisch *tische =table =tables *table bureau bureaux escritorio =mesa =mesas scrivania =tavolo =tavoli =tafel tafels =biurko =biurka =stol =stoly =stolik workstation =wkst arbeitsplatz arbeitsplaetze =bench =platz =poste 机 デスク テーブル 桌 стол counter theke tresen',
  ],
  [
    'furniture',
    'furn *furniture furniture moebel moebl *moebel =mob mobil mueble muebles arred meubel meubil mebl =inventar kaluste nabytek мебел 家具 什器 가구 einricht ausstatt equip =eqpm fixture =fixt =flor sanit *sanitaer plumb =wc toilet kitchen kueche *kueche cuisine cocina cucina keuken appliance =sofa couch =bett =bed =lit =cama wasch',
  ],
  ['hanging', '=duct =ducts kanal *kanal lueftungskanal gaine canale baffle =segel akustiksegel deckensegel'],
  [
    'room',
    '=area =areas =room =rooms room *room =space =spaces =raum raeume raumpoly raumflaech raumumr *raum *raeume =zimmer nutzfl nettofl =nrf =ngf =nuf =bgf flaeche flaechen *flaechen *flaeche =piece =pieces =local locaux surface surfaces habitaci recinto =stanza stanze =locale locali ambient ruimte ruimten kamer vertrek pomieszcz pokoj comodo walkable =walkablearea walkingarea =zone =zonen 部屋 室 房间 방 помещен',
  ],
  ['room name', 'raumbe =rmtx'],
  ['ignore', 'ceiling =clng decke *decke plafond =techo soffit =sufit 天井 =symbol =symbols'],
];

interface Matcher {
  readonly class: DxfClass;
  readonly whole: ReadonlySet<string>;
  readonly start: readonly string[];
  readonly within: readonly string[];
}

const MATCHERS: readonly Matcher[] = RULES.map(([kind, words]) => toMatcher(kind, words));
const ABOUT_MATCHER = toMatcher('ignore', ABOUT);
const WRITTEN_MATCHER = toMatcher('room name', WRITTEN);

function toMatcher(kind: DxfClass, words: string): Matcher {
  const list = words.split(' ');
  return {
    class: kind,
    whole: new Set(list.filter((word) => word.startsWith('=')).map((word) => word.slice(1))),
    start: list.filter((word) => !word.startsWith('=') && !word.startsWith('*')),
    within: list.filter((word) => word.startsWith('*')).map((word) => word.slice(1)),
  };
}

/** The plain letters of a name: no accents, ß as ss, ä as ae, small; and its parts, cut at signs, digits and humps. */
function partsOf(name: string): { readonly joined: string; readonly parts: readonly string[] } {
  const plain = withoutReference(name)
    .replace(/([\p{Ll}])([\p{Lu}])/gu, '$1 $2')
    .toLowerCase()
    .replace(/ä/g, 'ae')
    .replace(/ö/g, 'oe')
    .replace(/ü/g, 'ue')
    .replace(/ß/g, 'ss')
    .replace(/ø/g, 'oe')
    .replace(/æ/g, 'ae')
    .replace(/ł/g, 'l')
    .normalize('NFD')
    // Marks of Latin letters only: Japanese voicing marks belong to their letters.
    .replace(/[\u0300-\u036f]/g, '')
    .normalize('NFC');
  const parts = plain.split(/[^\p{L}\p{M}ー]+/u).filter((part) => part !== '');
  return { joined: parts.join(''), parts };
}

/** A name without the file it was bound from: `house$0$A-WALL` and `house|A-WALL` are `A-WALL`. */
export function withoutReference(name: string): string {
  return name.replace(/^.*(\$\d+\$|\|)/, '');
}

/** What a name says, or null when it says nothing. */
export function classOfName(name: string): DxfClass | null {
  const { joined, parts } = partsOf(name);
  if (parts.length === 0) return null;
  const hit = MATCHERS.find((matcher) => matches(matcher, parts, joined))?.class ?? null;
  if (hit === 'ignore' || hit === 'room name') return hit;
  if (matches(ABOUT_MATCHER, parts, joined)) return 'ignore';
  if (!matches(WRITTEN_MATCHER, parts, joined)) return hit;
  // What is written about rooms, or about nothing in particular, may be their name; the numbers of doors are not.
  return hit === null || hit === 'room' ? 'room name' : 'ignore';
}

function matches(matcher: Matcher, parts: readonly string[], joined: string): boolean {
  for (const part of parts) {
    if (matcher.whole.has(part)) return true;
    if (matcher.start.some((word) => part.startsWith(word))) return true;
    if (matcher.within.some((word) => part.includes(word))) return true;
  }
  // Names written in parts ("Raum Name", "A-AREA-IDEN") and scripts without blanks.
  return matcher.start.some((word) => word.length > 5 && joined.includes(word)) || hasIdeograph(matcher, joined);
}

function hasIdeograph(matcher: Matcher, joined: string): boolean {
  if (!/[\u3040-\u30ff\u3400-\u9fff\uac00-\ud7af\u0400-\u04ff]/.test(joined)) return false;
  return matcher.start.some((word) => word.charCodeAt(0) > 0x3ff && joined.includes(word));
}
