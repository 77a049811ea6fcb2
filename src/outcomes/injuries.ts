import type { AthleteDirectory } from '../athletes/directory.ts';
import type { Trouble } from '../problems/failure.ts';
import type { SideFileSpec } from '../tables/side_file.ts';
import { type InjuryRow, readInjuryLog } from './injury_log.ts';

export interface InjuryDays {
  /** athlete_id → days of onset, ascending */
  readonly days: ReadonlyMap<string, readonly number[]>;
  readonly warnings: readonly Trouble[];
}

/** The days of onset of each athlete's injuries, ascending; injuries without a day have none. */
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

/**
 * The days on which athletes were injured: an injury between two test days parts two occasions. A row whose athlete or
 * date cannot be read parts none, with a warning.
 */
export function readInjuryDays(text: string, spec: SideFileSpec, directory: AthleteDirectory): InjuryDays {
  const { rows, warnings } = readInjuryLog(text, spec, directory);
  return { days: injuryDays(rows), warnings };
}
