import path from 'node:path';
import { Command, Option } from 'commander';
import type { IngestBatch } from '../../sheets/sheet_tables.ts';
import { IGNORED, LEDGER, OBSERVATIONS, REJECTS } from '../../tables/schemas.ts';
import type { Schema, Table } from '../../tables/table.ts';
import { type AudienceOptions, audienceOption, refuseCoach } from '../audience.ts';
import type { CommandMaker } from '../command.ts';
import type { Io } from '../io.ts';
import {
  type FailOnOptions,
  type FolderOptions,
  failOnOption,
  folderOptions,
  type OutputOptions,
  outputOptions,
  UsageError,
} from '../options.ts';
import { counted } from '../render/counted.ts';
import type { TableOutput } from '../table_output.ts';

interface IngestFlags extends FolderOptions, OutputOptions, FailOnOptions, AudienceOptions {
  readonly rejects?: string;
  readonly ignored?: string;
  readonly ledger?: string;
}

const EXAMPLES = `
Examples:
  bilat ingest --folder examples/college --rejects /tmp/rejects.csv
  bilat ingest examples/college/sheets/2026/hip.csv --folder examples/college --format json`;

/** `bilat ingest`: sheets in, one row a trial out. */
export const ingestCommand: CommandMaker = (io, done) => {
  const command = new Command('ingest')
    .description('Read sheets into observations, one row a trial. Says on standard error where every cell went.')
    .argument('[sheet...]', 'sheets to read; - is standard input (default: the sheets of the folder)');
  const shared = [...folderOptions(), ...outputOptions(), audienceOption(), failOnOption(['rejects'])];
  for (const option of shared) command.addOption(option);
  return command
    .addOption(new Option('--rejects <file>', 'write what could not be read, and why'))
    .addOption(new Option('--ignored <file>', 'write what was left aside, and why'))
    .addOption(new Option('--ledger <file>', 'write how many cells of each sheet went where'))
    .addHelpText('after', EXAMPLES)
    .action(async (sheetNames: string[], flags: IngestFlags) => {
      refuseCoach(flags.audience, 'ingest');
      const [{ openJob }, { startIngest, unreadSheets }, { openTable }, { failOn }, { viewFor }, { hiddenNote }] =
        await Promise.all([
          import('../job.ts'),
          import('../../screening/stages.ts'),
          import('../table_output.ts'),
          import('../fail_on.ts'),
          import('../audience/view.ts'),
          import('../audience/who.ts'),
        ]);
      const { setup, sheets, inputs, provenance } = await openJob(io, sheetNames, flags, 'bilat ingest');
      const absolute = inputs.map((file) => path.resolve(setup.base, file));
      const ingestion = startIngest(setup, sheets);
      const wanted: [keyof IngestBatch, Schema, OutputOptions | undefined][] = [
        ['observations', OBSERVATIONS, flags],
        ['rejects', REJECTS, sideOutput(flags.rejects, flags)],
        ['ignored', IGNORED, sideOutput(flags.ignored, flags)],
        ['ledger', LEDGER, sideOutput(flags.ledger, flags)],
      ];
      refuseShared(io, wanted);
      const outputs: { name: keyof IngestBatch; output: TableOutput }[] = [];
      const view = viewFor(flags.audience, setup.protocol);
      let hidden = 0;
      const totals = { rejects: 0, cells: 0, measured: 0, not_measured: 0, context: 0, ignored: 0, rejected: 0 };
      try {
        for (const [name, schema, options] of wanted) {
          if (options) outputs.push({ name, output: await openTable(io, schema, options, absolute) });
        }
        for await (const batch of ingestion.batches) {
          for (const { name, output } of outputs) {
            const shown = view(batch[name] as Table);
            hidden += batch[name].length - shown.length;
            await output.rows(shown);
          }
          totals.rejects += batch.rejects.length;
          for (const sentence of unreadSheets(batch.rejects)) ingestion.notes.add(sentence);
          for (const row of batch.ledger.rows()) {
            for (const column of ['cells', 'measured', 'not_measured', 'context', 'ignored', 'rejected'] as const) {
              totals[column] += row[column] ?? 0;
            }
          }
        }
        const made = await provenance();
        for (const { output } of outputs) await output.end(made);
      } finally {
        for (const { output } of outputs) output.abort();
      }
      io.err(hiddenNote(hidden, flags.audience));
      for (const note of ingestion.notes) io.err(`note: ${note}\n`);
      io.err(
        `${counted(sheets.length, 'sheet')}, ${counted(totals.cells, 'cell')}: ${counted(totals.measured, 'reading')}, ${totals.not_measured} not measured, ${totals.context} context, ${totals.ignored} ignored, ${totals.rejected} rejected.\n`,
      );
      if (totals.rejects > 0 && flags.rejects === undefined) {
        io.err('Write what could not be read, and why, with --rejects FILE.\n');
      }
      done(failOn(flags.failOn, totals.rejects, undefined, io));
    });
};

/** Two tables in one file, or both on standard output, would be of use to nobody. */
function refuseShared(io: Io, wanted: readonly [string, Schema, OutputOptions | undefined][]): void {
  const taken = new Set<string>();
  for (const [name, , options] of wanted) {
    if (options === undefined) continue;
    const { output = '-' } = options;
    const place = output === '-' ? 'standard output' : path.resolve(io.cwd, output);
    if (taken.has(place)) throw new UsageError(`${name} would go where another table goes already (${place})`);
    taken.add(place);
  }
}

function sideOutput(file: string | undefined, { force }: OutputOptions): OutputOptions | undefined {
  return file === undefined ? undefined : { output: file, force };
}
