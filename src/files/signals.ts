import { constants } from 'node:os';
import { quietly } from './system_errors.ts';

const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
const cleanups = new Set<() => void>();

function stop(signal: NodeJS.Signals): void {
  for (const cleanup of [...cleanups].reverse()) quietly(cleanup);
  // Not an exit after work done: the user has stopped us, so nothing that is still under way may go on.
  process.exit(128 + constants.signals[signal]);
}

/**
 * Has a synchronous clean-up run when SIGINT, SIGTERM or SIGHUP stops the process, the latest first; the exit code is
 * then 128 + the signal's number. Signals keep their default effect while nothing is registered.
 *
 * @returns takes the clean-up off again
 */
export function onStop(cleanup: () => void): () => void {
  if (cleanups.size === 0) for (const signal of SIGNALS) process.on(signal, stop);
  cleanups.add(cleanup);
  return () => {
    if (cleanups.delete(cleanup) && cleanups.size === 0) for (const signal of SIGNALS) process.off(signal, stop);
  };
}
