import type { AthleteDirectory } from '../athletes/directory.ts';
import { isTooLong } from '../athletes/shown_cells.ts';
import { isNotSaid, type SideCells, UNKNOWN } from '../athletes/side_cells.ts';
import { inLineOrder, readSideRows, type SideTable } from '../athletes/side_rows.ts';
import type { Trouble } from '../problems/failure.ts';
import { didYouMean } from '../protocol/nearest.ts';
import type { SideFileSpec } from '../tables/side_file.ts';

/** One line of exposures.csv: how often athletes took part in practices and games of a season. */
export interface ExposureRow {
  /** physical line */
  readonly line: number;
  /** year in which the season starts; null: not said, or not read */
  readonly season: number | null;
  /** the team's own name where the spelling is known, else as written; '' where nothing is */
  readonly team: string;
  /** '': the figure is that of the whole team */
  readonly athleteId: string;
  /** practice, game …, as written; '' where nothing is */
  readonly kind: string;
  /** one athlete in one practice or game is one; null: not said, not read, or two figures stand against each other */
  readonly athleteExposures: number | null;
}

/** Teams as screening.yaml and the roster name them. */
export interface KnownTeams {
  /** other spelling, folded → team */
  readonly teamAliases: ReadonlyMap<string, string>;
  readonly rosterTeams?: readonly string[];
}

const SHAPE = {
  needed: ['season', 'team', 'athlete_exposures'],
  optional: ['athlete_id', 'kind'],
  leftOut: 'The row is left out.',
} as const;

/** 1.250 is 1250 to some hands, and 1.25 to others. */
const OPEN_POINT = /^\d{1,3}\.\d{3}$/;

/**
 * Reads exposures.csv. A row that names an unknown athlete is left out with a warning; of the other cells one that
 * cannot be read is unknown, with a warning. Of two figures for one season, team, athlete and kind neither holds.
 * @throws Failure 2 if the file is empty or lacks season, team or athlete_exposures
 */
export function readExposures(
  text: string,
  spec: SideFileSpec,
  directory: AthleteDirectory,
  teams: KnownTeams,
): SideTable<ExposureRow> {
  const { rows, warnings } = readSideRows(text, spec, directory, SHAPE, (athleteId, cells) => ({
    line: cells.line,
    season: season(cells),
    team: team(cells, teams, athleteId !== ''),
    athleteId,
    kind: cells.text('kind'),
    athleteExposures: exposures(cells),
  }));
  return withoutRivals(rows, spec.file, warnings);
}

function season(cells: SideCells): number | null {
  const cell = cells.text('season');
  if (/^\d{4}$/.test(cell)) return Number(cell);
  const hint = 'Write the year in which the season starts. No season counts the row.';
  return cells.warn('season', isNotSaid(cell) ? 'is not given' : 'is not a year of four digits', hint);
}

function team(cells: SideCells, { teamAliases, rosterTeams = [] }: KnownTeams, ofAthlete: boolean): string {
  const cell = cells.text('team');
  if (isNotSaid(cell)) {
    if (!ofAthlete) cells.warn('team', 'is not given, and no athlete either', 'No team counts the row.');
    return '';
  }
  const key = cell.toLowerCase();
  const known = teamAliases.get(key) ?? rosterTeams.find((name) => name.toLowerCase() === key);
  if (rosterTeams.length > 0 && (known === undefined || !rosterTeams.includes(known))) {
    const hint = `${didYouMean(isTooLong(cell) ? '' : cell, rosterTeams)} No team of the roster counts the row.`;
    cells.warn('team', 'is no team of the roster', hint);
  }
  return known ?? cell;
}

function exposures(cells: SideCells): number | null {
  const cell = cells.text('athlete_exposures');
  const rule = 'is not a number from 0 on';
  if (!OPEN_POINT.test(cell)) return cells.number('athlete_exposures', rule, (value) => value >= 0);
  const readings = `It may be ${Number(cell)} or ${Number(cell.replace('.', ''))}.`;
  return cells.warn('athlete_exposures', 'is not a number that reads one way', `${readings} ${UNKNOWN}`);
}

/** Which of two figures holds, or whether they are to be added, nobody can say. */
function withoutRivals(rows: readonly ExposureRow[], file: string, told: readonly Trouble[]): SideTable<ExposureRow> {
  const warnings = [...told];
  const firsts = new Map<string, ExposureRow>();
  const disputed = new Set<string>();
  const keyOf = ({ season, team, athleteId, kind }: ExposureRow): string =>
    JSON.stringify([season, team, athleteId, kind.toLowerCase()]);
  for (const row of rows) {
    if (row.season === null) continue;
    const key = keyOf(row);
    const first = firsts.get(key);
    if (first === undefined) firsts.set(key, row);
    else {
      disputed.add(key);
      warnings.push({
        file,
        line: row.line,
        message: `is a second figure for the season, team, athlete and kind of line ${first.line}`,
        hint: 'Neither is used. Take one of the two out, or write their sum in one row.',
      });
    }
  }
  const kept = rows.map((row) =>
    row.season !== null && disputed.has(keyOf(row)) ? { ...row, athleteExposures: null } : row,
  );
  return { rows: kept, warnings: inLineOrder(warnings) };
}
