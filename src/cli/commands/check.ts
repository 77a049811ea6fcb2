import path from 'node:path';
import { Command, Option } from 'commander';
import type { CommandMaker } from '../command.ts';
import { type FolderOptions, folderOptions, type OutputOptions, UsageError } from '../options.ts';

interface CheckFlags extends Omit<FolderOptions, 'names'>, Omit<OutputOptions, 'format'> {
  readonly format?: 'text' | 'json';
  readonly schema?: 'protocol' | 'screening';
}

const EXAMPLES = `
Errors are to be mended before anything is screened (exit code 2), warnings
will bite, notes are good to know. bilat explain says what a code of the JSON
means: bilat explain rule_without_source.

Examples:
  bilat check --folder examples/college
  bilat check examples/college/protocol.yaml --format json -o /tmp/problems.json`;

/** `bilat check`: every problem of protocol, folder and side files with its line. */
export const checkCommand: CommandMaker = (io, done) => {
  const command = new Command('check')
    .description(
      'Read the protocol, screening.yaml, the roster and the other lists over: each problem with its line, and what to do. Sheets are looked at by scan.',
    )
    .argument('[path]', 'a protocol alone, or a screening folder (default: the folder)');
  for (const option of folderOptions()) if (option.long !== '--names') command.addOption(option);
  return command
    .addOption(
      new Option('--schema <kind>', 'print the JSON Schema of protocol.yaml or screening.yaml, for editors').choices([
        'protocol',
        'screening',
      ]),
    )
    .addOption(new Option('--format <format>', 'form of the output (default: text)').choices(['text', 'json']))
    .addOption(new Option('-o, --output <file>', 'write to a file; the ending .json sets the format'))
    .addOption(new Option('--force', 'replace a file that bilat did not write'))
    .addHelpText('after', `${EXAMPLES}`)
    .action(async (name: string | undefined, flags: CheckFlags) => {
      refuseTwoPlaces(name, flags);
      const { openText } = await import('../text_output.ts');
      if (flags.schema !== undefined) {
        const { schemaText } = await import('../../screening/schema_text.ts');
        const output = await openText(io, flags, []);
        try {
          await output.write(schemaText(flags.schema));
          await output.end({ version: BILAT_VERSION, command: 'bilat check', inputs: [] });
        } finally {
          output.abort();
        }
        return;
      }
      const [{ checkAll }, { checkPlace }, { hashInputs }, { checkJson, checkText }] = await Promise.all([
        import('../../screening/check.ts'),
        import('../../screening/check_place.ts'),
        import('../../files/hash.ts'),
        import('../render/check.ts'),
      ]);
      const place = checkPlace({ ...flags, cwd: io.cwd, name });
      const { problems, inputs, hasFolder, couldNotRun } = await checkAll(place);
      const absolute = inputs.map((file) => path.resolve(place.base, file));
      const output = await openText(io, flags, absolute);
      try {
        const isJson = flags.format === 'json' || (flags.format === undefined && /\.json$/i.test(flags.output ?? ''));
        await output.write(isJson ? checkJson(problems) : checkText(problems, hasFolder, output.setting));
        const hashed = await hashInputs(place.base, inputs);
        await output.end({ version: BILAT_VERSION, command: 'bilat check', inputs: hashed });
      } finally {
        output.abort();
      }
      const hasErrors = problems.some(({ severity }) => severity === 'error');
      done(couldNotRun ? 3 : hasErrors ? 2 : 0);
    });
};

function refuseTwoPlaces(name: string | undefined, { folder, protocol, roster, schema, format }: CheckFlags): void {
  if (schema !== undefined) {
    if (name !== undefined) throw new UsageError('--schema prints a schema and reads no file; leave the path out');
    if (format !== undefined) throw new UsageError('--schema prints JSON Schema; leave --format out');
    return;
  }
  if (name === undefined) return;
  if (folder !== undefined) throw new UsageError(`check takes one place: "${name}" or --folder ${folder}`);
  if (protocol !== undefined && /\.ya?ml$/i.test(name)) {
    throw new UsageError(`check takes one protocol: "${name}" or --protocol ${protocol}`);
  }
  if (roster !== undefined && /\.csv$/i.test(name)) {
    throw new UsageError(`check takes one roster: "${name}" or --roster ${roster}`);
  }
}
