import path from 'node:path';
import { Command, Option } from 'commander';
import type { Unknown } from '../../explain/asked.ts';
import type { Topic, TopicKind } from '../../explain/topic.ts';
import type { ProtocolInUse } from '../../screening/protocol_in_use.ts';
import type { CommandMaker } from '../command.ts';
import { type OutputOptions, UsageError } from '../options.ts';

interface ExplainFlags extends Omit<OutputOptions, 'format'> {
  readonly folder?: string;
  readonly protocol?: string;
  readonly format?: 'text' | 'json';
}

const EXAMPLES = `
Examples:
  bilat explain deficit_pct within_error
  bilat explain rule adductor_ratio_low --folder examples/college`;

/** `bilat explain`: what a word of the output or of the protocol means, what it rests on, what it does not say. */
export const explainCommand: CommandMaker = (io, done) => {
  const command = new Command('explain')
    .description('Say what a word means: definition, formula, source, caution.')
    .argument('[name...]', 'measure, rule, programme, column, status, code or other word; a kind before it narrows')
    .addOption(new Option('--folder <dir>', 'screening folder (default: the nearest screening.yaml upward)'))
    .addOption(new Option('--protocol <file>', 'protocol to use in place of the one of the folder'))
    .addOption(new Option('--format <format>', 'form of the output (default: text)').choices(['text', 'json']))
    .addOption(new Option('-o, --output <file>', 'write to a file; the ending .json sets the format'))
    .addOption(new Option('--force', 'replace a file that bilat did not write'))
    .addHelpText('after', EXAMPLES);
  return command.action(async (words: string[], flags: ExplainFlags) => {
    const [{ protocolInUse }, { catalogue, PROTOCOL_KINDS }, { asked }, render, { openText }, { hashInputs }] =
      await Promise.all([
        import('../../screening/protocol_in_use.ts'),
        import('../../explain/catalogue.ts'),
        import('../../explain/asked.ts'),
        import('../render/explain.ts'),
        import('../text_output.ts'),
        import('../../files/hash.ts'),
      ]);
    const inUse = await protocolInUse(io.cwd, flags.folder, flags.protocol);
    const topics = catalogue(inUse.protocol, commandTopics(command.parent));
    const { topics: found, kinds, unknown } = asked(words, topics);
    if (inUse.failure) io.err(`note: ${unreadable(inUse)}\n`);
    const isLost = unknown.length > 0;
    // A file is written whole or not at all; on the screen what is known is a help all the same.
    if (
      isLost &&
      ((found.length === 0 && kinds.length === 0) || flags.output !== undefined || flags.format === 'json')
    ) {
      throw new UsageError(unknownTexts(unknown));
    }
    const inputs = inUse.file === undefined ? [] : [inUse.file];
    const output = await openText(
      io,
      flags,
      inputs.map((file) => path.resolve(inUse.base, file)),
    );
    const { setting } = output;
    const isJson = flags.format === 'json' || (flags.format === undefined && /\.json$/i.test(flags.output ?? ''));
    const isOfKind = (topic: Topic): boolean => kinds.includes(topic.kind);
    const shown = words.length === 0 ? topics : [...new Set([...found, ...topics.filter(isOfKind)])];
    const speaks = shown.some(({ kind }) => PROTOCOL_KINDS.has(kind)) && inUse.protocol;
    try {
      if (isJson) await output.write(topicsJson(shown, inUse, PROTOCOL_KINDS));
      else {
        const parts =
          words.length === 0
            ? [render.namesText(topics, setting)]
            : [
                ...found.map((topic) => render.topicText(topic, setting)),
                ...kinds.map((kind) => render.kindText(kind, topics, setting)),
              ];
        if (speaks) parts.push(render.protocolText(inUse.protocol!.name, inUse.file, setting));
        await output.write(parts.join('\n'));
      }
      const hashed = inUse.protocol ? inputs : [];
      await output.end({
        version: BILAT_VERSION,
        command: 'bilat explain',
        inputs: await hashInputs(inUse.base, hashed),
      });
    } finally {
      output.abort();
    }
    if (isLost) throw new UsageError(unknownTexts(unknown));
    done(0);
  });
};

/** The commands themselves: what they do is said by their own help. */
function commandTopics(root: Command | null): Topic[] {
  return (root?.commands ?? []).map((command) => ({
    name: command.name(),
    kind: 'command',
    title: `bilat ${command.name()}`,
    definition: command.description(),
    where: `bilat ${command.name()} --help says how it is used.`,
  }));
}

function unreadable({ file, failure }: ProtocolInUse): string {
  const [trouble] = failure!.troubles;
  const place = [trouble.file ?? file, trouble.line, trouble.column].filter((at) => at !== undefined).join(':');
  return `the protocol cannot be read (${place}: ${trouble.message}), so its measures, rules, programmes and sport groups are missing here; bilat check lists what is wrong`;
}

const unknownTexts = (unknown: readonly Unknown[]): string => unknown.map(unknownText).join('\n  ');

function unknownText({ name, kind, near }: Unknown): string {
  const shown = name.length > 60 ? `${name.slice(0, 57)}…` : name;
  const what = kind === undefined ? `nothing is known by the name of "${shown}"` : `there is no ${kind} "${shown}"`;
  return `${what}; ${near.length > 0 ? `nearest: ${near.join(', ')}` : 'bilat explain lists what can be explained'}`;
}

const KEYS = ['name', 'kind', 'title', 'definition', 'formula', 'unit', 'source', 'caution', 'where'] as const;

/** An array of one object a line; what is not known is null. */
function topicsJson(topics: readonly Topic[], inUse: ProtocolInUse, ofProtocol: ReadonlySet<TopicKind>): string {
  const lines = topics.map((topic) => {
    const entries = KEYS.map((key) => [key, topic[key] ?? null] as const);
    const protocol = ofProtocol.has(topic.kind) ? (inUse.protocol?.name ?? null) : null;
    const more = { see: topic.see ?? [], also: topic.also ?? [], later: topic.later ?? false, protocol };
    return JSON.stringify({ ...Object.fromEntries(entries), ...more });
  });
  return lines.length === 0 ? '[]\n' : `[\n${lines.join(',\n')}\n]\n`;
}
