/**
 * What a thing is by what it is called. The words are everyday ones of German, English, French, Spanish, Italian, Portuguese,
 * Dutch, Scandinavian and East Asian languages, from memory; accents do not matter. What they lead to is a guess.
 */

export type NamedKind =
  | 'chair'
  | 'seating'
  | 'desk'
  | 'shelving'
  | 'cabinet'
  | 'screen'
  | 'partition'
  | 'column'
  | 'lamp'
  | 'heater'
  | 'fan'
  | 'air outlet'
  | 'machine'
  | 'small'
  | 'other'
  | 'figure';

/** In this order: a "desk chair" is a chair, a "desk lamp" a lamp, a "screen" that is a monitor is something small. */
const WORDS: readonly (readonly [NamedKind, RegExp])[] = [
  [
    'figure',
    /\b(person|people|human|mensch|personne|persona|figure|model text|modelltext|text|logo|tree|baum|arbre|arbol|albero)\b|人物|樹木/u,
  ],
  [
    'small',
    /\b(monitor|computer|laptop|notebook|keyboard|mouse|tv|television|projector|whiteboard|clock|phone|pc|tastatur|bildschirm|fernseher|beamer|telefon|telephone|ecran|clavier|ordinateur|pantalla|teclado|ordenador|papierkorb|waste ?(basket|bin)|bin|picture|bild)\w{0,2}\b|モニタ|パソコン|電話|テレビ/u,
  ],
  [
    'lamp',
    /leuchte|\blamp|lampe\b|luminaire|light(ing)?\b|eclairage|lampara|luminaria|lampada|apparecchio|armatur\b|verlichting|照明|ライト|灯|조명/u,
  ],
  [
    'other',
    /\bplants?\b|planter|pflanz|blumen|plante|pianta|kubel|観葉|植|wasch(tisch|becken)|\b(sink|toilet|wc|urinal|shower|dusche|bath ?tub|lavabo|lavatory|bett|bed|letto|cama)\b|wash ?basin|badewanne|dishwasher|\b(stove|oven|herd|kuchenzeile|cooktop)\b/u,
  ],
  [
    'chair',
    /chair|stool\b|stuhl|hocker|drehsessel|burosessel|chaise|tabouret|\bsiege\b|\bsillas?\b|taburete|\bsedi[ae]\b|sgabell|cadeira|stoel|kruk\b|\bstol(ar)?\b|kontorstol|krzesl|zidle|椅|イス|いす|チェア|スツール|의자/u,
  ],
  [
    'seating',
    /sofa|couch|\bbench\b|sessel|fauteuil|canape|banquette|sillon|poltron|divano|\bbank\b|sitzbank|armchair|seat|ソファ|ベンチ|沙发/u,
  ],
  [
    'shelving',
    /shelf|shelv|\brack|bookcase|regal|etagere|rayonnage|bibliotheque|estante|libreria|scaffal|prateleira|stelling|\breol|hylla|hylle|polica|棚|シェルフ|ラック|書架|书架|책장|선반/u,
  ],
  [
    'cabinet',
    /cabinet|cupboard|locker|wardrobe|sideboard|credenza|drawer|pedestal|filing|schrank|\bspind|kommode|rollcontainer|armoire|placard|caisson|vestiaire|classeur|commode|armario|archivador|taquilla|cajonera|armadi|cassettiera|schedari|\bkast\b|\bkasten|\bskap\b|\bskab\b|szaf|refrigerator|fridge|キャビネット|ロッカー|収納|戸棚|書庫|柜|캐비닛/u,
  ],
  [
    'partition',
    /partition|trennwand|cubicle|\bcloison|tabique|tramezz|scheidingswand|skillevagg|間仕切|パーティション|隔断|칸막이/u,
  ],
  [
    'screen',
    /screen|divider|paravent|privacy|stellwand|sichtschutz|raumteiler|separat|biombo|mampara|divisori|\bschermo|\bscherm|skarm|parawan|パネル|衝立|ついたて|スクリーン|屏风/u,
  ],
  [
    'heater',
    /radiator|heater|heizk|heizung|konvektor|convector|radiateur|chauffage|radiador|calefac|termosifon|暖房|ラジエータ|散热/u,
  ],
  ['fan', /\bfan\b|ventilator\b|ventilateur|ventilador|ventilatore|\blufter\b|送風|扇/u],
  [
    'air outlet',
    /diffuser|grille|air ?terminal|air ?outlet|luftauslass|zuluft|abluft|durchlass|bouche d|diffuseur|difusor|rejilla|diffusore|bocchett|吹出|制気|風口/u,
  ],
  [
    'machine',
    /copier|printer|kopierer|drucker|copieur|imprimante|impresora|fotocopi|stampante|photocop|vending|server\b|コピー機|複合機|プリンタ|打印|복사기/u,
  ],
  [
    'desk',
    /desk|\btables?\b|work ?surface|work ?station|worktop|counter(?! ?top)|tisch|arbeitsplatz|arbeitsflach|theke\b|tresen|schreibpult|\bbureau|plan de travail|\bmesas?\b|escritorio|mostrador|tavol|scrivani|bancone|balcao|escrivaninha|\bwerkblad|bureautafel|skrivbord|skrivebord|\bbord\b|biurk|\bstul\b|机|デスク|テーブル|桌|책상|테이블|\bisland\b/u,
  ],
  ['column', /column|pillar|\bsaule|\bstutze|pfeiler|poteau|pilier|columna|\bpilar|colonna|pilastr|柱|기둥/u],
];

const GLASS =
  /glass|\bglas|glaz|verglas|\bverre|vitre|vitrage|vidrio|cristal\b|vetro|vetrat|vidro|ガラス|硝子|玻璃|유리/u;

const GLASS_WOOL =
  /glas\w* ?(wolle|wool|fiber|fibre|faser|vlies|fleece|ull)|(fiber|fibre|schaum|foam) ?glas|laine de verre|fibre de verre|lana de vidrio|fibra de vidrio|lana di vetro|fibra di vetro|グラスウール/u;

/** Lower case, without accents, with spaces for the marks that join words. */
function normaliseName(text: string): string {
  return text
    .normalize('NFKD')
    .replace(/[\u0300-\u036f]/gu, '')
    .normalize('NFC')
    .toLowerCase()
    .replace(/ß/gu, 'ss')
    .replace(/[_\-:,./()]+/gu, ' ');
}

/** What a name says, undefined when it says nothing known. The first name that says something counts. */
export function findNamedKind(...names: readonly string[]): NamedKind | undefined {
  for (const name of names) {
    if (name === '') continue;
    const text = normaliseName(name);
    const found = WORDS.find(([, pattern]) => pattern.test(text));
    if (found !== undefined) return found[0];
  }
  return undefined;
}

/** Whether one of the names says glass; insulation made of glass is none. */
export function namesGlass(...names: readonly string[]): boolean {
  return names.some((name) => {
    const text = normaliseName(name);
    return GLASS.test(text) && !GLASS_WOOL.test(text);
  });
}
