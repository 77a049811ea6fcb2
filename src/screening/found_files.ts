import { existsSync } from 'node:fs';
import path from 'node:path';
import { glob } from 'tinyglobby';
import { insideFolder } from '../files/paths.ts';
import { Failure } from '../problems/failure.ts';
import type { SheetEntry } from '../sheets/entry.ts';
import type { FoundEntry, FoundFiles } from './checks/entries.ts';
import { whyNoFile } from './near_files.ts';
import { RUN_TABLES } from './run_tables.ts';
import { shownPath } from './sources.ts';
import type { Screening } from './types.ts';

const SHEETS = 'sheets/**/*.{csv,tsv,tab,txt,text}';
const WORKBOOKS = 'sheets/**/*.{xlsx,xlsm,xls,ods,numbers}';
const OF_EVERY_ENTRY: ReadonlySet<string> = new Set(['files', 'purpose', 'units', 'columns']);

const isPattern = (file: string): boolean => /[*?{}[\]!()]/.test(file);

/** What the entries of `sheets:` find, and what else there is. Files are only listed, none is opened. */
export async function foundFiles(screening: Screening): Promise<FoundFiles> {
  const { folder, out } = screening;
  const list = async (pattern: string): Promise<string[]> => {
    const found = await glob(pattern, {
      cwd: folder,
      onlyFiles: true,
      expandDirectories: false,
      caseSensitiveMatch: false,
    });
    return found.map((file) => shownPath(folder, file)).sort();
  };
  const own = new Set(RUN_TABLES.map((name) => shownPath(folder, path.join(out, `${name}.csv`))));
  const isSheet = (file: string): boolean => !own.has(file) && !file.endsWith('-metadata.json');
  const inSheets = (await list(SHEETS)).filter(isSheet);
  const entries: FoundEntry[] = [];
  for (const [at, entry] of screening.sheets.entries()) {
    const patterns = [];
    for (const pattern of entry.files) {
      const files = await matches(folder, pattern);
      const why = files.length === 0 ? await whyNoFile(folder, pattern, inSheets) : undefined;
      patterns.push({ pattern, files: files.filter((file) => !own.has(file)), why });
    }
    entries.push({
      patterns,
      isPlain: isPlain(entry),
      path: ['sheets', at],
      patternPath: (place) => ['sheets', at, 'files', place],
    });
  }
  return {
    entries,
    inSheets,
    workbooks: await list(WORKBOOKS),
    out: shownPath(folder, out) || '.',
  };
}

function isPlain(entry: SheetEntry): boolean {
  const { purpose, units, columns, ...others } = entry;
  const saysMore = Object.entries(others).some(([key, value]) => !OF_EVERY_ENTRY.has(key) && value !== undefined);
  return purpose === 'test' && units.size === 0 && columns.size === 0 && !saysMore;
}

/** Files of a pattern as `run` finds them; those that a link leads out of the folder are not among them. */
async function matches(folder: string, pattern: string): Promise<string[]> {
  const found = isPattern(pattern)
    ? await glob(pattern, { cwd: folder, onlyFiles: true, expandDirectories: false })
    : existsSync(path.resolve(folder, pattern))
      ? [pattern]
      : [];
  return [...new Set(found.map((file) => shownPath(folder, file)))].filter((file) => isInside(folder, file)).sort();
}

function isInside(folder: string, file: string): boolean {
  try {
    insideFolder(folder, file);
    return true;
  } catch (error) {
    if (error instanceof Failure) return false;
    throw error;
  }
}
