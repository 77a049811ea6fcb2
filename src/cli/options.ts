import { Option } from 'commander';

/** Options that every command which works on a folder has; declared once, help and parsing derive from them. */
export interface FolderOptions {
  readonly folder?: string;
  readonly protocol?: string;
  readonly roster?: string;
  readonly names?: boolean;
}

export interface OutputOptions {
  readonly output?: string;
  readonly format?: Format;
  readonly force?: boolean;
  readonly failOn?: readonly FailOn[];
}

export const FORMATS = ['table', 'csv', 'json', 'markdown'] as const;
export type Format = (typeof FORMATS)[number];

export const FAIL_ON = ['rejects', 'recheck', 'watch', 'act', 'refer'] as const;
export type FailOn = (typeof FAIL_ON)[number];

/** What --fail-on can name in this version. */
const JUDGED: readonly FailOn[] = ['rejects', 'watch', 'act', 'refer'];

export function folderOptions(): Option[] {
  return [
    new Option('--folder <dir>', 'screening folder (default: the nearest screening.yaml upward)'),
    new Option('--protocol <file>', 'protocol to use in place of the one of the folder'),
    new Option('--roster <file>', 'roster to use in place of the one of the folder'),
    new Option('--names', 'let names stand in the output; without it, ids only'),
  ];
}

export function outputOptions(): Option[] {
  return [
    new Option('-o, --output <path>', 'write to a file; its ending (.csv .json .md) sets the format'),
    new Option('--format <format>', 'form of the output (default: table on a terminal, else csv)').choices(FORMATS),
    new Option('--force', 'replace a file that bilat did not write'),
    failOnOption(),
  ];
}

export function failOnOption(): Option {
  return new Option('--fail-on <list>', `exit with 1 if one of these was found: ${JUDGED.join(',')}`).argParser(parseFailOn);
}

function parseFailOn(text: string): FailOn[] {
  return text.split(',').map((part) => {
    const wanted = part.trim();
    const known = JUDGED.find((name) => name === wanted);
    if (known === undefined) {
      const later = FAIL_ON.includes(wanted as FailOn) ? 'cannot be judged by this version yet' : 'is not known';
      throw new UsageError(`--fail-on: "${wanted}" ${later}; known are ${JUDGED.join(', ')}`);
    }
    return known;
  });
}

/** Wrong use of the command line: one sentence, exit code 2. */
export class UsageError extends Error {}
