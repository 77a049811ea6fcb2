import { Option } from 'commander';
import { isoDay, parseIsoDay } from '../units/days.ts';
import type { Io } from './io.ts';
import { UsageError } from './options.ts';

export interface OnOptions {
  /** days since 1970-01-01 */
  readonly on?: number;
}

const MS_A_DAY = 86_400_000;

const LOOKED_AT =
  'day to look at it from: YYYY-MM-DD or today (default: the last day that readings, clearance, referrals or work tell of)';

/** `--on DATE`: the day by which clearance, referrals and retests are judged. */
export function onOption(description = LOOKED_AT): Option {
  return new Option('--on <date>', description).argParser(parseOn);
}

function parseOn(text: string): number {
  const word = text.trim();
  // The clock is asked for only where the user asks for it: the same input gives the same bytes.
  if (word === 'today') {
    const now = new Date();
    return Math.round(Date.UTC(now.getFullYear(), now.getMonth(), now.getDate()) / MS_A_DAY);
  }
  const day = parseIsoDay(word);
  if (day === undefined) throw new UsageError(`--on: "${text}" is no day; write YYYY-MM-DD, or today`);
  return day;
}

/**
 * The day that is looked at: the one asked for, else the last one that readings or desk tell of, which is said.
 * @param lastDays days since 1970-01-01; null: none is told of
 */
export function dayInUse(on: number | undefined, lastDays: readonly (number | null)[], io: Io): number {
  if (on !== undefined) return on;
  const known = lastDays.filter((day) => day !== null);
  if (known.length === 0) return 0;
  const day = Math.max(...known);
  io.err(
    `note: looked at from ${isoDay(day)}, the last day of readings, clearance, referrals and work; --on DATE or --on today says otherwise\n`,
  );
  return day;
}
