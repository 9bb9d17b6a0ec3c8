import type { SourcePlatform } from '../importers/source.ts';
import type { SpawnImport } from './import-line.ts';
import { createImportSession } from './import-session.ts';

/** The same session in this thread, for tests and for where there are no workers; what passes is cloned as for a worker. */
export function spawnImportTwin(platform: SourcePlatform): SpawnImport {
  return (onReply) => {
    const session = createImportSession(platform);
    let isEnded = false;
    return {
      post(request, transfer) {
        const copy = structuredClone(request, { transfer });
        setTimeout(() => {
          if (isEnded) return;
          void session.answer(copy, (reply) => {
            if (!isEnded) onReply(structuredClone(reply));
          });
        });
      },
      end() {
        isEnded = true;
      },
    };
  };
}
