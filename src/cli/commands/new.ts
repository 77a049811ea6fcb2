import path from 'node:path';
import { Command } from 'commander';
import type { CommandMaker } from '../command.ts';
import { UsageError } from '../options.ts';

const EXAMPLES = `
Examples:
  bilat new /tmp/screening
  bilat new /tmp/screening-2026`;

/** `bilat new`: a folder to start from, and what to do with it. */
export const newCommand: CommandMaker = (io, done) =>
  new Command('new')
    .description(
      'Make a screening folder to start from: a protocol with sources, a roster to fill in, blank sheets for the stations.',
    )
    .argument('<dir>', 'the folder to make; nothing that is there is written over')
    .addHelpText('after', EXAMPLES)
    .action(async (shown: string) => {
      if (shown === '') throw new UsageError('new takes the name of the folder to make, as in: bilat new screening');
      const [{ starterFiles }, { schemaText }, { writeNewFolder }, { madeText }] = await Promise.all([
        import('../../protocol/starter.ts'),
        import('../../screening/schema_text.ts'),
        import('../../files/new_folder.ts'),
        import('../render/made.ts'),
      ]);
      const folder = path.resolve(io.cwd, shown);
      const schemas = (['screening', 'protocol'] as const).map((kind) => ({
        path: `schema/${kind}.schema.json`,
        text: schemaText(kind),
      }));
      writeNewFolder(folder, shown, [...starterFiles(), ...schemas], ['sheets']);
      await io.out(madeText(shown, folder === path.resolve(io.cwd)));
      done(0);
    });
