import type { DeskRows } from './desk.ts';

/**
 * The newest day on which clearance, referrals or work tell of something that has happened; `until` is a day to come.
 * @returns days since 1970-01-01; null: they tell of no day
 */
export function lastDeskDay({ clearance, referrals, work }: DeskRows): number | null {
  let last: number | null = null;
  const take = (day: number | null): void => {
    if (day !== null && (last === null || day > last)) last = day;
  };
  for (const row of clearance) take(row.day);
  for (const row of referrals) for (const day of [row.day, row.seenOn, row.closedOn]) take(day);
  for (const row of work) for (const day of [row.started, row.stopped]) take(day);
  return last;
}
