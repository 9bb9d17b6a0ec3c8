import { useCallback, useEffect, useRef, useState } from 'react';
import type { AskOptions } from './question-port.ts';

/** Where an answer stands. */
export type Answer<Value> =
  | { readonly kind: 'none' }
  | { readonly kind: 'working'; readonly share: number }
  | { readonly kind: 'done'; readonly value: Value }
  | { readonly kind: 'stopped' }
  | { readonly kind: 'failed'; readonly why: string };

interface Asking<Value> {
  readonly answer: Answer<Value>;
  ask(work: (options: AskOptions) => Promise<Value>): void;
  stop(): void;
}

/** One question at a time: a newer one, or the note's end, calls the one before off. */
export function useAnswer<Value>(): Asking<Value> {
  const [answer, setAnswer] = useState<Answer<Value>>({ kind: 'none' });
  const running = useRef<AbortController | null>(null);
  const stop = useCallback(() => {
    running.current?.abort();
    running.current = null;
    setAnswer((before) => (before.kind === 'working' ? { kind: 'stopped' } : before));
  }, []);
  useEffect(() => () => running.current?.abort(), []);
  const ask = useCallback((work: (options: AskOptions) => Promise<Value>) => {
    running.current?.abort();
    const controller = new AbortController();
    running.current = controller;
    const isNewest = () => running.current === controller;
    setAnswer({ kind: 'working', share: 0 });
    const onProgress = (share: number) => {
      if (isNewest()) setAnswer({ kind: 'working', share });
    };
    work({ signal: controller.signal, onProgress }).then(
      (value) => {
        if (isNewest()) setAnswer({ kind: 'done', value });
      },
      (error: unknown) => {
        if (!isNewest() || controller.signal.aborted) return;
        setAnswer({ kind: 'failed', why: error instanceof Error ? error.message : String(error) });
      },
    );
  }, []);
  return { answer, ask, stop };
}
