import { Command, Option } from 'commander';
import { PRIORITY_LINES } from '../../groups/plan_priority.ts';
import { PLAN } from '../../tables/schemas.ts';
import type { Table } from '../../tables/table.ts';
import { type AudienceOptions, audienceOption } from '../audience.ts';
import type { CommandMaker } from '../command.ts';
import { type OnOptions, onOption } from '../on_day.ts';
import { type FolderOptions, folderOptions, type OutputOptions, outputOptions, UsageError } from '../options.ts';
import { PLAN_BY, type PlanWanted } from '../plan_wanted.ts';

interface PlanFlags extends FolderOptions, OutputOptions, AudienceOptions, OnOptions, PlanWanted {
  readonly uncovered?: string;
}

const EXAMPLES = `
${PRIORITY_LINES.join('\n')}

Examples:
  bilat plan --folder examples/college --limit 20
  bilat plan --folder examples/college --owner strength --by programme
  bilat plan --folder examples/college --team Rowing --audience coach`;

function parseLimit(text: string): number {
  if (/^[1-9]\d{0,8}$/.test(text)) return Number(text);
  throw new UsageError(`--limit: "${text}" is no whole number from 1 on`);
}

function planOptions(): Option[] {
  return [
    new Option('--owner <who>', 'only what these staff do').choices(['strength', 'medical']),
    new Option('--team <team>', 'only this team and its athletes'),
    new Option('--athlete <id>', 'only this athlete, with what the team of the athlete does'),
    new Option('--by <what>', 'order the lines by athlete or programme in place of priority').choices(PLAN_BY),
    new Option('--limit <n>', 'only the first n lines by priority').argParser(parseLimit),
    new Option('--uncovered <file>', 'write the findings that give no line, with the reason, as csv'),
  ];
}

/** `bilat plan`: who does what, in the order in which staff act. */
export const planCommand: CommandMaker = (io) => {
  const command = new Command('plan')
    .description(
      'Plan the work: who is seen, who is held, what is repeated, what a team does and what an athlete does.',
    )
    .argument('[observations...]', 'tables of bilat ingest; - is standard input (default: those of the folder)');
  const options = [...planOptions(), onOption(), ...folderOptions(), ...outputOptions(), audienceOption()];
  for (const option of options) command.addOption(option);
  return command.addHelpText('after', EXAMPLES).action(async (names: string[], flags: PlanFlags) => {
    if (flags.uncovered !== undefined && flags.audience !== 'medical') {
      throw new UsageError('--uncovered: findings without a line are for medical staff; leave out --audience');
    }
    const [{ planJob }, { ioFor, provenanceFor }, { chosenFormat }] = await Promise.all([
      import('../plan_job.ts'),
      import('../audience/coach_ends.ts'),
      import('../render/formats.ts'),
    ]);
    const ends = ioFor(io, flags.audience);
    const job = await planJob(ends, names, flags);
    const provenance = async () => provenanceFor(await job.provenance(), flags.audience);
    if (chosenFormat(flags.format, flags.output, io.isTerminal) === 'table') {
      const [{ openText }, { planText }] = await Promise.all([
        import('../text_output.ts'),
        import('../render/plan.ts'),
      ]);
      const output = await openText(io, flags, job.inputs);
      try {
        await output.write(planText(job.lines, job.facts, output.setting));
        await output.end(await provenance());
      } finally {
        output.abort();
      }
    } else {
      const { openTable } = await import('../table_output.ts');
      const output = await openTable(io, PLAN, flags, job.inputs);
      try {
        await output.rows(job.lines as unknown as Table);
        await output.end(await provenance());
      } finally {
        output.abort();
      }
    }
    if (flags.uncovered !== undefined) {
      const [{ openTable }, { UNCOVERED, uncoveredTable }] = await Promise.all([
        import('../table_output.ts'),
        import('../../groups/plan_uncovered.ts'),
      ]);
      const output = await openTable(
        io,
        UNCOVERED,
        { output: flags.uncovered, format: 'csv', force: flags.force },
        job.inputs,
      );
      try {
        await output.rows(uncoveredTable(job.facts.unplanned) as unknown as Table);
        await output.end(await provenance());
      } finally {
        output.abort();
      }
    }
    for (const note of job.notes) ends.err(`note: ${note}\n`);
  });
};
