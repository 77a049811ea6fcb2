import { createReadStream } from 'node:fs';
import { lstat, realpath } from 'node:fs/promises';
import path from 'node:path';
import { glob } from 'tinyglobby';
import type { SheetEntry } from '../sheets/entry.ts';
import type { SheetSource } from '../sheets/ingest.ts';
import type { Screening } from './types.ts';

/** Small pieces die young: whole megabytes of parsed rows would be carried along by the garbage collector. */
const PIECE_BYTES = 65536;

export const PLAIN_ENTRY: SheetEntry = { files: [], purpose: 'test', units: new Map(), columns: new Map() };

/** Path as every table and message names it: relative to the folder, with forward slashes. */
export function shownPath(folder: string, file: string): string {
  const relative = path.relative(folder, path.resolve(folder, file));
  return relative.split(path.sep).join('/');
}

function fileSource(folder: string, file: string, entry: SheetEntry): SheetSource {
  return {
    file: shownPath(folder, file),
    entry,
    open: () => createReadStream(path.resolve(folder, file), { highWaterMark: PIECE_BYTES }),
  };
}

/** Standard input is held, since a sheet is opened twice. */
export async function inputSource(stdin: AsyncIterable<Uint8Array>, entry: SheetEntry): Promise<SheetSource> {
  const pieces: Uint8Array[] = [];
  for await (const piece of stdin) pieces.push(piece);
  return { file: '-', entry, open: () => pieces };
}

const isPattern = (file: string): boolean => /[*?{}[\]!()]/.test(file);

async function leavesFolder(folder: string, file: string): Promise<boolean> {
  const full = path.resolve(folder, file);
  try {
    if (!(await lstat(full)).isSymbolicLink()) return false;
    const target = path.relative(await realpath(folder), await realpath(full));
    return target.startsWith('..') || path.isAbsolute(target);
  } catch {
    // What cannot be looked at will say so when it is opened.
    return false;
  }
}

/** Sheets of the folder by entry and path; each file once, by the first entry that names it. */
export async function folderSheets(screening: Screening): Promise<{ sheets: SheetSource[]; notes: string[] }> {
  const { folder } = screening;
  const sheets: SheetSource[] = [];
  const notes: string[] = [];
  const taken = new Set<string>();
  for (const entry of screening.sheets) {
    const found: string[] = [];
    for (const pattern of entry.files) {
      const matches = isPattern(pattern)
        ? await glob(pattern, { cwd: folder, onlyFiles: true, followSymbolicLinks: false, expandDirectories: false })
        : [pattern];
      if (matches.length === 0) notes.push(`sheets: "${pattern}" in screening.yaml matches no file`);
      found.push(...matches);
    }
    for (const file of [...new Set(found.map((name) => shownPath(folder, name)))].sort()) {
      if (taken.has(file)) continue;
      taken.add(file);
      if (await leavesFolder(folder, file)) notes.push(`${file}: is a link that leaves the folder, and is not read`);
      else sheets.push(fileSource(folder, file, entry));
    }
  }
  return { sheets, notes };
}

/** Sheets that the user named, each with the entry of the folder that holds it, if one does. */
export async function namedSheets(
  names: readonly string[],
  base: string,
  cwd: string,
  stdin: () => AsyncIterable<Uint8Array>,
  entries: ReadonlyMap<string, SheetEntry>,
): Promise<SheetSource[]> {
  const sheets: SheetSource[] = [];
  for (const name of names) {
    if (name === '-') sheets.push(await inputSource(stdin(), PLAIN_ENTRY));
    else {
      const file = path.resolve(cwd, name);
      sheets.push(fileSource(base, file, entries.get(shownPath(base, file)) ?? PLAIN_ENTRY));
    }
  }
  return sheets;
}
