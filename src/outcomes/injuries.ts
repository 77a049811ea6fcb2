import type { InjuryRow } from './injury_log.ts';

/**
 * The days of onset of each athlete's injuries, ascending: one between two test days parts two occasions. Injuries
 * without a day have none.
 */
export function injuryDays(rows: readonly InjuryRow[]): Map<string, number[]> {
  const days = new Map<string, number[]>();
  for (const { athleteId, day } of rows) {
    if (day === null) continue;
    const known = days.get(athleteId);
    if (known) known.push(day);
    else days.set(athleteId, [day]);
  }
  for (const list of days.values()) list.sort((a, b) => a - b);
  return days;
}
