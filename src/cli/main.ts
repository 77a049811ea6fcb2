import { writeStderr, writeStdout } from '../files/stdout.ts';
import type { Io } from './io.ts';
import { main } from './program.ts';
import { printable, printableLines } from './render/printable.ts';

const USUAL_WIDTH = 80;

/** NO_COLOR (no-color.org) and --no-color win over a terminal. */
function wantsColor(argv: readonly string[], env: Io['env'], isTerminal: boolean): boolean {
  return isTerminal && !env.NO_COLOR && env.TERM !== 'dumb' && !argv.includes('--no-color');
}

/** Runs the process's command line and sets its exit code; output that is still under way is written to its end. */
export async function start(): Promise<void> {
  const argv = process.argv.slice(2);
  const isTerminal = process.stdout.isTTY === true;
  const isErrorTerminal = process.stderr.isTTY === true;
  // Only a terminal has an edge, and only there the wrapping is loaded.
  const toEdge = isErrorTerminal ? (await import('./render/fitted.ts')).fitted : undefined;
  const errorWidth = process.stderr.columns || USUAL_WIDTH;
  const io: Io = {
    cwd: process.cwd(),
    env: process.env,
    isTerminal,
    isErrorTerminal,
    width: process.stdout.columns || USUAL_WIDTH,
    color: wantsColor(argv, process.env, isTerminal),
    out: writeStdout,
    err: (text) => {
      const clean = printableLines(text);
      void writeStderr(toEdge === undefined ? clean : toEdge(clean, errorWidth));
    },
    progress: (text) => void writeStderr(`\r\u001b[K${printable(text)}`),
    stdin: () => process.stdin,
  };
  process.exitCode = await main(argv, io);
}
