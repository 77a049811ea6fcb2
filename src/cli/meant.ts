/** What a command can be told, so that nothing is advised that it would refuse. */
export interface KnownCommand {
  readonly name: string;
  /** long names, with their dashes */
  readonly options: ReadonlySet<string>;
  /** choices of --format */
  readonly formats: readonly string[];
}

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
  recheck: 'outliers',
  suspects: 'outliers',
  suspicious: 'outliers',
  errors: 'outliers',
  anomalies: 'outliers',
  missing: 'coverage',
  absent: 'coverage',
  attendance: 'coverage',
  makeup: 'coverage',
  makeups: 'coverage',
  retests: 'coverage',
  groups: 'cohort',
  group: 'cohort',
  teams: 'cohort',
  team: 'cohort',
  prevalence: 'cohort',
  shared: 'cohort',
  work: 'plan',
  worklist: 'plan',
  todo: 'plan',
  programme: 'plan',
  programmes: 'plan',
  warmup: 'plan',
  prescribe: 'plan',
  form: 'forms',
  blank: 'forms',
  sheets: 'forms',
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
  '--at-most': 'at_most',
  '--le': 'at_most',
  '--greater-than': 'above',
  '--more-than': 'above',
  '--gt': 'above',
  '--over': 'above',
  '--above': 'above',
  '--at-least': 'at_least',
  '--ge': 'at_least',
  '--threshold': 'below',
  '--cutoff': 'below',
};

const OUTPUTS = new Set(['--out', '--output-file', '--output-dir', '--outfile', '--save', '--write', '--to']);
const INPUTS = new Set(['--input', '--in', '--file', '--files', '--sheet', '--sheets', '--data']);
/** Words with options of later commands: what they would choose is a column of the tables now. */
const COLUMNS = new Set(['--season', '--team', '--athlete', '--sex', '--station', '--measure', '--rule', '--side']);
const HAS_VALUE = new Set(['--folder', '--protocol', '--roster', '-o', '--output', '--format', '--fail-on']);
/** Commands that read sheets or tables of observations, and may be given them by name. */
const ON_SHEETS = new Set(['ingest', 'scan', 'derive', 'flag', 'run', 'outliers', 'coverage', 'cohort', 'plan']);

const isSheet = (word: string): boolean => /\.(csv|tsv|txt)$/i.test(word);
const quoted = (word: string): string => (/^[\w./@:+-]+$/.test(word) ? word : `"${word.replace(/["\\$`]/g, '\\$&')}"`);

/**
 * The command line that somebody may have meant who typed one that does not work.
 * @param argv arguments after the program's name
 * @param commands those that there are
 * @returns a sentence or two, or undefined where nobody can tell
 */
export function meant(argv: readonly string[], commands: readonly KnownCommand[], kindOf: KindOf): string | undefined {
  const at = firstWord(argv);
  const word = argv[at];
  if (word === undefined) return undefined;
  const command = commands.find(({ name }) => name === word);
  if (command === undefined) return noCommand(word, argv.slice(at + 1), commands, kindOf);
  if (at > 0) {
    const moved = [word, ...argv.slice(0, at), ...argv.slice(at + 1)];
    return `Options stand after the command: bilat ${moved.map(quoted).join(' ')}`;
  }
  if (command.name === 'new' && argv.length === 1) return 'Name the folder to make: bilat new preseason';
  for (const [place, argument] of argv.slice(1).entries()) {
    const next = argv[place + 2];
    const said = argument.startsWith('--')
      ? wrongOption(command, argument, next)
      : wrongWord(command.name, argument, kindOf);
    if (said !== undefined) return said;
  }
  return undefined;
}

function firstWord(argv: readonly string[]): number {
  for (let at = 0; at < argv.length; at++) {
    if (!argv[at].startsWith('-')) return at;
    if (HAS_VALUE.has(argv[at])) at++;
  }
  return argv.length;
}

function noCommand(
  word: string,
  rest: readonly string[],
  commands: readonly KnownCommand[],
  kindOf: KindOf,
): string | undefined {
  const key = word.toLowerCase();
  const same = Object.hasOwn(SAME_AS, key) ? SAME_AS[key] : undefined;
  if (same !== undefined && commands.some(({ name }) => name === same)) {
    const words = same === 'run' ? [] : rest.filter((argument) => !argument.startsWith('-'));
    return `What it does is done by: bilat ${[same, ...words.map(quoted)].join(' ')}`;
  }
  if (isSheet(word)) return `To see how a sheet would be read: bilat scan ${quoted(word)}`;
  if (/\.ya?ml$/i.test(word)) return 'To check protocol and folder: bilat check';
  if (kindOf(word) === 'folder') return `To screen that folder: bilat run --folder ${quoted(word)}`;
  return undefined;
}

function wrongOption(
  { name, options, formats }: KnownCommand,
  argument: string,
  next: string | undefined,
): string | undefined {
  const [option, ownValue] = argument.split('=', 2);
  if (options.has(option)) return undefined;
  const value = ownValue ?? (next?.startsWith('-') ? undefined : next);
  const form = option.slice(2);
  if (formats.includes(form)) return `The form is said with --format: bilat ${name} --format ${form}`;
  if (OUTPUTS.has(option) && name === 'new')
    return `The folder is named without an option: bilat new ${quoted(value ?? 'DIR')}`;
  if (OUTPUTS.has(option) && options.has('--output')) {
    return `Where to write is said with -o: bilat ${name} -o ${quoted(value ?? 'FILE')}`;
  }
  if (!ON_SHEETS.has(name)) return undefined;
  if (Object.hasOwn(COMPARATORS, option)) {
    const number = value !== undefined && Number.isFinite(Number(value)) ? value : 'X';
    return `A limit is a rule of protocol.yaml, as in  ${COMPARATORS[option]}: ${number}  and bilat flag judges by it. To see what is there: bilat explain`;
  }
  if (INPUTS.has(option)) {
    return name === 'run'
      ? 'run takes the sheets that screening.yaml names. To look at one: bilat scan FILE'
      : `Files are named without an option: bilat ${name} ${quoted(value ?? 'FILE')}`;
  }
  if (COLUMNS.has(option)) {
    return `${name} takes everything in the folder; ${form} is a column of its tables (bilat flag --format csv).`;
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
