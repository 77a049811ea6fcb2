import { existsSync, statSync } from 'node:fs';
import path from 'node:path';
import { isAsWritten } from '../files/as_written.ts';
import { openOutput } from '../files/output.ts';
import { isOurs } from '../files/ownership.ts';
import { openStaging } from '../files/staging.ts';
import { Failure } from '../problems/failure.ts';
import type { FormsJob } from './forms_job.ts';
import type { Io } from './io.ts';
import { UsageError } from './options.ts';
import { counted } from './render/counted.ts';
import { printableLines } from './render/printable.ts';

export interface FormsTarget {
  /** a file for one sheet, a folder for any number; undefined, or -: standard output */
  readonly output?: string;
  readonly force?: boolean;
}

/**
 * Writes blank sheets to standard output, to a file, or into a folder, all of them or none. A sheet of an earlier run is
 * replaced only as long as nobody has written in it: readings on it are all that there is of them.
 */
export async function writeForms(io: Io, job: FormsJob, { output, force = false }: FormsTarget): Promise<void> {
  const { forms } = job;
  if (output === undefined || output === '-') {
    if (forms.length > 1) {
      throw new UsageError(
        `there are ${forms.length} sheets, one a station and team: name a folder with -o DIR, or one sheet with --station and --team`,
      );
    }
    for (const { text } of forms) await io.out(io.isTerminal ? printableLines(text) : text);
    return;
  }
  const target = path.resolve(io.cwd, output);
  const isFile = isFileName(target);
  if (isFile && forms.length > 1)
    throw new UsageError(`-o: ${output} is one file, and there are ${forms.length} sheets`);
  if (forms.length === 0) return;
  const places = forms.map(({ fileName }) => (isFile ? target : path.join(target, fileName)));
  const replaced = await blankOnes(places, force);
  const inputs = job.inputs.filter((input) => !replaced.has(input));
  const provenance = await job.provenance(replaced);
  if (isFile) {
    const file = await openOutput(target, { force, inputs });
    try {
      await file.write(forms[0].text);
      await file.commit(provenance);
    } finally {
      file.abort();
    }
  } else {
    const staging = await openStaging(target, { force, inputs });
    try {
      for (const { fileName, text } of forms) staging.file(fileName).write(text);
      staging.commit(provenance);
    } finally {
      staging.abort();
    }
  }
  io.err(`note: ${counted(forms.length, 'sheet')} written to ${output}\n`);
}

/** Devices and pipes are files too; only a folder that is there, or a name without the ending, is a folder. */
function isFileName(target: string): boolean {
  const stat = statSync(target, { throwIfNoEntry: false });
  return stat === undefined ? path.extname(target).toLowerCase() === '.csv' : !stat.isDirectory();
}

/**
 * Those of the files that are blank sheets of an earlier run.
 * @throws Failure 2 that names the sheets of an earlier run in which something was written, unless forced
 */
async function blankOnes(places: readonly string[], force: boolean): Promise<ReadonlySet<string>> {
  const blank = new Set<string>();
  const filled: string[] = [];
  for (const place of places) {
    if (!existsSync(place)) continue;
    if (await isAsWritten(place)) blank.add(place);
    else if (isOurs(place) && !force) filled.push(place);
  }
  if (filled.length === 0) return blank;
  throw new Failure(
    2,
    filled.map((file) => ({
      file,
      message: 'This sheet was filled in since bilat made it',
      hint: 'Write to another folder, or use --force to replace it.',
    })),
  );
}
