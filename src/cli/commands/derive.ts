import { Command } from 'commander';
import { RESULTS } from '../../tables/schemas.ts';
import type { Table } from '../../tables/table.ts';
import { type AudienceOptions, audienceOption, refuseCoach } from '../audience.ts';
import type { CommandMaker } from '../command.ts';
import { type FolderOptions, folderOptions, type OutputOptions, outputOptions } from '../options.ts';

const EXAMPLES = `
Examples:
  bilat derive --folder examples/college -o /tmp/results.csv
  bilat ingest --folder examples/college | bilat derive - --folder examples/college`;

/** `bilat derive`: observations in, one row an athlete, occasion and measure out. */
export const deriveCommand: CommandMaker = (io, done) => {
  const command = new Command('derive')
    .description('Work out results: kept readings by side, deficits, ratios and other derived measures.')
    .argument('[observations...]', 'tables of bilat ingest; - is standard input (default: those of the folder)');
  for (const option of [...folderOptions(), ...outputOptions(), audienceOption()]) command.addOption(option);
  return command
    .addHelpText('after', EXAMPLES)
    .action(async (names: string[], flags: FolderOptions & OutputOptions & AudienceOptions) => {
      refuseCoach(flags.audience, 'derive');
      const [{ deriveJob }, { openTable }, { viewFor }, { hiddenNote }] = await Promise.all([
        import('../derived.ts'),
        import('../table_output.ts'),
        import('../audience/view.ts'),
        import('../audience/who.ts'),
      ]);
      const { setup, results, inputs, provenance } = await deriveJob(io, names, flags, 'bilat derive');
      const shown = viewFor(flags.audience, setup.protocol)(results);
      const output = await openTable(io, RESULTS, flags, inputs);
      try {
        await output.rows(shown as unknown as Table);
        await output.end(await provenance());
      } finally {
        output.abort();
      }
      io.err(hiddenNote(results.length - shown.length, flags.audience));
      done(0);
    });
};
