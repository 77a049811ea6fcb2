import path from 'node:path';
import { Command, Option } from 'commander';
import { Failure } from '../../problems/failure.ts';
import { type AudienceOptions, audienceOption } from '../audience.ts';
import type { CommandMaker } from '../command.ts';
import { type OnOptions, onOption } from '../on_day.ts';
import { type FailOnOptions, type FolderOptions, failOnOption, folderOptions, UsageError } from '../options.ts';

interface RunFlags extends FolderOptions, FailOnOptions, OnOptions, AudienceOptions {
  readonly output?: string;
  readonly format?: 'text' | 'json';
  readonly force?: boolean;
}

const EXAMPLES = `
Examples:
  bilat run --folder examples/college
  bilat run --folder examples/college -o /tmp/screening --fail-on refer`;

/** `bilat run`: everything, in order; the summary puts first what must be seen first. */
export const runCommand: CommandMaker = (io, done) => {
  const command = new Command('run').description(
    'Read all sheets of the folder, work out results and findings, write every table to out/, and say what must be seen first.',
  );
  for (const option of folderOptions()) command.addOption(option);
  return command
    .addOption(new Option('-o, --output <dir>', 'folder to write the tables to (default: out of screening.yaml)'))
    .addOption(new Option('--format <format>', 'form of the summary').choices(['text', 'json']))
    .addOption(new Option('--force', 'replace files that bilat did not write'))
    .addOption(onOption())
    .addOption(audienceOption())
    .addOption(failOnOption(['rejects', 'recheck', 'watch', 'act', 'refer']))
    .addHelpText('after', EXAMPLES)
    .action(async (flags: RunFlags) => {
      if (flags.output === '-') {
        throw new UsageError('-o of run names a folder; the summary goes to standard output by itself');
      }
      if (flags.output !== undefined && flags.audience !== 'medical') {
        throw new UsageError(
          `-o would fill ${flags.output} with the whole tables, which are not for --audience ${flags.audience}: leave it out, and hand on what is printed, or bilat plan --audience ${flags.audience} -o FILE`,
        );
      }
      const [
        { openSetup },
        { folderSheets },
        { runScreening },
        { summarise },
        { summaryText },
        { summaryOfStaff },
        { outcomeFor, summaryFor },
        { printableLines },
        { progressLine },
        { failOn },
      ] = await Promise.all([
        import('../../screening/setup.ts'),
        import('../../screening/sources.ts'),
        import('../../screening/run.ts'),
        import('../../screening/summary.ts'),
        import('../render/summary.ts'),
        import('../render/summary_of_staff.ts'),
        import('../audience/run_outcome.ts'),
        import('../render/printable.ts'),
        import('../progress.ts'),
        import('../fail_on.ts'),
      ]);
      const setup = await openSetup({ ...flags, cwd: io.cwd, names: flags.names ?? false, hasInputs: false });
      const { sheets, notes } = await folderSheets(setup.screening);
      if (sheets.length === 0) {
        const { noSheets } = await import('../../screening/workbooks.ts');
        throw new Failure(2, noSheets(setup.base, notes));
      }
      const out =
        flags.output === undefined ? path.resolve(setup.base, setup.screening.out) : path.resolve(io.cwd, flags.output);
      const progress = progressLine(io);
      let outcome: Awaited<ReturnType<typeof runScreening>>;
      try {
        outcome = await runScreening(setup, sheets, {
          version: BILAT_VERSION,
          force: flags.force ?? false,
          out,
          on: flags.on,
          progress: progress.show,
        });
      } finally {
        progress.clear();
      }
      for (const note of notes) outcome.notes.add(note);
      const { audience } = flags;
      const summary = summarise(outcomeFor(outcome, audience, setup.protocol), setup);
      const shown = flags.output ?? (path.relative(io.cwd, out) || '.');
      const json = flags.format === 'json';
      const text = (): string =>
        audience === 'medical' ? summaryText(summary, shown, io) : summaryOfStaff(summary, audience, io);
      const data = (): string => printableLines(`${JSON.stringify(summaryFor(summary, audience), null, 2)}\n`);
      await io.out(json ? data() : text());
      done(failOn(flags.failOn, outcome.rejects.length, outcome.findings, io, outcome.recheck.length, audience));
    });
};
