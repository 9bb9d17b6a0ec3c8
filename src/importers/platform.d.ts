/** The one thing importers take from the platform beyond ES2023: bytes to text. Browsers, workers and Node all have it. */
declare class TextDecoder {
  constructor(label?: string, options?: { fatal?: boolean; ignoreBOM?: boolean });
  readonly encoding: string;
  decode(input?: ArrayBufferLike | ArrayBufferView, options?: { stream?: boolean }): string;
}
