/** Wires the program to the process: what it is asked, where it writes, how it ends. */
import { writeSync } from 'node:fs';
import { isatty } from 'node:tty';
import { run } from './run.ts';
import { escapeText } from './text.ts';
import type { Output } from './verb.ts';

const STDOUT = 1;
const STDERR = 2;

/** Writes all of a text. Whoever reads may have gone away (`| head`): that is no fault of ours and says nothing. */
function writeAll(descriptor: number, text: string): void {
  let left = Buffer.from(text);
  while (left.length > 0) {
    try {
      left = left.subarray(writeSync(descriptor, left));
    } catch (error) {
      const code = error instanceof Error && 'code' in error ? error.code : '';
      if (code === 'EPIPE') return;
      if (code !== 'EAGAIN') throw error;
      // The pipe is full: its reader gets a moment.
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 5);
    }
  }
}

const isOutTerminal = isatty(STDOUT);
const isErrTerminal = isatty(STDERR);
/** `NO_COLOR`, set to anything, turns colour off (no-color.org). */
const isColourWanted = (process.env.NO_COLOR ?? '') === '' && process.env.TERM !== 'dumb';

const output: Output = {
  write: (text) => writeAll(STDOUT, text),
  complain: (line) => writeAll(STDERR, `${line}\n`),
  progress: (text) => {
    if (isErrTerminal) writeAll(STDERR, `\r\u001b[K${text}`);
  },
  width: isOutTerminal ? Math.min(140, Math.max(60, process.stdout.columns)) : 100,
  colour: isOutTerminal && isColourWanted,
};

run(process.argv.slice(2), output).then(
  (code) => {
    process.exitCode = code;
  },
  (error: unknown) => {
    output.progress('');
    const what = error instanceof Error ? (error.stack ?? error.message) : String(error);
    output.complain(`A fault of Lacuna itself: ${escapeText(what)}`);
    process.exitCode = 2;
  },
);
