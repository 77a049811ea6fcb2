import { Command, Option } from 'commander';
import { type AudienceOptions, audienceOption } from '../audience.ts';
import type { CommandMaker } from '../command.ts';
import { type OnOptions, onOption } from '../on_day.ts';
import { type FolderOptions, folderOptions, UsageError } from '../options.ts';

interface FormsFlags extends FolderOptions, OnOptions, AudienceOptions {
  readonly station?: string;
  readonly team?: string;
  readonly measure?: readonly string[];
  readonly season?: number;
  readonly missing?: boolean;
  readonly output?: string;
  readonly force?: boolean;
}

const EXAMPLES = `
A sheet has one row an athlete of the team who is still there, and bilat reads
it back without any hint. Whoever medical staff hold has "held" in every cell,
whoever they limit in those of that part of the body.
Readings of other years are not shown. A sheet that was filled in is not
replaced.

Examples:
  bilat forms --folder examples/college --station hip --team Rowing
  bilat forms --folder examples/college --station hip --team Fencing --missing
  bilat forms --folder examples/college --season 2027 -o /tmp/forms`;

const words = (text: string): string[] =>
  text
    .split(',')
    .map((word) => word.trim())
    .filter((word) => word !== '');

function year(text: string): number {
  if (!/^\d{4}$/.test(text.trim())) {
    throw new UsageError(`--season: "${text}" is no season; write the year in which it starts, as in 2026`);
  }
  return Number(text);
}

/** `bilat forms`: blank sheets for a station and a team. */
export const formsCommand: CommandMaker = (io, done) => {
  const command = new Command('forms').description(
    'Make blank sheets for a station and a team: ids and headings filled in, holds marked.',
  );
  const options = [
    new Option('--station <name>', 'one station that sheets name (default: a sheet for each)'),
    new Option('--team <name>', 'one team (default: a sheet for each)'),
    new Option('--measure <list>', 'these measures, whatever the station').argParser(words),
    new Option('--season <year>', 'whose athletes (default: the newest that readings or roster know)').argParser(year),
    new Option('--missing', 'only who still lacks one of the tests, or is due again'),
    onOption('day of the test, filled in, by which holds are judged: YYYY-MM-DD or today (default: left blank)'),
    ...folderOptions(),
    new Option('-o, --output <path>', 'file for one sheet (.csv), or folder'),
    new Option('--force', 'replace files that bilat did not write, and sheets that were filled in'),
    audienceOption(),
  ];
  for (const option of options) command.addOption(option);
  return command.addHelpText('after', EXAMPLES).action(async (flags: FormsFlags) => {
    const [{ formsJob }, { writeForms }] = await Promise.all([import('../forms_job.ts'), import('../forms_output.ts')]);
    const job = await formsJob(io, flags);
    if (job.forms.length === 0) io.err('note: nobody lacks any of these tests: there is no sheet to make\n');
    await writeForms(io, job, flags);
    done(0);
  });
};
