import { readSide } from '../units/sides.ts';
import { isMissingMark, isQualitative, readStatus } from '../units/statuses.ts';
import type { HeadingReading, HeadingWords } from './headings.ts';
import { readHeading, readQualifier } from './headings.ts';
import { dateOrderOfHeading, ignoredHeading, roleOfHeading } from './roles.ts';
import type { StackedColumn } from './shifted_groups.ts';

const ATHLETE_ROLES: ReadonlySet<string> = new Set(['athlete_id', 'name', 'first_name', 'last_name']);

export const isAthleteRole = (role: string | undefined): boolean => role !== undefined && ATHLETE_ROLES.has(role);

/** Whether a heading says that its column names the athlete. */
export const isAthleteHeading = (heading: string): boolean => isAthleteRole(roleOfHeading(heading));

const BRACKETED = /^(?:\([^()]{1,40}\)|\[[^[\]]{1,40}\])$/;
const LONGEST_STRANGE = 60;
/** Sides of one line that are looked at to find left and right. */
const MOST_SIDES = 200;

type Rows = readonly (readonly string[])[];

/** The headings of a table's columns, and every cell that stands in one of them. */
export interface StackedHeadings {
  readonly headings: readonly string[];
  /** the whole heading and its single lines, by column: any of them may be what `columns:` names */
  readonly spellings: readonly (readonly string[])[];
  /** what the single lines hold, by column */
  readonly stacked: readonly StackedColumn[];
}

/** One heading a column out of one or more heading lines. */
export function stackHeadings(lines: Rows, words: HeadingWords): StackedHeadings {
  const width = Math.max(...lines.map((line) => line.length));
  const spanning = spanned(lines[0], width);
  const headings = Array.from({ length: width }, (_, at) => stackedHeading(lines, at, spanning, words));
  const spellings = headings.map((heading, at) => [
    heading,
    ...lines.map((line) => (line[at] ?? '').trim()).filter((cell) => cell !== ''),
  ]);
  const stacked = headings.map((heading, at) => ({
    heading,
    own: (lines[0][at] ?? '').trim(),
    top: spanning[at],
    below: lowerCells(lines, at),
  }));
  return { headings, spellings, stacked };
}

function lowerCells(lines: Rows, at: number): string[] {
  return lines.slice(1).flatMap((line) => (line[at] ?? '').trim() || []);
}

/** One column's headings, top to bottom, with the top one carried over the columns that it spans. */
function stackedHeading(lines: Rows, at: number, spanning: readonly string[], words: HeadingWords): string {
  const own = (lines[0][at] ?? '').trim();
  const below = lowerCells(lines, at);
  // "Notes" beside the last column under a wide heading is no part of what that heading spans.
  if (own === '' && below.length === 1 && (roleOfHeading(below[0]) || ignoredHeading(below[0]))) return below[0];
  const top = own !== '' || below.length === 0 ? own : spanning[at];
  const whole = [top, ...below].filter((part) => part !== '').join(' ');
  // A side stands over tests; what has no sides stands beside them.
  if (own === '' && below.length === 1 && readSide(top) && hasNoSides(below[0], words)) return below[0];
  // "(print)" under "Name" says how to fill it in.
  const isTold = roleOfHeading(own) !== undefined || ignoredHeading(own) !== undefined;
  if (isTold && below.length > 0 && below.every(isBracketed) && !roleOfHeading(whole)) return own;
  if (!isAthleteHeading(top) || isAthleteHeading(whole)) return whole;
  // "First" under "Name" is the closer word; "units" under "ID" speaks of the other columns.
  return below.findLast(isAthleteHeading) ?? top;
}

function hasNoSides(heading: string, words: HeadingWords): boolean {
  const readings = readHeading(heading, words);
  return readings.length > 0 && readings.every(({ measure, compound }) => compound ?? measure?.sides === 'none');
}

const isBracketed = (cell: string): boolean => BRACKETED.test(cell);

/** The top heading line with each heading repeated over the blanks to its right; a role spans nothing. */
function spanned(line: readonly string[], width: number): string[] {
  const out: string[] = [];
  let last = '';
  for (let at = 0; at < width; at++) {
    const cell = (line[at] ?? '').trim();
    if (cell !== '') last = roleOfHeading(cell) ? '' : cell;
    out.push(cell === '' ? last : cell);
  }
  return out;
}

/**
 * Whether a row is a further heading line: it holds sides, trials, units and roles only, and nothing where the athlete
 * stands. A bare number is a trial only under a heading that stands over several columns: elsewhere the row may be a
 * reading without its athlete. Words that nobody knows may stand among units, if no cell says that the row is an
 * athlete's; and below sides stand the tests.
 * @param above the heading lines above it
 */
