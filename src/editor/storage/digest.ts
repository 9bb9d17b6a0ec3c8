/**
 * A number of 53 bits for a text, as 14 hexadecimal digits: equal texts give equal digests, others nearly always
 * different ones. It tells whether a file is the one last saved; it guards nothing. Two multiplying lanes, mixed at the end.
 */
export function digestText(text: string): string {
  return digest(text.length, (i) => text.charCodeAt(i));
}

/** The same for bytes. */
export function digestBytes(bytes: Uint8Array): string {
  return digest(bytes.length, (i) => bytes[i] as number);
}

function digest(length: number, codeAt: (i: number) => number): string {
  let a = 0xdeadbeef;
  let b = 0x41c6ce57;
  for (let i = 0; i < length; i += 1) {
    const code = codeAt(i);
    a = Math.imul(a ^ code, 2654435761);
    b = Math.imul(b ^ code, 1597334677);
  }
  a = Math.imul(a ^ (a >>> 16), 2246822507) ^ Math.imul(b ^ (b >>> 13), 3266489909);
  b = Math.imul(b ^ (b >>> 16), 2246822507) ^ Math.imul(a ^ (a >>> 13), 3266489909);
  return (4294967296 * (2097151 & b) + (a >>> 0)).toString(16).padStart(14, '0');
}
