/** JSON that is safe to show: the same document to whoever parses it. */
import type { CheckResult } from '../core/coverage/index.ts';

/** What moves the cursor, ends the line or turns the direction of writing, and what is no character at all. */
export const UNSAFE =
  /[\p{Cc}\p{Cs}\p{Zl}\p{Zp}\u061c\u200e\u200f\u202a-\u202e\u2066-\u206f\ufeff\ufff9-\ufffb\u{e0000}-\u{e007f}]/gu;

/** Text of JSON with everything unsafe for a terminal written as an escape. */
export function escapeJson(json: string): string {
  return json.replace(UNSAFE, (character) => {
    // The line breaks between values are the only control characters a JSON text holds as they are.
    if (character === '\n') return character;
    return character.replace(/[\s\S]/g, (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`);
  });
}

/** The verdicts as `check --json` prints them. */
export function writeVerdicts(result: CheckResult): string {
  return `${escapeJson(JSON.stringify(result, null, 2))}\n`;
}
