import type { Problem } from '../../problems/problem.ts';
import type { Path } from '../../protocol/places.ts';
import { many, namedAll, quoted } from './wording.ts';
import type { YamlPlaces } from './yaml_places.ts';

/** What an entry of `sheets:` finds in the folder. */
export interface FoundEntry {
  readonly patterns: readonly {
    readonly pattern: string;
    readonly files: readonly string[];
    /** why nothing is found, where that can be told */
    readonly why?: string;
  }[];
  /** whether it is a pattern alone, so that it says nothing about its sheets */
  readonly isPlain: boolean;
  /** where it stands in screening.yaml */
  readonly path: Path;
  /** where a pattern of it stands */
  readonly patternPath: (at: number) => Path;
}

/** What there is in a folder that sheets could be. */
export interface FoundFiles {
  readonly entries: readonly FoundEntry[];
  /** files of sheets/ and below that look like sheets */
  readonly inSheets: readonly string[];
  /** files of sheets/ and below that are workbooks of a spreadsheet program */
  readonly workbooks: readonly string[];
  /** folder of the tables that run writes */
  readonly out: string;
}

/** Whether a path is a folder, or lies in it. */
const isIn = (file: string, folder: string): boolean =>
  folder === '.' || file === folder || file.startsWith(`${folder}/`);

/**
 * Entries that find nothing or nothing new, sheets that no entry reads, and tables that would lie among the sheets.
 * @param places of screening.yaml; undefined where there is none
 */
export function checkEntries(
  { entries, inSheets, workbooks, out }: FoundFiles,
  places: YamlPlaces | undefined,
): Problem[] {
  const at = (severity: 'warning' | 'note', code: string, path: Path, message: string, hint: string): Problem =>
    places?.problem(severity, code, path, message, hint) ?? ofFolder(severity, code, message, hint);
  const read = new Set(entries.flatMap(({ patterns }) => patterns.flatMap(({ files }) => files)));
  if (read.size === 0 && inSheets.length === 0) {
    return [
      ...workbookProblems(workbooks),
      ofFolder('note', 'no_sheets', 'there is no sheet yet', 'Put the sheets of the stations into sheets/, as CSV.'),
    ];
  }
  return [
    ...entries.flatMap((entry) =>
      entry.patterns.flatMap(({ pattern, files, why }, place) =>
        files.length > 0
          ? []
          : at(
              'warning',
              'pattern_without_file',
              entry.patternPath(place),
              `${quoted(pattern)} matches no file`,
              why ?? 'Check folder and ending; * stands for any part of a name, ** for folders.',
            ),
      ),
    ),
    ...overlaps(entries, at),
    ...unread(inSheets, read),
    ...workbookProblems(workbooks),
    ...outAmongSheets(out, read, at),
  ];
}

type Say = (severity: 'warning' | 'note', code: string, path: Path, message: string, hint: string) => Problem;

function ofFolder(severity: 'warning' | 'note', code: string, message: string, hint: string): Problem {
  return { severity, code, file: 'sheets', line: null, column: null, message, hint, paste: null };
}

/** A sheet goes by the first entry that names it; a pattern alone at the end gathers what is left, and may overlap. */
function overlaps(entries: readonly FoundEntry[], say: Say): Problem[] {
  const takenBy = new Map<string, number>();
  return entries.flatMap((entry, at): Problem[] => {
    const files = [...new Set(entry.patterns.flatMap((pattern) => pattern.files))];
    const taken = files.filter((file) => takenBy.has(file));
    const first = taken.length > 0 ? takenBy.get(taken[0])! : 0;
    for (const file of files) if (!takenBy.has(file)) takenBy.set(file, at);
    if (taken.length === 0 || (entry.isPlain && taken.length < files.length)) return [];
    const which = `${namedAll(taken, 3)}, which entry ${first + 1} has taken already`;
    if (taken.length === files.length) {
      return [
        say(
          'warning',
          'entry_never_used',
          entry.path,
          `entry ${at + 1} names nothing but ${which}: the first entry holds, and this one says nothing`,
          'Put the narrower entry first, or take one of them out.',
        ),
      ];
    }
    return [
      say(
        'note',
        'entries_overlap',
        entry.path,
        `entry ${at + 1} also names ${which}: the first entry holds`,
        'Put the narrower entry first, if this one should hold.',
      ),
    ];
  });
}

function unread(inSheets: readonly string[], read: ReadonlySet<string>): Problem[] {
  const left = inSheets.filter((file) => !read.has(file));
  if (left.length === 0) return [];
  return [
    ofFolder(
      'warning',
      'sheet_unread',
      `${many(left.length, 'file')} that no entry of screening.yaml reads: ${namedAll(left)}`,
      'Add an entry under sheets:, or move them out of sheets/.',
    ),
  ];
}

function workbookProblems(workbooks: readonly string[]): Problem[] {
  if (workbooks.length === 0) return [];
  return [
    ofFolder(
      'warning',
      'sheet_is_workbook',
      `${many(workbooks.length, 'workbook')} of a spreadsheet program, which bilat does not read: ${namedAll(workbooks)}`,
      'Open each in the spreadsheet program and save every sheet of it as CSV (UTF-8).',
    ),
  ];
}

function outAmongSheets(out: string, read: ReadonlySet<string>, say: Say): Problem[] {
  const isAmong = isIn(out, 'sheets') || [...read].some((file) => file.slice(0, file.lastIndexOf('/')) === out);
  if (!isAmong) return [];
  return [
    say(
      'warning',
      'out_among_sheets',
      ['out'],
      `out: ${quoted(out)} lies among the sheets, so that tables of a run lie beside them`,
      'Name a folder of its own, such as out.',
    ),
  ];
}
