import type { Trouble } from '../problems/failure.ts';
import { ignoredNote, readSideFile, type SideFileSpec } from '../tables/side_file.ts';
import type { AthleteDirectory } from './directory.ts';
import { isTooLong, NameWords } from './shown_cells.ts';
import { isNotSaid, SideCells } from './side_cells.ts';

/** What a side file says, row by row, and what could not be read of it. */
export interface SideTable<Row> {
  readonly rows: readonly Row[];
  readonly warnings: readonly Trouble[];
}

/** The columns of a side file, and what becomes of a row whose athlete nobody knows. */
export interface SideShape {
  readonly needed: readonly string[];
  readonly optional: readonly string[];
  readonly leftOut: string;
}

/**
 * Reads a side file about athletes. A row whose athlete is unknown is left out with a warning, and so is one that says
 * the same as an earlier one. A blank athlete is '' where the column is optional.
 * @throws Failure 2 if the file is empty, a needed column is missing, or two headings claim one column
 */
export function readSideRows<Row>(
  text: string,
  spec: SideFileSpec,
  directory: AthleteDirectory,
  { needed, optional, leftOut }: SideShape,
  read: (athleteId: string, cells: SideCells) => Row,
): SideTable<Row> {
  const { file } = spec;
  const sideRows = readSideFile(text, spec, needed, optional);
  const warnings: Trouble[] = ignoredNote(spec, sideRows);
  const others = [...needed, ...optional].filter((column) => column !== 'athlete_id');
  const names = new NameWords(sideRows.names, directory.names);
  const firstLines = new Map<string, number>();
  const repeats = new Map<number, { readonly line: number; readonly place: number; more: number }>();
  const rows: Row[] = [];
  for (const row of sideRows.rows) {
    const cells = new SideCells(row, file, warnings, names);
    const ofNobody = !needed.includes('athlete_id') && isNotSaid(cells.text('athlete_id'));
    const athleteId = ofNobody ? '' : findAthlete(cells, directory, leftOut);
    if (athleteId === undefined) continue;
    const key = JSON.stringify([athleteId, ...others.map((column) => row.get(column))]);
    const first = firstLines.get(key);
    if (first === undefined) {
      firstLines.set(key, row.line);
      rows.push(read(athleteId, cells));
    } else {
      const known = repeats.get(first);
      if (known) known.more++;
      else {
        repeats.set(first, { line: row.line, place: warnings.length, more: 0 });
        const message = `says the same as line ${first}`;
        warnings.push({ file, line: row.line, message, hint: 'It counts once. Take one of the two out.' });
      }
    }
  }
  for (const { place, more } of repeats.values()) {
    if (more === 0) continue;
    const { message } = warnings[place];
    warnings[place] = {
      ...warnings[place],
      message: `${message}, and so ${more === 1 ? 'does 1 more line' : `do ${more} more lines`}`,
      hint: 'They count once. Take all but one of them out.',
    };
  }
  return { rows, warnings };
}

function findAthlete(cells: SideCells, directory: AthleteDirectory, leftOut: string): string | undefined {
  const cell = cells.text('athlete_id');
  if (cell === '') {
    cells.warn('athlete_id', 'is not given', leftOut);
    return undefined;
  }
  const match = isTooLong(cell) ? undefined : directory.find(cell);
  if (match?.kind === 'athlete') return match.id;
  if (match?.kind === 'ambiguous') {
    cells.warn(
      'athlete_id',
      'fits more than one athlete of the roster',
      `It may be ${match.ids.join(' or ')}. ${leftOut}`,
    );
    return undefined;
  }
  const near = match === undefined || match.nearest.length === 0 ? '' : `The nearest: ${match.nearest.join(', ')}. `;
  cells.warn('athlete_id', 'is nobody on the roster', `${near}${leftOut}`);
  return undefined;
}

/** What is said of a file as a whole first, then by line. */
export function inLineOrder(warnings: readonly Trouble[]): Trouble[] {
  return [...warnings].sort((a, b) => (a.line ?? 0) - (b.line ?? 0));
}
