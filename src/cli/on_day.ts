import { Option } from 'commander';
import { type LookedAt, tooFarWords } from '../athletes/desk_days.ts';
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

/** The day that is looked at: the one asked for, else what readings and desk tell, which is said. */
export function dayInUse(on: number | undefined, { day, tooFar }: LookedAt, io: Io): number {
  if (on !== undefined) return on;
  if (tooFar !== null) io.err(`note: ${tooFarWords(isoDay(tooFar))}\n`);
  if (day === null) return 0;
  io.err(
    `note: looked at from ${isoDay(day)}, the last day of readings, clearance, referrals and work; --on DATE or --on today says otherwise\n`,
  );
  return day;
}
