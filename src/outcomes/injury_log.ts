import type { AthleteDirectory } from '../athletes/directory.ts';
import { type HurtSide, isNotSaid, type SideCells, UNKNOWN, wordOf } from '../athletes/side_cells.ts';
import { readSideRows, type SideTable } from '../athletes/side_rows.ts';
import type { SideFileSpec } from '../tables/side_file.ts';

/** One line of injuries.csv: an injury of this programme's athletes. Texts are as written, '' where nothing is. */
export interface InjuryRow {
  /** physical line */
  readonly line: number;
  readonly athleteId: string;
  /** days since 1970-01-01 of onset; null: not said, or not read */
  readonly day: number | null;
  readonly region: string;
  /** null: not said, or not read */
  readonly side: HurtSide | null;
  /** days lost from sport; null: unknown, as of an injury that still keeps the athlete out */
  readonly daysLost: number | null;
  readonly type: string;
  readonly contact: string;
  readonly setting: string;
  /** null: not said, or not read */
  readonly recurrent: boolean | null;
  /** the team's own name where the spelling is known, else as written */
  readonly team: string;
}

const SHAPE = {
  needed: ['athlete_id', 'date'],
  optional: ['region', 'side', 'days_lost', 'type', 'contact', 'setting', 'recurrent', 'team'],
  leftOut: 'The injury is left out.',
} as const;

const YES = ['yes', 'y', 'true', '1', 'x', 'recurrent', 'recurrence', 'reinjury', 're-injury'];
const NO = ['no', 'n', 'false', '0', 'new', 'first'];

/**
 * Reads injuries.csv. An injury whose athlete is unknown is left out with a warning; of the other cells one that cannot
 * be read is unknown, with a warning. `days_lost` blank or negative and `side` blank or n/a are unknown, and no fault.
 * @param teamAliases other spelling, folded → team
 * @throws Failure 2 if the file is empty or lacks athlete_id or date
 */
export function readInjuryLog(
  text: string,
  spec: SideFileSpec,
  directory: AthleteDirectory,
  teamAliases: ReadonlyMap<string, string> = new Map(),
): SideTable<InjuryRow> {
  return readSideRows(text, spec, directory, SHAPE, (athleteId, cells) => {
    const team = cells.text('team');
    return {
      line: cells.line,
      athleteId,
      day: cells.neededDay('date', 'The injury is kept without a day: it parts no test days, and no season counts it.'),
      region: cells.text('region'),
      side: cells.side('side'),
      daysLost: daysLost(cells),
      type: cells.text('type'),
      contact: cells.text('contact'),
      setting: cells.text('setting'),
      recurrent: recurrent(cells),
      team: teamAliases.get(team.toLowerCase()) ?? team,
    };
  });
}

function daysLost(cells: SideCells): number | null {
  const days = cells.number('days_lost', 'is not a plain number of days', () => true);
  return days === null || days < 0 ? null : days;
}

function recurrent(cells: SideCells): boolean | null {
  const cell = cells.text('recurrent');
  if (isNotSaid(cell)) return null;
  if (wordOf(cell, YES) !== undefined) return true;
  return wordOf(cell, NO) !== undefined ? false : cells.warn('recurrent', 'is neither yes nor no', UNKNOWN);
}
