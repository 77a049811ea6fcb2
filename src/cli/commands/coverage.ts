import { Command, Option } from 'commander';
import { TALLY_KINDS, type TallyKind } from '../../groups/coverage_tally.ts';
import { COVERAGE } from '../../tables/schemas.ts';
import type { Table } from '../../tables/table.ts';
import { type AudienceOptions, audienceOption } from '../audience.ts';
import type { CommandMaker } from '../command.ts';
import { type OnOptions, onOption } from '../on_day.ts';
import { type FolderOptions, folderOptions, type OutputOptions, outputOptions, UsageError } from '../options.ts';

interface CoverageFlags extends FolderOptions, OutputOptions, OnOptions, AudienceOptions {
  readonly team?: string;
  readonly station?: string;
  readonly by?: TallyKind;
}

const EXAMPLES = `
Whoever medical staff hold is listed apart and not to be called.

Examples:
  bilat coverage --folder examples/college
  bilat coverage --folder examples/college --team Rowing --station hip
  bilat coverage --folder examples/college --by measure
  bilat coverage --folder examples/college --on 2026-10-05 --audience coach`;

/** `bilat coverage`: who still lacks what, and whose retest is due. */
export const coverageCommand: CommandMaker = (io, done) => {
  const command = new Command('coverage')
    .description('Say who of the newest season still lacks which test, who is to be called, and whose retest is due.')
    .argument('[observations...]', 'tables of bilat ingest; - is standard input (default: those of the folder)');
  const options = [
    onOption(),
    new Option('--team <name>', 'one team only'),
    new Option('--station <name>', 'one station only'),
    new Option('--by <thing>', 'what the text counts by, in place of teams against stations').choices(TALLY_KINDS),
    ...folderOptions(),
    ...outputOptions(),
    audienceOption(),
  ];
  for (const option of options) command.addOption(option);
  return command.addHelpText('after', EXAMPLES).action(async (names: string[], flags: CoverageFlags) => {
    const [{ coverageJob }, { openTable }, { chosenFormat }] = await Promise.all([
      import('../coverage_job.ts'),
      import('../table_output.ts'),
      import('../render/formats.ts'),
    ]);
    const isText = flags.by !== undefined && flags.output === undefined;
    const format = chosenFormat(flags.format, flags.output, io.isTerminal || isText);
    if (flags.by !== undefined && format !== 'table') {
      throw new UsageError(
        '--by counts in the text, and a table has every row: leave --by out, or take --format table',
      );
    }
    if (flags.by === 'measure' && flags.audience === 'coach') {
      throw new UsageError('--by measure: a coach does not see which test it is: --by team, station or athlete');
    }
    const job = await coverageJob(io, names, flags);
    if (format === 'table') {
      const [{ openText }, { coverageText }, { toCall }, { coverageTally }] = await Promise.all([
        import('../text_output.ts'),
        import('../render/coverage.ts'),
        import('../../groups/to_call.ts'),
        import('../../groups/coverage_tally.ts'),
      ]);
      const output = await openText(job.io, flags, job.inputs);
      try {
        const isWhole = flags.audience !== 'coach';
        const tally = flags.by && { kind: flags.by, lines: coverageTally(job.shown, job.protocol, flags.by) };
        const view = { ...job, isWhole, toCall: toCall(job.shown, job.protocol), tally };
        await output.write(coverageText(view, output.setting));
        await output.end(await job.provenance());
      } finally {
        output.abort();
      }
    } else {
      const output = await openTable(job.io, COVERAGE, flags, job.inputs);
      try {
        await output.rows(job.shown as unknown as Table);
        await output.end(await job.provenance());
      } finally {
        output.abort();
      }
    }
    done(0);
  });
};
