import type { Io } from './io.ts';

const EVERY_MS = 200;
const NOT_BEFORE_MS = 1000;

/** One line on standard error that is overwritten as work goes on; only on a terminal, and only for long work. */
export function progressLine(io: Io): { show(text: string): void; clear(): void } {
  if (!io.isErrorTerminal) return { show: () => {}, clear: () => {} };
  const started = Date.now();
  let last = 0;
  let shown = false;
  return {
    show(text) {
      const now = Date.now();
      if (now - started < NOT_BEFORE_MS || now - last < EVERY_MS) return;
      last = now;
      shown = true;
      io.progress(text);
    },
    clear() {
      if (shown) io.progress('');
      shown = false;
    },
  };
}
