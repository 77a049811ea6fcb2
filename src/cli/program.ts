import { Command, CommanderError } from 'commander';
import { Failure, troubleText } from '../problems/failure.ts';
import type { CommandMaker } from './command.ts';
import { deriveCommand } from './commands/derive.ts';
import { flagCommand } from './commands/flag.ts';
import { ingestCommand } from './commands/ingest.ts';
import { runCommand } from './commands/run.ts';
import { scanCommand } from './commands/scan.ts';
import type { Io } from './io.ts';
import { UsageError } from './options.ts';

const COMMANDS: readonly CommandMaker[] = [runCommand, scanCommand, ingestCommand, deriveCommand, flagCommand];

const EXIT_CODES = `
Exit codes: 0 done; 1 done, and something that --fail-on names was found;
2 wrong use, protocol or folder; 3 could not run; 130 or 143 on a signal.`;

function program(io: Io, help: (text: string) => void, done: (exitCode: number) => void): Command {
  const root = new Command('bilat')
    .description('Turns the sheets of a preseason screening into side-to-side deficits and findings.')
    .version(BILAT_VERSION, '-V, --version', 'print the version')
    .option('--no-color', 'no colour, as with NO_COLOR in the environment')
    .addHelpText('after', EXIT_CODES)
    .showSuggestionAfterError(true);
  for (const make of COMMANDS) {
    const command = make(io, done);
    command.option('--no-color', 'no colour');
    root.addCommand(command);
  }
  for (const command of [root, ...root.commands]) {
    command.exitOverride();
    command.configureOutput({
      writeOut: help,
      writeErr: (text) => io.err(text),
      getOutHelpWidth: () => io.width,
      getErrHelpWidth: () => io.width,
    });
  }
  return root;
}

/** Commands that later versions bring: whoever types one is not to be sent to another. */
const LATER = new Set(
  'new forms check plan outliers cohort coverage trend effect athlete agree incidence cutoff mask report explain'.split(
    ' ',
  ),
);

/**
 * Runs one command line.
 * @param argv arguments after the program's name
 * @returns the exit code: 0, 1 (only by --fail-on), 2 wrong use, 3 could not run
 */
export async function main(argv: readonly string[], io: Io): Promise<number> {
  let exitCode = 0;
  let help = '';
  const root = program(
    io,
    (text) => {
      help += text;
    },
    (code) => {
      exitCode = code;
    },
  );
  try {
    if (argv.length === 0) root.help({ error: true });
    if (LATER.has(argv[0]))
      throw new UsageError(`bilat ${argv[0]} is not in this version yet; bilat --help lists what is`);
    await root.parseAsync([...argv], { from: 'user' });
    return exitCode;
  } catch (error) {
    return error instanceof CommanderError && error.exitCode === 0 ? printed(help, io) : failed(error, io);
  }
}

/** What help and --version say is written last, so that a full disk is told like any other failure. */
async function printed(help: string, io: Io): Promise<number> {
  try {
    await io.out(help);
    return 0;
  } catch (error) {
    return failed(error, io);
  }
}

function failed(error: unknown, io: Io): number {
  if (error instanceof CommanderError) return 2;
  if (error instanceof UsageError) {
    io.err(`error: ${error.message}\n`);
    return 2;
  }
  if (error instanceof Failure) {
    for (const trouble of error.troubles) io.err(`error: ${troubleText(trouble)}\n`);
    return error.exitCode;
  }
  io.err(`error: bilat met something it did not expect: ${error instanceof Error ? error.message : String(error)}\n`);
  if (io.env.BILAT_DEBUG && error instanceof Error) io.err(`${error.stack}\n`);
  return 3;
}
