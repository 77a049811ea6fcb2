import type { AthleteDirectory } from '../athletes/directory.ts';
import type { Trouble } from '../problems/failure.ts';
import { ignoredNote, readSideFile, type SideFileSpec } from '../tables/side_file.ts';
import { readDate } from '../units/dates.ts';

export const INJURY_COLUMNS = [
  'region',
  'side',
  'days_lost',
  'type',
  'contact',
  'setting',
  'recurrent',
  'team',
] as const;

export interface InjuryDays {
  /** athlete_id → days of onset, ascending */
  readonly days: ReadonlyMap<string, readonly number[]>;
  readonly warnings: readonly Trouble[];
}

/**
 * The days on which athletes were injured: an injury between two test days parts two occasions. A row whose athlete or
 * date cannot be read is left out with a warning.
 */
export function readInjuryDays(text: string, spec: SideFileSpec, directory: AthleteDirectory): InjuryDays {
  const { file } = spec;
  const sideRows = readSideFile(text, spec, ['athlete_id', 'date'], INJURY_COLUMNS);
  const { rows } = sideRows;
  const days = new Map<string, number[]>();
  const warnings: Trouble[] = ignoredNote(file, sideRows);
  for (const row of rows) {
    const leave = (column: string, rule: string): void => {
      // A name is not repeated, and an id or a date holds a digit.
      const shown = /\d/.test(row.get(column)) ? ` "${row.get(column)}"` : '';
      warnings.push({
        file,
        line: row.line,
        column: row.place(column),
        message: `${column}${shown} ${rule}`,
        hint: 'The injury is left out.',
      });
    };
    const match = directory.find(row.get('athlete_id'));
    const date = readDate(row.get('date'), undefined);
    if (match.kind !== 'athlete') leave('athlete_id', 'is nobody on the roster');
    else if (date.kind !== 'day') leave('date', 'is not a date that reads one way: write YYYY-MM-DD');
    else {
      const known = days.get(match.id);
      if (known) known.push(date.day);
      else days.set(match.id, [date.day]);
    }
  }
  for (const list of days.values()) list.sort((a, b) => a - b);
  return { days, warnings };
}
