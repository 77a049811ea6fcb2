import { Command, Option } from 'commander';
import { COHORT, GROUP_KINDS, type GroupKind } from '../../tables/schemas.ts';
import type { Table } from '../../tables/table.ts';
import { type AudienceOptions, audienceOption, refuseCoach } from '../audience.ts';
import type { CommandMaker } from '../command.ts';
import { seasonsIn, wordsIn } from '../lists.ts';
import { type FolderOptions, folderOptions, type OutputOptions, outputOptions, UsageError } from '../options.ts';

type Seasons = readonly number[] | 'pooled';

interface CohortFlags extends FolderOptions, OutputOptions, AudienceOptions {
  readonly by: readonly GroupKind[];
  readonly rule?: readonly string[];
  readonly season?: Seasons;
  readonly occasion: 'first' | 'last';
  readonly seed: number;
}

const EXAMPLES = `
A group has work in common (decision shared) if enough of it were tested, a
large enough share of these breaks the rule, and the rule may be shared:
sharing: and share: of the protocol.

Examples:
  bilat cohort --folder examples/college
  bilat cohort --folder examples/college --by all --season pooled`;

function parseKinds(text: string): GroupKind[] {
  return wordsIn(text).map((word) => {
    const kind = GROUP_KINDS.find((known) => known === word);
    if (kind !== undefined) return kind;
    throw new UsageError(`--by: "${word}" is no kind of group; known: ${GROUP_KINDS.join(', ')}`);
  });
}

function parseSeasons(text: string): number[] | 'pooled' {
  return text.trim() === 'pooled' ? 'pooled' : seasonsIn(text, ', or pooled');
}

function parseSeed(text: string): number {
  if (/^\d{1,9}$/.test(text)) return Number(text);
  throw new UsageError(`--seed: "${text}" is no whole number from 0 to 999999999`);
}

function cohortOptions(): Option[] {
  return [
    new Option('--by <list>', 'kinds of groups').argParser(parseKinds).default(GROUP_KINDS, GROUP_KINDS.join(',')),
    new Option('--rule <list>', 'only these rules, or pain, unable, one_side').argParser(wordsIn),
    new Option(
      '--season <list>',
      'seasons, or pooled: all together, the athlete as cluster (default: all; on a terminal the newest)',
    ).argParser(parseSeasons),
    new Option('--occasion <which>', 'which occasion of a season counts').choices(['first', 'last']).default('first'),
    new Option('--seed <number>', 'of the bootstrap of --season pooled').argParser(parseSeed).default(1),
  ];
}

/** `bilat cohort`: how many of each group break each rule, and what is work for all of it. */
export const cohortCommand: CommandMaker = (io) => {
  const command = new Command('cohort')
    .description('Say what each group shares: how many were tested, how many break a rule, and what is work for all.')
    .argument('[observations...]', 'tables of bilat ingest; - is standard input (default: those of the folder)');
  const options = [...cohortOptions(), ...folderOptions(), ...outputOptions(), audienceOption()];
  for (const option of options) command.addOption(option);
  return command.addHelpText('after', EXAMPLES).action(async (names: string[], flags: CohortFlags) => {
    refuseCoach(flags.audience, 'cohort');
    const [{ judgeJob }, { cohort }, { checkWanted }, { viewFor }, { hiddenNote }, { chosenFormat }] =
      await Promise.all([
        import('../judged.ts'),
        import('../../groups/cohort.ts'),
        import('../cohort_wanted.ts'),
        import('../audience/view.ts'),
        import('../audience/who.ts'),
        import('../render/formats.ts'),
      ]);
    // Nothing here is looked at from a day.
    const judged = await judgeJob(io, names, { ...flags, on: 0 }, 'bilat cohort');
    const { setup, results, findings, book, members, season, inputs, provenance } = judged;
    checkWanted(flags.rule, flags.season, setup.protocol, results);
    const isText = chosenFormat(flags.format, flags.output, io.isTerminal) === 'table';
    const all = cohort(results, findings, book, setup.protocol, {
      members,
      past: setup.past,
      seasons: flags.season ?? (isText && season !== null ? [season] : undefined),
      kinds: flags.by,
      rules: flags.rule,
      occasion: flags.occasion,
      seed: flags.seed,
    });
    const shown = viewFor(flags.audience, setup.protocol)(all);
    if (isText) {
      const [{ openText }, { cohortText }] = await Promise.all([
        import('../text_output.ts'),
        import('../render/cohort.ts'),
      ]);
      const output = await openText(io, flags, inputs);
      try {
        await output.write(cohortText(shown, setup.protocol, output.setting));
        await output.end(await provenance());
      } finally {
        output.abort();
      }
    } else {
      const { openTable } = await import('../table_output.ts');
      const output = await openTable(io, COHORT, flags, inputs);
      try {
        await output.rows(shown as unknown as Table);
        await output.end(await provenance());
      } finally {
        output.abort();
      }
    }
    io.err(hiddenNote(all.length - shown.length, flags.audience));
  });
};
