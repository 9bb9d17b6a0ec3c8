/** A small floor in the fragment of an address: it is never sent to a server, and whoever opens the link has the floor. */
import { LIMITS } from '../core/floor/index.ts';

const MARK = '#floor=';

/** Characters of a link that mail and chat programs are still known to carry (common practice, no source). */
const MOST_CHARACTERS = 32_000;

/** The link that carries a floor's text; null: the floor is too large for one. */
export async function writeLink(text: string, page: string): Promise<string | null> {
  const packed = await pump(new Blob([text]).stream().pipeThrough(new CompressionStream('deflate-raw')), Infinity);
  let binary = '';
  for (const byte of packed) binary += String.fromCharCode(byte);
  const code = btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/u, '');
  const link = `${page.replace(/#.*$/u, '')}${MARK}${code}`;
  return link.length > MOST_CHARACTERS ? null : link;
}

/**
 * The floor's text in a fragment; null when there is none.
 * @throws Error with a plain sentence for a fragment that is damaged or unpacks to more than a floor may hold.
 */
export async function readLink(fragment: string): Promise<string | null> {
  if (!fragment.startsWith(MARK)) return null;
  try {
    const binary = atob(fragment.slice(MARK.length).replaceAll('-', '+').replaceAll('_', '/'));
    const bytes = Uint8Array.from(binary, (letter) => letter.charCodeAt(0));
    const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('deflate-raw'));
    const text = await pump(stream, LIMITS.fileCharacters);
    return new TextDecoder('utf-8', { fatal: true }).decode(text);
  } catch (error) {
    if (error instanceof TooLarge) throw error;
    throw new Error('The link is damaged: a part of it is missing. Ask for it again, or for the file.');
  }
}

class TooLarge extends Error {}

/** All bytes of a stream, up to a bound: what was packed small may unpack to anything. */
async function pump(stream: ReadableStream<Uint8Array>, most: number): Promise<Uint8Array> {
  const parts: Uint8Array[] = [];
  let length = 0;
  const reader = stream.getReader();
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    length += value.length;
    if (length > most) {
      await reader.cancel();
      throw new TooLarge('The link unpacks to more than a floor may hold. Nothing was opened.');
    }
    parts.push(value);
  }
  const all = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}
