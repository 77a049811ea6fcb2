import path from 'node:path';
import { Command, Option } from 'commander';
import type { SheetScan } from '../../sheets/scan.ts';
import type { CommandMaker } from '../command.ts';
import {
  type FailOnOptions,
  type FolderOptions,
  failOnOption,
  folderOptions,
  type OutputOptions,
  UsageError,
} from '../options.ts';

interface ScanFlags extends FolderOptions, FailOnOptions, Omit<OutputOptions, 'format'> {
  readonly format?: 'text' | 'json';
  readonly columns?: boolean;
}

const EXAMPLES = `
Examples:
  bilat scan --folder examples/college examples/college/sheets/2025/intake.csv
  bilat scan --folder examples/college --columns -o /tmp/screening.yaml`;

/** `bilat scan`: how each sheet would be read, and why. */
export const scanCommand: CommandMaker = (io, done) => {
  const command = new Command('scan')
    .description('Say how each sheet would be read, and why: what is not understood first, then column by column.')
    .argument('[sheet...]', 'sheets to look at; - is standard input (default: the sheets of the folder)');
  for (const option of folderOptions()) command.addOption(option);
  return command
    .addOption(new Option('--columns', 'print it as YAML for screening.yaml, to be settled and pasted'))
    .addOption(new Option('--format <format>', 'form of the output (default: text)').choices(['text', 'json']))
    .addOption(new Option('-o, --output <file>', 'write to a file; the ending .json sets the format'))
    .addOption(new Option('--force', 'replace a file that bilat did not write'))
    .addOption(failOnOption(['rejects']))
    .addHelpText('after', EXAMPLES)
    .action(async (sheetNames: string[], flags: ScanFlags) => {
      if (flags.columns && flags.format !== undefined) {
        throw new UsageError('--columns prints YAML; leave --format out');
      }
      const [{ openJob }, { scanSheets }, { columnsYaml }, { scanText }, { scanJson }, { openText }, { failOn }] =
        await Promise.all([
          import('../job.ts'),
          import('../../screening/scan.ts'),
          import('../../screening/scan_columns.ts'),
          import('../render/scan.ts'),
          import('../render/scan_json.ts'),
          import('../text_output.ts'),
          import('../fail_on.ts'),
        ]);
      const { setup, sheets, inputs, provenance } = await openJob(io, sheetNames, flags, 'bilat scan');
      const absolute = inputs.map((file) => path.resolve(setup.base, file));
      const output = await openText(io, flags, absolute);
      const isJson = flags.format === 'json' || (flags.format === undefined && /\.json$/i.test(flags.output ?? ''));
      const scanned: SheetScan[] = [];
      let rejects = 0;
      let count = 0;
      try {
        if (isJson && !flags.columns) await output.write('[');
        for await (const scan of scanSheets(setup, sheets, (note) => io.err(`note: ${note}\n`))) {
          rejects += scan.rejectRows;
          if (flags.columns) scanned.push(scan);
          else if (isJson) await output.write(`${count === 0 ? '\n' : ',\n'}${scanJson(scan)}`);
          else await output.write(`${count === 0 ? '' : '\n'}${scanText(scan, output.setting)}`);
          count++;
        }
        if (flags.columns) {
          await output.write(columnsYaml(scanned.map((scan, at) => ({ scan, entry: sheets[at].entry }))));
          for (const { file, notes } of scanned) for (const note of notes) io.err(`note: ${file}: ${note}\n`);
        } else if (isJson) await output.write('\n]\n');
        await output.end(await provenance());
      } finally {
        output.abort();
      }
      done(failOn(flags.failOn, rejects, undefined, io));
    });
};
