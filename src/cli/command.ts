import type { Command } from 'commander';
import type { Io } from './io.ts';

/** Makes a command: how it is used, and what it does. Its action tells the exit code when the work is done. */
export type CommandMaker = (io: Io, done: (exitCode: number) => void) => Command;
