import { Command } from 'commander';
import { FINDINGS, GRADES } from '../../tables/schemas.ts';
import type { Table } from '../../tables/table.ts';
import { type AudienceOptions, audienceOption, refuseCoach } from '../audience.ts';
import type { CommandMaker } from '../command.ts';
import {
  type FailOnOptions,
  type FolderOptions,
  failOnOption,
  folderOptions,
  type OutputOptions,
  outputOptions,
} from '../options.ts';

interface FlagFlags extends FolderOptions, OutputOptions, FailOnOptions, AudienceOptions {}

const EXAMPLES = `
Examples:
  bilat flag --folder examples/college --fail-on refer
  bilat flag --folder examples/college --format markdown`;

/** `bilat flag`: one row a broken rule, with its measurement error. */
export const flagCommand: CommandMaker = (io, done) => {
  const command = new Command('flag')
    .description('Judge the results by the rules of the protocol: one row a broken rule.')
    .argument('[observations...]', 'tables of bilat ingest; - is standard input (default: those of the folder)');
  const options = [...folderOptions(), ...outputOptions(), audienceOption(), failOnOption(GRADES)];
  for (const option of options) command.addOption(option);
  return command.addHelpText('after', EXAMPLES).action(async (names: string[], flags: FlagFlags) => {
    refuseCoach(flags.audience, 'flag');
    const [{ deriveJob }, { openTable }, { flag }, { failOn }, { viewFor }, { hiddenNote }] = await Promise.all([
      import('../derived.ts'),
      import('../table_output.ts'),
      import('../../findings/flag.ts'),
      import('../fail_on.ts'),
      import('../audience/view.ts'),
      import('../audience/who.ts'),
    ]);
    const { setup, results, book, inputs, provenance } = await deriveJob(io, names, flags, 'bilat flag');
    const findings = flag(results, book, setup.protocol, setup.past);
    const shown = viewFor(flags.audience, setup.protocol)(findings);
    const output = await openTable(io, FINDINGS, flags, inputs);
    try {
      await output.rows(shown as unknown as Table);
      await output.end(await provenance());
    } finally {
      output.abort();
    }
    io.err(hiddenNote(findings.length - shown.length, flags.audience));
    // What --fail-on asks for is found, shown to this audience or not.
    done(failOn(flags.failOn, 0, findings, io));
  });
};
