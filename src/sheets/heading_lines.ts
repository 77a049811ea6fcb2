import type { HeadingReading, HeadingWords } from './headings.ts';
import { readHeading, readQualifier } from './headings.ts';
import { ignoredHeading, roleOfHeading } from './roles.ts';

const ATHLETE_ROLES: ReadonlySet<string> = new Set(['athlete_id', 'name', 'first_name', 'last_name']);

export const isAthleteRole = (role: string | undefined): boolean => role !== undefined && ATHLETE_ROLES.has(role);

/** Whether a heading says that its column names the athlete. */
export const isAthleteHeading = (heading: string): boolean => isAthleteRole(roleOfHeading(heading));

type Rows = readonly (readonly string[])[];

/** The headings of a table's columns, and every cell that stands in one of them. */
export interface StackedHeadings {
  readonly headings: readonly string[];
  /** the whole heading and its single lines, by column: any of them may be what `columns:` names */
  readonly spellings: readonly (readonly string[])[];
}

/** One heading a column out of one or more heading lines. */
export function stackHeadings(lines: Rows): StackedHeadings {
  const width = Math.max(...lines.map((line) => line.length));
  const spanning = spanned(lines[0], width);
  const headings = Array.from({ length: width }, (_, at) => stackedHeading(lines, at, spanning));
  const spellings = headings.map((heading, at) => [
    heading,
    ...lines.map((line) => (line[at] ?? '').trim()).filter((cell) => cell !== ''),
  ]);
  return { headings, spellings };
}

/** One column's headings, top to bottom, with the top one carried over the columns that it spans. */
function stackedHeading(lines: Rows, at: number, spanning: readonly string[]): string {
  const own = lines.map((line) => (line[at] ?? '').trim());
  const below = own.slice(1).filter((cell) => cell !== '');
  // "Notes" beside the last column under a wide heading is no part of what that heading spans.
  if (own[0] === '' && below.length === 1 && (roleOfHeading(below[0]) || ignoredHeading(below[0]))) return below[0];
  const top = own[0] !== '' || below.length === 0 ? own[0] : spanning[at];
  const whole = [top, ...below].filter((part) => part !== '').join(' ');
  if (!isAthleteHeading(top) || isAthleteHeading(whole)) return whole;
  // "First" under "Name" is the closer word; "units" under "ID" speaks of the other columns.
  return below.findLast(isAthleteHeading) ?? top;
}

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
 * reading without its athlete.
 */
export function isFurtherHeadingLine(row: readonly string[], top: readonly string[], words: HeadingWords): boolean {
  const spanning = spanned(top, Math.max(top.length, row.length));
  const athleteAt = top.findIndex(isAthleteHeading);
  const shared = sharedHeadings(top);
  let qualifiers = 0;
  for (const [at, raw] of row.entries()) {
    const cell = raw.trim();
    if (cell === '') continue;
    if (/^\d+$/.test(cell) && shared[at] === false) return false;
    if (readQualifier(cell, unitOf(readHeading(spanning[at], words)[0]))) qualifiers++;
    else if (!roleOfHeading(cell) && !ignoredHeading(cell)) return false;
    if (at === athleteAt && !roleOfHeading(cell)) return false;
  }
  return qualifiers > 0;
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
