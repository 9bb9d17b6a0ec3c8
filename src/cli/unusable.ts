/** Input or words that cannot be used: each line goes to stderr, and the program ends with 2. */
export class Unusable extends Error {
  override readonly name = 'Unusable';
  readonly lines: readonly string[];

  constructor(...lines: readonly string[]) {
    super(lines.join('\n'));
    this.lines = lines;
  }
}

/** Why the system refused to read or write, in words. */
export function describeSystemError(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  return SYSTEM_ERRORS[code] ?? (error instanceof Error ? error.message : String(error));
}

const SYSTEM_ERRORS: Readonly<Record<string, string>> = {
  ENOENT: 'does not exist',
  ENOTDIR: 'does not exist: a part of its path is no folder',
  EISDIR: 'is a folder',
  EACCES: 'may not be opened: no permission',
  EPERM: 'may not be opened: no permission',
  EROFS: 'lies on a disk that can only be read',
  ENOSPC: 'does not fit: the disk is full',
  ENAMETOOLONG: 'has too long a name',
  ELOOP: 'is a link that leads back to itself',
  EMFILE: 'cannot be opened: too many files are open',
};
