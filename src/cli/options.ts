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
}

export interface FailOnOptions {
  readonly failOn?: readonly FailOn[];
}

export const FORMATS = ['table', 'csv', 'json', 'markdown'] as const;
export type Format = (typeof FORMATS)[number];

export const FAIL_ON = ['rejects', 'recheck', 'watch', 'act', 'refer'] as const;
export type FailOn = (typeof FAIL_ON)[number];

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
  ];
}

/** @param found what the command can find: a name that could never fail would be a false comfort */
export function failOnOption(found: readonly FailOn[]): Option {
  const parse = (text: string): FailOn[] => text.split(',').map((name) => parseFailOn(name.trim(), found));
  return new Option('--fail-on <list>', `exit with 1 if one of these was found: ${found.join(',')}`).argParser(parse);
}

function parseFailOn(wanted: string, found: readonly FailOn[]): FailOn {
  const known = found.find((name) => name === wanted);
  if (known !== undefined) return known;
  const why = FAIL_ON.includes(wanted as FailOn) ? 'is not found by this command' : 'is not known';
  throw new UsageError(`--fail-on: "${wanted}" ${why}; it finds ${found.join(', ')}`);
}

/** Wrong use of the command line: one sentence, exit code 2. */
export class UsageError extends Error {}
