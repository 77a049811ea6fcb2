import { looksLikeId } from '../athletes/directory.ts';
import { isQualitative, readStatus } from '../units/statuses.ts';
import { parseUnit } from '../units/unit.ts';
import { readUnit } from '../units/written.ts';
import { isAthleteRole } from './heading_lines.ts';
import { type HeadingWords, isWorkedOut, readHeading, readQualifier } from './headings.ts';
import { ignoredHeading, roleOfHeading } from './roles.ts';
import { isDitto, isFootnote, isPageText, rowLabel } from './row_words.ts';

type Rows = readonly (readonly string[])[];

/** Rows and columns that are looked at. */
const MOST_ROWS = 50;
const MOST_COLUMNS = 200;
const NAME = /^\p{L}[\p{L}'’.-]*,? \p{Lu}[^\d]*$/u;
const WORDS_OF_NAME = /^\p{Lu}[\p{L}\p{M}'’., -]{0,60}$/u;
/** "Peak force" is no name; "Ada van Quill" is one. */
const SMALL_WORD = / (?!(?:van|von|der|den|de|del|da|di|la|le|bin|al|el|y|st) )\p{Ll}/u;
const KILOGRAM = parseUnit('kg')!;
/** What the corner of a sheet across may say of the headings below it. */
const CORNER_ROLES: ReadonlySet<string> = new Set(['test', 'side', 'trial', 'unit', 'value']);

/** A column whose heading may be missing. */
export interface UnheadedColumn {
  readonly text: string;
  /** its heading lines, one by one */
  readonly lines: readonly string[];
  readonly role: string | undefined;
  readonly isSaid: boolean;
}

/**
 * Columns that no heading calls the athlete's and whose cells name athletes: ids or words throughout where the sheet has
 * no athlete column, ids of the same form as in its athlete column where it has one, for another table may stand beside.
 * @param rows below the headings
 * @param isAcross athletes stand across the columns: the corner then speaks of the headings below it
 */
export function unheadedAthletes(
  columns: readonly UnheadedColumn[],
  rows: Rows,
  isAcross: boolean,
  words: HeadingWords,
): Set<number> {
  const named = columns.flatMap(({ role }, at) => (isAthleteRole(role) ? [at] : []));
  const open = columns
    .flatMap(({ text, lines, isSaid }, at) => {
      const isOpen = text === '' || (isAcross && named.length === 0 && lines.every(isCorner));
      return isOpen && !isSaid ? [at] : [];
    })
    .slice(0, MOST_COLUMNS);
  const found = new Set<number>();
  // A first column without a heading is its table's athlete column, whatever stands beside that table.
  const isBeside = named.length > 0 && columns.slice(1, named[0]).some(({ role, text }) => !role && text !== '');
  if (named.length === 0 || isBeside) {
    const first = open.find((at) => {
      const cells = at === 0 || !isBeside ? cellsOf(rows, at) : [];
      return holdsAthletes(cells) || (isAcross && areMostlyNames(cells, words));
    });
    if (first !== undefined) found.add(first);
  }
  const forms = new Set([...named, ...found].flatMap((at) => cellsOf(rows, at).map(formOfId)));
  for (const at of open) {
    const cells = found.has(at) ? [] : cellsOf(rows, at);
    if (cells.length > 0 && cells.every((cell) => isId(cell) && forms.has(formOfId(cell)))) found.add(at);
  }
  return found;
}

const isCorner = (heading: string): boolean => CORNER_ROLES.has(roleOfHeading(heading) ?? '');

/** Cells of a column that belong to an athlete's row: labels, footnotes and lines of one cell aside. */
function cellsOf(rows: Rows, at: number): string[] {
  return rows.slice(0, MOST_ROWS).flatMap((row) => {
    const cell = (row[at] ?? '').trim();
    if (cell === '' || isDitto(cell) || rowLabel(cell) || isFootnote(cell) || isPageText(cell)) return [];
    return row.some((other, place) => place !== at && other.trim() !== '') ? [cell] : [];
  });
}

const isId = (cell: string): boolean => looksLikeId(cell) && /\p{L}/u.test(cell);

function holdsAthletes(cells: readonly string[]): boolean {
  return cells.length >= 2 && (cells.every(isId) || cells.every(isName));
}

/** Two words with capitals and no digit: kg, left and normal are none. */
function isName(cell: string): boolean {
  return NAME.test(cell) && readStatus(cell) === undefined && roleOfHeading(cell) === undefined;
}

/** Names across the top of a sheet, with a nickname or an initial among them: half of them are two words or more. */
function areMostlyNames(cells: readonly string[], words: HeadingWords): boolean {
  if (cells.length < 2 || !cells.every((cell) => mayBeName(cell, words))) return false;
  return cells.filter((cell) => cell.includes(' ')).length * 2 >= cells.length;
}

function mayBeName(cell: string, words: HeadingWords): boolean {
  if (!WORDS_OF_NAME.test(cell) || SMALL_WORD.test(cell) || readStatus(cell) !== undefined || isQualitative(cell))
    return false;
  if (roleOfHeading(cell) ?? ignoredHeading(cell) ?? readQualifier(cell)) return false;
  if (readUnit(cell, KILOGRAM) !== 'unknown') return false;
  return readHeading(cell, words).length === 0 && isWorkedOut(cell, words) === undefined;
}

/** K014 and K002 have one form. */
export const formOfId = (id: string): string => id.replace(/\p{L}/gu, 'A').replace(/\d+/g, '0');
