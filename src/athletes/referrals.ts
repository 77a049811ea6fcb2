import type { SideFileSpec } from '../tables/side_file.ts';
import type { AthleteDirectory } from './directory.ts';
import { type SideCells, UNKNOWN } from './side_cells.ts';
import { readSideRows, type SideTable } from './side_rows.ts';

/** One line of referrals.csv: an athlete sent to medical staff, and what became of it. */
export interface ReferralRow {
  /** physical line */
  readonly line: number;
  readonly athleteId: string;
  /** days since 1970-01-01 of the referral; null: not said, or not read */
  readonly day: number | null;
  /** rule of the protocol or built-in status finding; null: not said, or not known */
  readonly rule: string | null;
  /** days since 1970-01-01 on which the athlete was seen; null: not yet, or not read */
  readonly seenOn: number | null;
  /** as written; '' where nothing is */
  readonly outcome: string;
  /** days since 1970-01-01 on which the referral was closed; null: it is open, or not read */
  readonly closedOn: number | null;
}

const SHAPE = {
  needed: ['athlete_id', 'date', 'rule'],
  optional: ['seen_on', 'outcome', 'closed_on'],
  leftOut: 'The referral is left out.',
} as const;

/**
 * Reads referrals.csv. A row whose athlete is unknown is left out with a warning; of the other cells one that cannot be
 * read is unknown, with a warning. A day that lies before the referral closes nothing.
 * @param rules names of the protocol's rules and of the built-in status findings
 * @throws Failure 2 if the file is empty or lacks athlete_id, date or rule
 */
export function readReferrals(
  text: string,
  spec: SideFileSpec,
  directory: AthleteDirectory,
  rules: readonly string[],
): SideTable<ReferralRow> {
  return readSideRows(text, spec, directory, SHAPE, (athleteId, cells) => {
    const day = cells.neededDay('date', UNKNOWN);
    return {
      line: cells.line,
      athleteId,
      day,
      rule: cells.name('rule', rules, 'is none of the protocol'),
      seenOn: laterDay(cells, 'seen_on', day, 'The athlete counts as not seen.'),
      outcome: cells.text('outcome'),
      closedOn: laterDay(cells, 'closed_on', day, 'The referral counts as open.'),
    };
  });
}

function laterDay(cells: SideCells, column: string, from: number | null, hint: string): number | null {
  const day = cells.day(column, hint);
  return day === null || from === null || day >= from ? day : cells.warn(column, 'is before the date', hint);
}
