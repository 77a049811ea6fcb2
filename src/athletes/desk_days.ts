import type { DeskRows } from './desk.ts';

/** A desk that tells of something later than this after the last reading has likelier a mistyped year. */
const FARTHEST = 180;

export interface LookedAt {
  /** days since 1970-01-01; null: nothing tells of a day */
  readonly day: number | null;
  /** the first day of the desk that lies too far behind the readings to go by; null: there is none */
  readonly tooFar: number | null;
}

/**
 * The day from which everything is looked at unless the user says otherwise: the newest on which readings, clearance,
 * referrals or work tell of something that has happened. `until` is a day to come.
 * @param lastReading days since 1970-01-01; null: there is no reading
 */
export function lookedAt(lastReading: number | null, desk: DeskRows): LookedAt {
  const days = daysOf(desk);
  const most = lastReading === null ? Number.POSITIVE_INFINITY : lastReading + FARTHEST;
  const known = [...days.filter((day) => day <= most), ...(lastReading === null ? [] : [lastReading])];
  const beyond = days.filter((day) => day > most);
  return {
    day: known.length === 0 ? null : known.reduce((a, b) => Math.max(a, b)),
    tooFar: beyond.length === 0 ? null : beyond.reduce((a, b) => Math.min(a, b)),
  };
}

function daysOf({ clearance, referrals, work }: DeskRows): number[] {
  return [
    ...clearance.map(({ day }) => day),
    ...referrals.flatMap(({ day, seenOn, closedOn }) => [day, seenOn, closedOn]),
    ...work.flatMap(({ started, stopped }) => [started, stopped]),
  ].filter((day) => day !== null);
}

/** What is said of days that lie too far off to go by. */
export function tooFarWords(day: string): string {
  return `clearance, referrals or work tell of ${day}, more than ${FARTHEST} days after the last reading: look for a mistyped year, or say the day with --on`;
}