export function isFurtherHeadingLine(row: readonly string[], above: Rows, words: HeadingWords): boolean {
  const isBelowSides = isSideLine(above[0]);
  if (isBelowSides && above.length === 1) return holdsTests(row, words);
  const top = above[isBelowSides ? 1 : 0];
  const spanning = spanned(top, Math.max(top.length, row.length));
  const athleteAt = top.findIndex(isAthleteHeading);
  const shared = sharedHeadings(top);
  let qualifiers = 0;
  let ofReadings = 0;
  let units = 0;
  let strange = 0;
  let hasStatus = false;
  let isSpokenTo = false;
  for (const [at, raw] of row.entries()) {
    const cell = raw.trim();
    if (cell === '') continue;
    if (/^\d+$/.test(cell) && shared[at] === false) return false;
    const own = (top[at] ?? '').trim();
    const isTold = roleOfHeading(own) !== undefined || ignoredHeading(own) !== undefined;
    if (at === athleteAt && !roleOfHeading(cell) && !isBracketed(cell)) {
      if (cell.length > LONGEST_STRANGE || /\d/.test(cell)) return false;
      isSpokenTo = true;
      continue;
    }
    hasStatus ||= saysStatus(cell) && !(isTold && isBracketed(cell));
    const qualifier = qualifierOf(cell, spanning[at], words);
    if (qualifier) {
      qualifiers++;
      if (!isTold) ofReadings++;
      if (!isTold && qualifier.unit && qualifier.side === undefined) units++;
    } else if (!roleOfHeading(cell) && !ignoredHeading(cell)) {
      if (!isStrange(cell, own, isTold)) return false;
      strange++;
    }
  }
  // "Please print" in front of units: an athlete's row does not hold the unit of everything that is measured.
  if (isSpokenTo) return strange === 0 && units >= 2 && units === qualifiers && units === measuredIn(top);
  if (strange === 0) return qualifiers > 0;
  const isAthleteless = athleteAt >= 0 || (isBlankAt(top, 0) && isBlankAt(row, 0));
  return isAthleteless && ofReadings > 0 && !hasStatus;
}

/** Headings of a line that tell nothing about the row. */
const measuredIn = (top: readonly string[]): number =>
  top.filter((cell) => cell.trim() !== '' && !roleOfHeading(cell) && !ignoredHeading(cell)).length;

const isBlankAt = (row: readonly string[], at: number): boolean => (row[at] ?? '').trim() === '';

function qualifierOf(cell: string, above: string, words: HeadingWords): HeadingReading | undefined {
  const [reading] = readHeading(above, words);
  const qualifier = readQualifier(cell, unitOf(reading));
  // "ft/in" is a unit below a height only.
  if (qualifier || reading === undefined || /\d/.test(cell)) return qualifier;
  return readHeading(`${above} ${cell}`, words)[0];
}

/**
 * Whether a cell may stand in a line of units though nobody knows what it says. Below what tells about the row, words may
 * be those of a row: only brackets and the form of a date are none.
 * @param isTold whether the heading above it tells about the row, or is left aside
 */
function isStrange(cell: string, above: string, isTold: boolean): boolean {
  if (cell.length > LONGEST_STRANGE || !/\p{L}/u.test(cell)) return false;
  if (isTold) return isBracketed(cell) || dateOrderOfHeading(`${above} ${cell}`) !== undefined;
  if (isBracketed(cell)) return !saysStatus(cell);
  return !/\d/.test(cell);
}

const saysStatus = (cell: string): boolean =>
  (readStatus(cell) !== undefined && readSide(cell) === undefined) || isMissingMark(cell) || isQualitative(cell);

/** A line that holds sides and nothing else, left and right among them. */
function isSideLine(line: readonly string[]): boolean {
  const cells = line.map((cell) => cell.trim()).filter((cell) => cell !== '');
  const sides = cells.slice(0, MOST_SIDES).map(readSide);
  return sides.includes('left') && sides.includes('right') && cells.every((cell) => readSide(cell) !== undefined);
}

/** Whether the line below sides names the athlete and tests. */
function holdsTests(row: readonly string[], words: HeadingWords): boolean {
  return row.some(isAthleteHeading) && row.some((cell) => readHeading(cell.trim(), words).length > 0);
}

function unitOf(reading: HeadingReading | undefined) {
  return reading?.measure?.unit ?? reading?.compound?.parts[0].unit;
}

/** Which headings of the top line stand over several columns, by blanks beside them or by being written again. */
function sharedHeadings(top: readonly string[]): boolean[] {
  const headings = top.map((cell) => cell.trim());
  const again = new Set<string>();
  const seen = new Set<string>();
  for (const heading of headings) (seen.has(heading) ? again : seen).add(heading);
  return headings.map((heading, at) => heading === '' || headings[at + 1] === '' || again.has(heading));
}
