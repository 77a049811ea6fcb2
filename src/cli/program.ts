import { statSync } from 'node:fs';
import path from 'node:path';
import { Command, CommanderError } from 'commander';
import { Failure, troubleText } from '../problems/failure.ts';
import type { CommandMaker } from './command.ts';
import { checkCommand } from './commands/check.ts';
import { cohortCommand } from './commands/cohort.ts';
import { coverageCommand } from './commands/coverage.ts';
import { deriveCommand } from './commands/derive.ts';
import { explainCommand } from './commands/explain.ts';
import { flagCommand } from './commands/flag.ts';
import { formsCommand } from './commands/forms.ts';
import { ingestCommand } from './commands/ingest.ts';
import { newCommand } from './commands/new.ts';
import { outliersCommand } from './commands/outliers.ts';
import { planCommand } from './commands/plan.ts';
import { runCommand } from './commands/run.ts';
import { scanCommand } from './commands/scan.ts';
import type { Io } from './io.ts';
import { type KindOf, meant } from './meant.ts';
import { UsageError } from './options.ts';

const COMMANDS: readonly CommandMaker[] = [
  newCommand,
  formsCommand,
  checkCommand,
  runCommand,
  scanCommand,
  ingestCommand,
  outliersCommand,
  coverageCommand,
  deriveCommand,
  flagCommand,
  cohortCommand,
  planCommand,
  explainCommand,
];

const EXIT_CODES = `
Exit codes: 0 done; 1 done, and something that --fail-on names was found;
2 wrong use, protocol or folder; 3 could not run; 130 or 143 on a signal.`;

function program(
  io: Io,
  help: (text: string) => void,
  refused: (text: string) => void,
  done: (exitCode: number) => void,
): Command {
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
      // An error is told once it is known what was meant.
      writeErr: (text) => io.err(text),
      outputError: (text) => refused(text),
      getOutHelpWidth: () => io.width,
      getErrHelpWidth: () => io.width,
    });
  }
  return root;
}

/** Commands that later versions bring: whoever types one is not to be sent to another. */
const LATER = new Set('trend effect athlete agree incidence cutoff mask report'.split(' '));

/**
 * Runs one command line.
 * @param argv arguments after the program's name
 * @returns the exit code: 0, 1 (only by --fail-on), 2 wrong use, 3 could not run
 */
export async function main(argv: readonly string[], io: Io): Promise<number> {
  let exitCode = 0;
  let help = '';
  let refusal = '';
  const root = program(
    io,
    (text) => {
      help += text;
    },
    (text) => {
      refusal += text;
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
    if (!(error instanceof CommanderError)) return failed(error, io);
    if (error.exitCode === 0) return printed(help, io);
    if (refusal !== '') io.err(withMeaning(refusal, argv, root.commands, io));
    return failed(error, io);
  }
}

/** What commander says is wrong, with the command that was meant in place of its own guess. */
function withMeaning(refusal: string, argv: readonly string[], commands: readonly Command[], io: Io): string {
  const known = commands.map((command) => ({
    name: command.name(),
    options: new Set(command.options.map(({ long }) => long ?? '')),
    formats: command.options.find(({ long }) => long === '--format')?.argChoices ?? [],
  }));
  const kindOf = (word: string): ReturnType<KindOf> => {
    const found = statSync(path.resolve(io.cwd, word), { throwIfNoEntry: false });
    return found?.isDirectory() ? 'folder' : found?.isFile() ? 'file' : undefined;
  };
  // Whatever sounds like --version is hardly ever meant.
  const said = refusal.replace('\n(Did you mean --version?)\n', '\n');
  const sentence = meant(argv, known, kindOf);
  if (sentence === undefined) return said;
  return `${said.replace(/\n\(Did you mean [^\n]*\)\n$/, '\n')}  ${sentence}\n`;
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
