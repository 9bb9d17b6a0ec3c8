import { formatFault } from '../../core/floor/index.ts';
import type { Refusal } from '../../editor/store.ts';

/** All faults as plain text, one a line. */
export function writeFaults({ fileName, faults }: Refusal): string {
  const lines = faults.map(formatFault);
  return (fileName === null ? lines : [fileName, ...lines]).join('\n');
}
