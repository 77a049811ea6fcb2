import { Command, Option } from 'commander';
import { RECHECK } from '../../tables/schemas.ts';
import type { Table } from '../../tables/table.ts';
import { type AudienceOptions, audienceOption, refuseCoach } from '../audience.ts';
import type { CommandMaker } from '../command.ts';
import { seasonsIn } from '../lists.ts';
import {
  type FailOnOptions,
  type FolderOptions,
  failOnOption,
  folderOptions,
  type OutputOptions,
  outputOptions,
} from '../options.ts';

interface OutliersFlags extends FolderOptions, OutputOptions, FailOnOptions, AudienceOptions {
  readonly station?: string;
  readonly season?: readonly number[];
}

const EXAMPLES = `
Likely entry errors are told apart from real outliers, and no value is changed:
whoever has the paper settles it. Cells of the sheets that could not be read are
part of the list only if no table is named.

Examples:
  bilat outliers --folder examples/college
  bilat outliers --folder examples/college --station Hip --format csv`;

const OPTIONS = (): Option[] => [
  new Option('--station <name>', 'only what was read at this station'),
  new Option('--season <list>', 'seasons (default: all; on a terminal the newest)').argParser((text) =>
    seasonsIn(text),
  ),
];

/** `bilat outliers`: the readings to look at again, likely entry errors and real outliers apart. */
export const outliersCommand: CommandMaker = (io, done) => {
  const command = new Command('outliers')
    .description('List the readings to look at again: likely entry errors, real outliers, testers who read apart.')
    .argument('[observations...]', 'tables of bilat ingest; - is standard input (default: those of the folder)');
  const options = [...OPTIONS(), ...folderOptions(), ...outputOptions(), audienceOption(), failOnOption(['recheck'])];
  for (const option of options) command.addOption(option);
  return command.addHelpText('after', EXAMPLES).action(async (names: string[], flags: OutliersFlags) => {
    refuseCoach(flags.audience, 'outliers');
    const [{ recheckJob }, { viewFor }, { hiddenNote }, { chosenFormat }, { failOn }] = await Promise.all([
      import('../recheck_job.ts'),
      import('../audience/view.ts'),
      import('../audience/who.ts'),
      import('../render/formats.ts'),
      import('../fail_on.ts'),
    ]);
    const isText = chosenFormat(flags.format, flags.output, io.isTerminal) === 'table';
    const job = await recheckJob(io, names, flags, isText);
    const shown = viewFor(flags.audience, job.protocol)(job.table);
    if (isText) {
      const [{ openText }, { recheckText }] = await Promise.all([
        import('../text_output.ts'),
        import('../render/recheck.ts'),
      ]);
      const output = await openText(io, flags, job.inputs);
      try {
        await output.write(recheckText({ ...job, table: shown }, output.setting));
        await output.end(await job.provenance());
      } finally {
        output.abort();
      }
    } else {
      const { openTable } = await import('../table_output.ts');
      const output = await openTable(io, RECHECK, flags, job.inputs);
      try {
        await output.rows(shown as unknown as Table);
        await output.end(await job.provenance());
      } finally {
        output.abort();
      }
    }
    io.err(hiddenNote(job.table.length - shown.length, flags.audience));
    done(failOn(flags.failOn, 0, undefined, io, job.table.length));
  });
};
