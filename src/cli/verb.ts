/** Where a verb writes. Standard output gets the answer and nothing else; everything said about the work goes to stderr. */
export interface Output {
  write(text: string): void;
  complain(line: string): void;
  /** Shown on a terminal only, each in place of the one before; the empty text takes it away. */
  progress(text: string): void;
  readonly width: number;
  readonly colour: boolean;
}

/** Ends of the program: everything asked is met, a need is not met, the input or the words cannot be used. */
export type ExitCode = 0 | 1 | 2;

export interface Verb {
  readonly usage: string;
  readonly purpose: string;
  readonly help: string;
  /** @throws {Unusable} what ends the program with 2. */
  run(words: readonly string[], output: Output): ExitCode | Promise<ExitCode>;
}
