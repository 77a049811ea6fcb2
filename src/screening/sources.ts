import { createReadStream, realpathSync, statSync } from 'node:fs';
import path from 'node:path';
import { glob } from 'tinyglobby';
import { insideFolder, relativePath } from '../files/paths.ts';
import { Failure } from '../problems/failure.ts';
import type { SheetEntry } from '../sheets/entry.ts';
import { entryOfFile } from '../sheets/from_name.ts';
import type { SheetSource } from '../sheets/ingest.ts';
import { RUN_TABLES } from './run_tables.ts';
import { teamFinder } from './team_finder.ts';
import type { Screening } from './types.ts';

/** Small pieces die young: whole megabytes of parsed rows would be carried along by the garbage collector. */
const PIECE_BYTES = 65536;

export const PLAIN_ENTRY: SheetEntry = { files: [], purpose: 'test', units: new Map(), columns: new Map() };

/** Path as every table and message names it: relative to the folder, with forward slashes. */
export function shownPath(folder: string, file: string): string {
  return relativePath(folder, path.resolve(folder, file));
}

function fileSource(folder: string, file: string, entry: SheetEntry): SheetSource {
  return {
    file: shownPath(folder, file),
    entry,
    open: () => createReadStream(path.resolve(folder, file), { highWaterMark: PIECE_BYTES }),
  };
}

/** What can be read only once is held, since a sheet is opened twice. */
async function heldSource(file: string, stream: AsyncIterable<Uint8Array>, entry: SheetEntry): Promise<SheetSource> {
  const pieces: Uint8Array[] = [];
  for await (const piece of stream) pieces.push(piece);
  return { file, entry, open: () => pieces };
}

const isPattern = (file: string): boolean => /[*?{}[\]!()]/.test(file);

/** Where a file truly lies, all links followed; undefined if that is outside the folder. */
function trueFile(folder: string, file: string): string | undefined {
  try {
    return realpathSync(insideFolder(folder, file));
  } catch (error) {
    // What is not there will say so when it is opened.
    return error instanceof Failure ? undefined : path.resolve(folder, file);
  }
}

/**
 * Sheets of the folder by entry and path; each file once, by the first entry that names it. Tables of a run are no
 * sheets, even where a pattern as wide as all files of the folder fits them. Each has its own entry: the name of a file
 * may say what others of the same entry do not.
 */
export async function folderSheets(screening: Screening): Promise<{ sheets: SheetSource[]; notes: string[] }> {
  const { folder } = screening;
  const sheets: SheetSource[] = [];
  const notes: string[] = [];
  const teamOf = teamFinder(screening);
  const taken = new Set(RUN_TABLES.flatMap((name) => trueFile(folder, path.join(screening.out, `${name}.csv`)) ?? []));
  for (const entry of screening.sheets) {
    const found: string[] = [];
    for (const pattern of entry.files) {
      const matches = isPattern(pattern)
        ? await glob(pattern, { cwd: folder, onlyFiles: true, expandDirectories: false })
        : [pattern];
      if (matches.length === 0) notes.push(`sheets: "${pattern}" in screening.yaml matches no file`);
      found.push(...matches);
    }
    for (const file of [...new Set(found.map((name) => shownPath(folder, name)))].sort()) {
      const place = trueFile(folder, file);
      if (taken.has(place ?? file)) continue;
      taken.add(place ?? file);
      if (place === undefined) notes.push(`${file}: is a link that leaves the folder, and is not read`);
      else sheets.push(fileSource(folder, file, entryOfFile(entry, file, teamOf)));
    }
  }
  return { sheets, notes };
}

/**
 * Sheets that the user named, each with the entry of the folder that holds it, if one does.
 * @throws Failure 2 if one of them is not there or is a folder
 */
export async function namedSheets(
  names: readonly string[],
  base: string,
  cwd: string,
  stdin: () => AsyncIterable<Uint8Array>,
  entries: ReadonlyMap<string, SheetEntry>,
): Promise<SheetSource[]> {
  const sheets: SheetSource[] = [];
  for (const name of names) {
    if (name === '-') sheets.push(await heldSource(name, stdin(), PLAIN_ENTRY));
    else sheets.push(await namedSheet(name, base, path.resolve(cwd, name), entries));
  }
  return sheets;
}

async function namedSheet(
  name: string,
  base: string,
  file: string,
  entries: ReadonlyMap<string, SheetEntry>,
): Promise<SheetSource> {
  const stat = statSync(file, { throwIfNoEntry: false });
  if (stat === undefined)
    throw new Failure(2, { file: name, message: 'there is no such sheet', hint: 'Check the path.' });
  if (stat.isDirectory()) {
    throw new Failure(2, {
      file: name,
      message: 'is a folder, not a sheet',
      hint: 'Name the sheets in it, or a screening folder with --folder.',
    });
  }
  const entry = entries.get(shownPath(base, file)) ?? PLAIN_ENTRY;
  return stat.isFile() ? fileSource(base, file, entry) : heldSource(name, createReadStream(file), entry);
}
