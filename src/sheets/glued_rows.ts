import { type AthleteDirectory, looksLikeId } from '../athletes/directory.ts';
import type { Delimiter } from '../tables/csv_rows.ts';
import { readStatus } from '../units/statuses.ts';
import { isFilled, trimmed } from './blank.ts';
import { isAthleteHeading } from './heading_lines.ts';
import { type HeadingWords, readHeading } from './headings.ts';
import { hurts } from './row_cells.ts';
import { isFootnote } from './row_words.ts';

/** A row whose cells are not apart where those of its sheet are. */
export interface GluedRow {
  /** what parts it, in words */
  readonly found: string;
  readonly parts: readonly string[];
  /** the athlete of the roster whom it names */
  readonly athlete?: string;
}

/** Delimiters in words. */
export const DELIMITER_WORDS: Readonly<Record<Delimiter, string>> = { ',': 'commas', ';': 'semicolons', '\t': 'tabs' };

const DELIMITERS: readonly Delimiter[] = ['\t', ';', ','];
const MARK = /[\t;,]/;
const LONGEST_ROW = 2000;
const FEWEST_PARTS = 3;
const FEWEST_NUMBERS = 2;

const DATE = /(?<!\d)\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}(?!\d)/g;
const WHOLE_DATE = /^\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}$/;
/** 54, 11.5, 118/72, 26 kg, 21 P */
const NUMBER = /^[-+]?\d{1,12}(?:[.,/]\d{1,12})?(?: ?[\p{L}%°#"']{1,5})?$/u;
/** A number or a date, with a unit or a letter behind. */
const SHOWN = /^[-+]?\d{1,12}(?:[.,/:-]\d{1,12}){0,2}(?: ?[\p{L}%°#"']{1,4})?$/u;
const MOST_SHOWN = 24;
/** 182/110: no day of any month, and no season */
const PRESSURE = /(?<![\d/.,])\d{3} ?\/ ?\d{2,3}(?![\d/.,])/;

/** The pressure that a text holds, as written: one that no heading announces may be an alarm all the same. */
export const pressureIn = (text: string): string | undefined =>
  text.includes('/') ? PRESSURE.exec(text.slice(0, LONGEST_ROW))?.[0] : undefined;

const isNumber = (part: string): boolean => NUMBER.test(part) || WHOLE_DATE.test(part);
const isReading = (part: string): boolean => isNumber(part) || readStatus(part) !== undefined;

/**
 * Whether a row was parted by another mark than its sheet, as where a second laptop's rows were pasted below: a mark stands
 * twice and more between numbers, or between headings.
 * @param cells of the row, cut at the delimiter of the sheet
 */
export function partedOtherwise(
  cells: readonly string[],
  delimiter: Delimiter,
  words: HeadingWords,
): GluedRow | undefined {
  const filled = filledIn(cells);
  for (const { found, parts } of waysOf(filled, delimiter)) {
    const numbers = parts.filter(isReading).length;
    const isRow = parts.length >= FEWEST_PARTS && numbers >= FEWEST_NUMBERS && !isFootnote(filled[0]);
    if (isRow || areHeadings(parts, words)) return { found, parts };
  }
  return undefined;
}

/**
 * A row that names nobody where the athlete should stand, and all the same somebody's readings, their cells not apart: by
 * another mark, in one quoted cell, or by blanks alone.
 */
export function gluedRow(
  cells: readonly string[],
  delimiter: Delimiter,
  words: HeadingWords,
  directory: AthleteDirectory,
): GluedRow | undefined {
  const first = cells.findIndex(isFilled);
  // Most rows of somebody unknown are apart as they should be.
  if (first < 0 || (!MARK.test(cells[first]) && cells.slice(first + 1).some(isFilled))) return undefined;
  const filled = filledIn(cells);
  const known = (parts: readonly string[]): string | undefined =>
    parts.map((part) => directory.idOf(part)).find((id) => id !== undefined);
  for (const { found, parts } of waysOf(filled, delimiter)) {
    const athlete = known(parts);
    if (athlete !== undefined && parts.some(isNumber)) return { found, parts, athlete };
  }
  const parted = partedOtherwise(cells, delimiter, words);
  if (parted !== undefined || filled.length > 1) return parted;
  const [text] = filled;
  const athlete = directory.namedIn(text);
  // Neither a date nor the id itself is a reading.
  const isOther = (word: string): boolean => /\d/.test(word) && directory.idOf(word) !== athlete;
  const hasNumber = text.replace(DATE, ' ').split(/\s+/).some(isOther);
  const isRow = athlete === undefined ? pressureIn(text) !== undefined && !isFootnote(text) : hasNumber;
  return isRow ? { found: 'blanks', parts: text.split(/\s+/), athlete } : undefined;
}

/** What a row holds whose cells are not apart: pain and pressures first, then numbers; words may be names. */
export function heldIn(parts: readonly string[]): string {
  const pain = parts.some(hurts) ? ['pain'] : [];
  const pressures = parts.flatMap((part) => pressureIn(part) ?? []);
  const others = parts.filter((part) => SHOWN.test(part) || (!/\s/.test(part) && looksLikeId(part)));
  return [...new Set([...pain, ...pressures, ...others])].slice(0, MOST_SHOWN).join(', ');
}

const filledIn = (cells: readonly string[]): string[] =>
  cells.filter(isFilled).map((cell) => trimmed(cell).slice(0, LONGEST_ROW));

/** A row cut at each mark that stands in its first cell, as far as that tells its cells apart. */
function* waysOf(
  filled: readonly string[],
  delimiter: Delimiter,
): Generator<{ readonly found: string; readonly parts: readonly string[] }> {
  if (filled.length === 0) return;
  for (const mark of DELIMITERS) {
    if (!filled[0].includes(mark)) continue;
    // The sheet's own mark inside of a cell: the whole row stands in quotes.
    if (mark === delimiter && filled.length > 1) continue;
    const text = filled.join(delimiter).slice(0, LONGEST_ROW);
    const parts = text.split(mark).map((part) => part.replaceAll('"', '').trim());
    // 12;13;14 in a row without a name are trials of one cell.
    const isLonger = parts.length > filled.length || (parts.length >= FEWEST_PARTS && !isNumber(parts[0]));
    const found = mark === delimiter ? `${DELIMITER_WORDS[mark]} in one cell` : DELIMITER_WORDS[mark];
    if (isLonger) yield { found, parts: parts.filter((part) => part !== '') };
  }
}

function areHeadings(parts: readonly string[], words: HeadingWords): boolean {
  if (parts.length < 2 || !parts.some((part) => !/\d/.test(part) && isAthleteHeading(part))) return false;
  return parts.some((part) => readHeading(part, words).length > 0);
}
