import type { Trouble } from '../problems/failure.ts';
import { ignoredNote, readSideFile, type SideFileSpec } from '../tables/side_file.ts';
import { readDate } from '../units/dates.ts';
import { NameWords, shownCell } from './shown_cells.ts';
import { hurtSide } from './side_cells.ts';

export type Dominance = 'left' | 'right' | 'both';

/** One line of the roster. */
export interface RosterRow {
  readonly athleteId: string;
  readonly lastName: string;
  readonly firstName: string;
  readonly alsoKnownAs: readonly string[];
  readonly teams: readonly string[];
  readonly sex: string | null;
  readonly birthDay: number | null;
  readonly entryYear: number | null;
  /** the season the row holds for; null: every season */
  readonly season: number | null;
  readonly leftDay: number | null;
  /** parallel to the protocol's dominance columns */
  readonly dominance: readonly (Dominance | null)[];
}

export interface Roster {
  readonly file: string;
  readonly rows: readonly RosterRow[];
  /** cells under headings of names, whatever they are mapped to, and those of rows that have slipped */
  readonly names: readonly string[];
  /** cells that could not be read; each is left out and said */
  readonly warnings: readonly Trouble[];
}

export const ROSTER_COLUMNS = [
  'last_name',
  'first_name',
  'also_known_as',
  'team',
  'sex',
  'birth_date',
  'entry_year',
  'season',
  'left_on',
] as const;

/** F and M as the roster's many spellings; anything else is kept as recorded. */
export function readSex(text: string): string | null {
  const key = text.trim().toLowerCase();
  if (key === '') return null;
  if (['f', 'female', 'w', 'woman', 'women', 'girl', 'girls'].includes(key)) return 'F';
  if (['m', 'male', 'man', 'men', 'boy', 'boys'].includes(key)) return 'M';
  return text.trim();
}

/** Two teams in one cell are parted by a semicolon; an alias becomes the team's own name. */
export function readTeams(text: string, aliases: ReadonlyMap<string, string>): string[] {
  const teams = text
    .split(';')
    .map((team) => team.trim())
    .filter((team) => team !== '')
    .map((team) => aliases.get(team.toLowerCase()) ?? team);
  return [...new Set(teams)];
}

/**
 * Reads the roster. A cell that cannot be read is left out with a warning; a row without athlete_id too.
 * @param dominanceColumns roster columns that a `dominance:` of the protocol names
 */
export function readRoster(
  text: string,
  spec: SideFileSpec,
  dominanceColumns: readonly string[],
  aliases: ReadonlyMap<string, string>,
): Roster {
  const { file } = spec;
  const sideRows = readSideFile(text, spec, ['athlete_id'], [...ROSTER_COLUMNS, ...dominanceColumns]);
  const { rows, has } = sideRows;
  const warnings: Trouble[] = ignoredNote(spec, sideRows);
  for (const column of dominanceColumns) {
    if (has(column)) continue;
    warnings.push({
      file,
      message: `has no column ${column}, which the protocol names as dominance`,
      hint: 'Dominant and other side stay unknown for its measures.',
    });
  }
  const read: RosterRow[] = [];
  /** of each date column the first warning, and how many more rows are like it */
  const openDates = new Map<string, { readonly trouble: number; more: number }>();
  const taken = new Set<string>();
  const allNames = new NameWords(sideRows.names);
  const noNames = new NameWords([]);
  for (const row of rows) {
    // A row without its name may have slipped, and hold it anywhere.
    const names = row.get('last_name') + row.get('first_name') === '' ? noNames : allNames;
    const shown = (column: string): string =>
      allNames.isIn(row.get(column)) ? '' : shownCell(row.get(column), column, names);
    const warn = (column: string, rule: string): null => {
      warnings.push({
        file,
        line: row.line,
        column: row.place(column),
        message: `${column}${shown(column)} ${rule}`,
        hint: 'It is taken as unknown.',
      });
      return null;
    };
    const day = (column: string): number | null => {
      const cell = row.get(column);
      if (cell === '') return null;
      const reading = readDate(cell, row.order(column));
      if (reading.kind === 'day') return reading.day;
      const known = reading.code === 'date_ambiguous' ? openDates.get(column) : undefined;
      if (known !== undefined) {
        known.more++;
        return null;
      }
      if (reading.code === 'date_ambiguous') openDates.set(column, { trouble: warnings.length, more: 0 });
      return warn(column, 'is not a date that reads one way: write YYYY-MM-DD');
    };
    const year = (column: string): number | null => {
      const cell = row.get(column);
      if (cell === '') return null;
      return /^\d{4}$/.test(cell) ? Number(cell) : warn(column, 'is not a year of four digits');
    };
    const athleteId = row.get('athlete_id');
    if (athleteId === '') {
      warnings.push({ file, line: row.line, message: 'has no athlete_id', hint: 'The row is left out.' });
      continue;
    }
    const season = year('season');
    const key = `${athleteId}\n${season}`;
    if (taken.has(key)) {
      warnings.push({
        file,
        line: row.line,
        column: row.place('athlete_id'),
        message: `athlete_id${shown('athlete_id')} stands twice${season === null ? '' : ` for season ${season}`}`,
        hint: 'The first row holds. Two teams of one athlete go into one cell: A;B.',
      });
      continue;
    }
    taken.add(key);
    read.push({
      athleteId,
      lastName: row.get('last_name'),
      firstName: row.get('first_name'),
      alsoKnownAs: row
        .get('also_known_as')
        .split(';')
        .map((name) => name.trim())
        .filter((name) => name !== ''),
      teams: readTeams(row.get('team'), aliases),
      sex: readSex(row.get('sex')),
      birthDay: day('birth_date'),
      entryYear: year('entry_year'),
      season,
      leftDay: day('left_on'),
      dominance: dominanceColumns.map((column) => {
        const side = hurtSide(row.get(column));
        return side === undefined ? warn(column, 'is none of left, right, both') : side;
      }),
    });
  }
  for (const { trouble, more } of openDates.values()) {
    if (more === 0) continue;
    const first = warnings[trouble];
    warnings[trouble] = { ...first, hint: `${first.hint} So in ${more} more ${more === 1 ? 'row' : 'rows'}.` };
  }
  return { file, rows: read, names: sideRows.names, warnings };
}

/** What is said of a roster that is still to be filled in. */
export function emptyRoster(file: string): Trouble {
  return {
    file,
    message: 'holds no athlete, so the sheets say who the athletes are',
    hint: 'Fill it in, one line an athlete, so that a mistyped id or name is found.',
  };
}
