/** What a word on the command line is on the disk. */
export type KindOf = (word: string) => 'file' | 'folder' | undefined;

/** Words of other tools and of daily speech, and the command that does what they ask for. */
const SAME_AS: { readonly [word: string]: string } = {
  import: 'ingest',
  load: 'ingest',
  read: 'ingest',
  parse: 'ingest',
  clean: 'ingest',
  preview: 'scan',
  inspect: 'scan',
  look: 'scan',
  sniff: 'scan',
  compute: 'derive',
  calculate: 'derive',
  results: 'derive',
  deficits: 'derive',
  findings: 'flag',
  flags: 'flag',
  judge: 'flag',
  screen: 'run',
  all: 'run',
  start: 'run',
  demo: 'run',
  analyse: 'run',
  analyze: 'run',
  process: 'run',
  summary: 'run',
  init: 'new',
  create: 'new',
  setup: 'new',
  starter: 'new',
  template: 'new',
  validate: 'check',
  verify: 'check',
  lint: 'check',
  test: 'check',
  schema: 'check',
  define: 'explain',
  describe: 'explain',
  what: 'explain',
  why: 'explain',
  glossary: 'explain',
  info: 'explain',
};

const COMPARATORS: { readonly [option: string]: string } = {
  '--less-than': 'below',
  '--lt': 'below',
  '--under': 'below',
  '--below': 'below',
  '--max': 'above',
  '--at-most': 'at_most',
  '--le': 'at_most',
  '--greater-than': 'above',
  '--more-than': 'above',
  '--gt': 'above',
  '--over': 'above',
  '--above': 'above',
  '--at-least': 'at_least',
  '--ge': 'at_least',
  '--min': 'below',
  '--limit': 'below',
  '--threshold': 'below',
  '--cutoff': 'below',
};

const OUTPUTS = new Set(['--out', '--output-file', '--output-dir', '--outfile', '--save', '--write', '--to']);
const INPUTS = new Set(['--input', '--in', '--file', '--files', '--sheet', '--sheets', '--data']);
const FORMATS = new Set(['table', 'csv', 'json', 'markdown', 'text']);
/** Words with options of later commands: what they would choose is a column of the tables now. */
const COLUMNS = new Set(['--season', '--team', '--athlete', '--sex', '--station', '--measure', '--rule', '--side']);
const HAS_VALUE = new Set(['--folder', '--protocol', '--roster', '-o', '--output', '--format', '--fail-on']);

const isSheet = (word: string): boolean => /\.(csv|tsv|txt)$/i.test(word);
const quoted = (word: string): string => (/^[\w./@:+-]+$/.test(word) ? word : `"${word.replace(/["\\$`]/g, '\\$&')}"`);

/**
 * The command line that somebody may have meant who typed one that does not work.
 * @param argv arguments after the program's name
 * @param commands names of the commands that there are
 * @returns a sentence or two, or undefined where nobody can tell
 */
export function meant(argv: readonly string[], commands: readonly string[], kindOf: KindOf): string | undefined {
  const at = firstWord(argv);
  const word = argv[at];
  if (word === undefined) return undefined;
  const isCommand = commands.includes(word);
  if (isCommand && at > 0) {
    const moved = [word, ...argv.slice(0, at), ...argv.slice(at + 1)];
    return `Options stand after the command: bilat ${moved.map(quoted).join(' ')}`;
  }
  return isCommand ? wrongArguments(word, argv.slice(1), kindOf) : noCommand(word, commands, kindOf);
}

function firstWord(argv: readonly string[]): number {
  for (let at = 0; at < argv.length; at++) {
    if (!argv[at].startsWith('-')) return at;
    if (HAS_VALUE.has(argv[at])) at++;
  }
  return argv.length;
}

function noCommand(word: string, commands: readonly string[], kindOf: KindOf): string | undefined {
  const same = SAME_AS[word.toLowerCase()];
  if (same !== undefined && commands.includes(same)) return `What it does is done by: bilat ${same}`;
  if (isSheet(word)) return `To see how a sheet would be read: bilat scan ${quoted(word)}`;
  if (/\.ya?ml$/i.test(word)) return 'To check protocol and folder: bilat check';
  if (kindOf(word) === 'folder') return `To screen that folder: bilat run --folder ${quoted(word)}`;
  return undefined;
}

function wrongArguments(command: string, rest: readonly string[], kindOf: KindOf): string | undefined {
  for (const [at, argument] of rest.entries()) {
    const said = argument.startsWith('--')
      ? wrongOption(command, argument, rest[at + 1])
      : wrongWord(command, argument, kindOf);
    if (said !== undefined) return said;
  }
  return undefined;
}

function wrongOption(command: string, argument: string, next: string | undefined): string | undefined {
  const [option, ownValue] = argument.split('=', 2);
  const value = ownValue ?? (next?.startsWith('--') ? undefined : next);
  const number = value !== undefined && Number.isFinite(Number(value)) ? value : 'X';
  if (Object.hasOwn(COMPARATORS, option)) {
    return `A limit is a rule of protocol.yaml, as in  ${COMPARATORS[option]}: ${number}  and bilat flag judges by it. To see what is there: bilat explain`;
  }
  if (OUTPUTS.has(option)) return `Where to write is said with -o: bilat ${command} -o ${quoted(value ?? 'FILE')}`;
  if (INPUTS.has(option)) {
    return command === 'run'
      ? 'run takes the sheets that screening.yaml names. To look at one: bilat scan FILE'
      : `Files are named without an option: bilat ${command} ${quoted(value ?? 'FILE')}`;
  }
  if (FORMATS.has(option.slice(2)))
    return `The form is said with --format: bilat ${command} --format ${option.slice(2)}`;
  if (COLUMNS.has(option)) {
    return `${command} takes everything in the folder; ${option.slice(2)} is a column of its tables (bilat flag --format csv).`;
  }
  return undefined;
}

function wrongWord(command: string, word: string, kindOf: KindOf): string | undefined {
  if (command !== 'run') return undefined;
  if (kindOf(word) === 'folder') return `A folder is named with --folder: bilat run --folder ${quoted(word)}`;
  if (isSheet(word)) {
    return `run takes the sheets that screening.yaml names. To look at one: bilat scan ${quoted(word)}  To read it: bilat ingest ${quoted(word)}`;
  }
  return undefined;
}
