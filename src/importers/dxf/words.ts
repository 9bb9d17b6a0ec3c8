/** Texts of a DXF file: from bytes to characters, and from the drawing's own marks to plain words. */

/** Turns the bytes of a value into text. */
export interface TextReader {
  read(bytes: Uint8Array): string;
  /** In words, for the account: "UTF-8", "Shift-JIS (ANSI_932)". */
  readonly name: string;
}

/** Names of code pages as `$DWGCODEPAGE` writes them, without their prefix, and what decoders call them. */
const PAGES: Readonly<Record<string, string>> = {
  '874': 'windows-874',
  '932': 'shift_jis',
  '936': 'gbk',
  '949': 'euc-kr',
  '950': 'big5',
  '1250': 'windows-1250',
  '1251': 'windows-1251',
  '1252': 'windows-1252',
  '1253': 'windows-1253',
  '1254': 'windows-1254',
  '1255': 'windows-1255',
  '1256': 'windows-1256',
  '1257': 'windows-1257',
  '1258': 'windows-1258',
  '866': 'ibm866',
};
/** Code pages written before Windows had its own; what is left of them differs in accents and is read as the nearest. */
const OLD_PAGES: Readonly<Record<string, string>> = {
  ascii: 'windows-1252',
  '8859_1': 'windows-1252',
  '8859_2': 'iso-8859-2',
  '8859_5': 'iso-8859-5',
  '8859_7': 'iso-8859-7',
  '8859_9': 'windows-1254',
  dos850: 'windows-1252',
  dos437: 'windows-1252',
  dos852: 'windows-1250',
  mac_roman: 'macintosh',
  macintosh: 'macintosh',
  johab: 'euc-kr',
  ksc5601: 'euc-kr',
  gb2312: 'gbk',
  big5: 'big5',
  dos932: 'shift_jis',
  dos866: 'ibm866',
};

/**
 * The reader for a file's texts: from AC1021 (2007) on UTF-8, before it the code page the header names. Bytes that are no
 * UTF-8 are read by the code page; old files of one-byte pages whose bytes are sound UTF-8 are read as that, because
 * nobody writes "Ã¼".
 *
 * @param version `$ACADVER`, empty when there is none
 * @param page `$DWGCODEPAGE`, empty when there is none
 */
export function openTexts(version: string, page: string): TextReader {
  const short = page.toLowerCase().replace(/^(ansi|dos|iso)[_-]?/, (prefix) => (prefix.startsWith('dos') ? 'dos' : ''));
  const label = PAGES[short] ?? OLD_PAGES[short] ?? 'windows-1252';
  const paged = openDecoder(label);
  const strict = new TextDecoder('utf-8', { fatal: true });
  const isUtf8 = version >= 'AC1021';
  const mayBeUtf8 = isUtf8 || label.startsWith('windows-') || label.startsWith('iso-');
  return {
    name: isUtf8 ? 'UTF-8' : `${label}${page === '' ? '' : ` (${page})`}`,
    read(bytes) {
      let plain = true;
      for (let i = 0; i < bytes.length && plain; i++) plain = (bytes[i] as number) < 128;
      if (mayBeUtf8 || plain) {
        try {
          return strict.decode(bytes);
        } catch {
          // No UTF-8 after all.
        }
      }
      return paged.decode(bytes);
    },
  };
}

function openDecoder(label: string): TextDecoder {
  try {
    return new TextDecoder(label);
  } catch {
    return new TextDecoder('windows-1252');
  }
}

/** `\M+1…` to `\M+5…`: two bytes of one of five code pages. */
const MULTIBYTE: Readonly<Record<string, string>> = { '1': '932', '2': '950', '3': '949', '4': '949', '5': '936' };

/** `\U+00FC` and `\M+1xxxx` as the characters they stand for. */
export function decodeEscapes(text: string): string {
  if (!text.includes('\\')) return text;
  return text
    .replace(/\\U\+([0-9A-Fa-f]{4})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)))
    .replace(/\\M\+([1-5])([0-9A-Fa-f]{2})([0-9A-Fa-f]{2})/g, (_, page: string, high: string, low: string) =>
      openDecoder(PAGES[MULTIBYTE[page] ?? ''] ?? 'windows-1252').decode(
        Uint8Array.of(Number.parseInt(high, 16), Number.parseInt(low, 16)),
      ),
    );
}

/** A line of text (TEXT, ATTRIB) without its marks: %%u, %%d, %%c, %%nnn. */
export function readPlainText(text: string): string {
  return tidy(
    decodeEscapes(text).replace(/%%(\d{3}|.)/g, (_, mark: string) => {
      if (/^\d{3}$/.test(mark)) return String.fromCharCode(Number(mark));
      return { d: '°', p: '±', c: '⌀', '%': '%' }[mark.toLowerCase()] ?? '';
    }),
  );
}

/** A paragraph (MTEXT) without its formatting; its lines are joined by line breaks. */
export function readParagraph(text: string): string {
  const source = decodeEscapes(text);
  let out = '';
  for (let i = 0; i < source.length; i++) {
    const character = source[i] as string;
    if (character === '{' || character === '}') continue;
    if (character === '^') {
      i++;
      out += ' ';
      continue;
    }
    if (character !== '\\') {
      out += character;
      continue;
    }
    i++;
    const mark = source[i] ?? '';
    if (mark === '\\' || mark === '{' || mark === '}') out += mark;
    else if (mark === 'P' || mark === 'X' || mark === 'N') out += '\n';
    else if (mark === '~') out += ' ';
    else if (mark === 'S') {
      const end = endOf(source, i);
      out += source.slice(i + 1, end).replace(/[#^]/g, '/');
      i = end;
    } else if (/[AHWQTCcFfp]/.test(mark)) i = endOf(source, i);
    else if (!/[LlOoKk]/.test(mark)) out += mark;
  }
  return out
    .replace(/%%[uok]/gi, '')
    .replace(/%%d/gi, '°')
    .split('\n')
    .map(tidy)
    .filter((line) => line !== '')
    .join('\n');
}

/** Where the setting that begins at `from` ends: at its semicolon; without one the setting is the mark alone. */
function endOf(text: string, from: number): number {
  const end = text.indexOf(';', from);
  return end < 0 ? from : end;
}

/** Control characters out, blanks once. Never longer than 300 characters. */
function tidy(text: string): string {
  const plain = text
    .replace(/\p{Cc}/gu, ' ')
    .replace(/\s+/g, ' ')
    .trim();
  return plain.length > 300 ? `${plain.slice(0, 299)}…` : plain;
}
