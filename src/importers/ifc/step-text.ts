/** Strings of a STEP file: the escapes of ISO 10303-21, and bytes that should not be there but are, in some code page. */

export interface TextEncoding {
  /** As the platform names it: `utf-8`, `shift_jis`, `windows-1252`. */
  readonly label: string;
  /** Plain ASCII or UTF-8: nothing was guessed. */
  readonly isCertain: boolean;
}

/** Samples of bytes over 0x7f, each with what stands around it, to tell the code page by. */
const MAX_SAMPLE = 200_000;

/**
 * The encoding of the raw bytes. The standard allows ASCII only (and UTF-8 since 2016); older programs wrote the code page of
 * their machine. UTF-8 is certain when it decodes; Shift-JIS is told by kana and by characters that stand together.
 */
export function findEncoding(bytes: Uint8Array): TextEncoding {
  const sample = sampleHighBytes(bytes);
  if (sample.length === 0 || decodes(sample, 'utf-8') !== undefined) return { label: 'utf-8', isCertain: true };
  const japanese = decodes(sample, 'shift_jis');
  if (japanese !== undefined) {
    const wide = japanese.match(/[\u3040-\u30ff\u4e00-\u9fff\uff01-\uff5e]/gu)?.length ?? 0;
    const together = japanese.match(/[\u3040-\u30ff\u4e00-\u9fff]{2,}/gu)?.join('').length ?? 0;
    if (wide > 0 && together * 2 >= wide) return { label: 'shift_jis', isCertain: false };
  }
  return { label: 'windows-1252', isCertain: false };
}

/** Strings that hold bytes over 0x7f, cut out whole, one a line. */
function sampleHighBytes(bytes: Uint8Array): Uint8Array {
  const parts: Uint8Array[] = [];
  let size = 0;
  for (let at = findHighByte(bytes, 0); at >= 0 && size < MAX_SAMPLE; at = findHighByte(bytes, at + 1)) {
    const open = bytes.lastIndexOf(0x27, at);
    let close = bytes.indexOf(0x27, at);
    if (close < 0) close = bytes.length;
    const part = bytes.subarray(Math.max(open + 1, at - 2_000), Math.min(close, at + 2_000));
    parts.push(part);
    size += part.length + 1;
    at = close;
  }
  const sample = new Uint8Array(size).fill(0x0a);
  let to = 0;
  for (const part of parts) {
    sample.set(part, to);
    to += part.length + 1;
  }
  return sample;
}

/** The next byte over 0x7f, four at a time, or −1. */
function findHighByte(bytes: Uint8Array, from: number): number {
  const { length, byteOffset, buffer } = bytes;
  let at = from;
  while (at < length && ((byteOffset + at) & 3) !== 0) {
    if ((bytes[at] as number) >= 0x80) return at;
    at++;
  }
  if (at >= length) return -1;
  const words = new Int32Array(buffer, byteOffset + at, (length - at) >> 2);
  let word = 0;
  while (word < words.length && ((words[word] as number) & 0x80808080) === 0) word++;
  for (at += word * 4; at < length; at++) if ((bytes[at] as number) >= 0x80) return at;
  return -1;
}

function decodes(bytes: Uint8Array, label: string): string | undefined {
  try {
    return new TextDecoder(label, { fatal: true }).decode(bytes);
  } catch {
    return undefined;
  }
}

const decoders = new Map<string, TextDecoder>();

function decodeBytes(bytes: Uint8Array, label: string): string {
  let decoder = decoders.get(label);
  if (decoder === undefined) {
    decoder = new TextDecoder(label);
    decoders.set(label, decoder);
  }
  return decoder.decode(bytes);
}

/** The text of the bytes between two quotes. */
export function decodeStepText(bytes: Uint8Array, from: number, to: number, label: string): string {
  let isPlain = true;
  let raw = '';
  for (let at = from; at < to; at++) {
    const c = bytes[at] as number;
    if (c >= 0x80) {
      isPlain = false;
      break;
    }
    raw += String.fromCharCode(c);
  }
  if (!isPlain) raw = decodeBytes(bytes.subarray(from, to), label);
  if (raw.includes("''")) raw = raw.replaceAll("''", "'");
  return raw.includes('\\') ? decodeEscapes(raw) : raw;
}

/** `\X2\…\X0\` and `\X4\…\X0\` (UTF-16, UTF-32), `\X\hh`, `\S\c` in the page that `\PA\` to `\PI\` names, `\\`. */
function decodeEscapes(raw: string): string {
  let page = 1;
  return raw.replace(
    /\\X2\\((?:[0-9A-F]{4})*)(?:\\X0\\|$)|\\X4\\((?:[0-9A-F]{8})*)(?:\\X0\\|$)|\\X\\([0-9A-F]{2})|\\P([A-I])\\|\\S\\([\s\S])|\\\\/giu,
    (whole, two?: string, four?: string, one?: string, pageName?: string, shifted?: string) => {
      if (two !== undefined)
        return (two.match(/.{4}/gu) ?? []).map((hex) => String.fromCharCode(Number.parseInt(hex, 16))).join('');
      if (four !== undefined) return (four.match(/.{8}/gu) ?? []).map(fromCodePoint).join('');
      if (one !== undefined) return String.fromCharCode(Number.parseInt(one, 16));
      if (pageName !== undefined) {
        page = pageName.toUpperCase().charCodeAt(0) - 0x40;
        return '';
      }
      if (shifted !== undefined) {
        const byte = (shifted.charCodeAt(0) & 0x7f) | 0x80;
        return page === 1 ? String.fromCharCode(byte) : decodeBytes(Uint8Array.of(byte), `iso-8859-${page}`);
      }
      return whole === '\\\\' ? '\\' : whole;
    },
  );
}

function fromCodePoint(hex: string): string {
  const code = Number.parseInt(hex, 16);
  return code <= 0x10ffff ? String.fromCodePoint(code) : '\ufffd';
}
