/** The one thing handover takes from the platform beyond ES2023: text to bytes. Browsers, workers and Node all have it. */
declare class TextEncoder {
  encode(input?: string): Uint8Array<ArrayBuffer>;
}
