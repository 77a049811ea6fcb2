import type { Protocol } from '../protocol/types.ts';
import { isVitalSign } from '../sheets/row_cells.ts';
import { NO_DAY } from '../tables/columns.ts';
import { RECHECK, type Recheck, type Rejects, type Results } from '../tables/schemas.ts';
import type { RowOf } from '../tables/table.ts';
import { isoDay } from '../units/days.ts';
import { SIDES } from '../units/sides.ts';
import type { Apart } from './outliers/apart.ts';
import type { Outlier } from './outliers/robust_outliers.ts';
import { apartSuggestion, outlierSuggestion } from './outliers/wording.ts';
import type { Readings } from './suspects/readings.ts';
import type { Suspect } from './suspects/types.ts';

/** A row of the recheck list; what is left out is not known. */
export type RecheckRow = Partial<RowOf<typeof RECHECK>>;

const known = (value: number): number | null => (Number.isNaN(value) ? null : value);

/** Where a reading stands, and whose it is. */
function readingRow(readings: Readings, at: number): RecheckRow {
  const { season, day, side, trial, value, line, column } = readings;
  const measure = readings.measureOf(at);
  return {
    athlete_id: readings.athletes.get(readings.athlete[at]),
    team: readings.teams.get(readings.team[at]),
    season: season[at] || null,
    date: day[at] === NO_DAY ? null : isoDay(day[at]),
    measure: measure.name,
    side: SIDES[side[at]],
    trial: trial[at] || null,
    value: value[at],
    unit: measure.unit.code,
    file: readings.files.get(readings.file[at]),
    line: line[at] || null,
    column: column[at] || null,
    station: readings.stations.get(readings.station[at]),
  };
}

const OF_NOBODY = { athlete_id: null, team: null, date: null, value: null, line: null } satisfies RecheckRow;
const OF_NO_COLUMN = { side: null, trial: null, column: null } satisfies RecheckRow;

const VITAL_FIRST = 'Take it again first; if it stands, medical staff see the athlete.';

/** The row of an entry suspect: a reading, a whole column or sheet, or what could not be read. */
export function suspectRow(
  { at, reject, extent, kind, score, low, high, suggestion }: Suspect,
  readings: Readings,
  rejects: Rejects | undefined,
): RecheckRow {
  const isVital = at >= 0 && extent === 'reading' && isVitalSign(readings.measureOf(at));
  const said = {
    ...{ kind, score: known(score), low: known(low), high: known(high) },
    // A guess at what was meant must not talk a dangerous reading away.
    suggestion: isVital ? `${VITAL_FIRST} ${suggestion}` : suggestion,
  };
  if (at < 0) return { ...rejectRow(rejects!, reject, readings.protocol), ...said };
  const row = readingRow(readings, at);
  if (extent === 'reading') return { ...row, ...said };
  return { ...row, ...OF_NOBODY, ...(extent === 'sheet' && OF_NO_COLUMN), ...said };
}

function rejectRow({ columns }: Rejects, row: number, { byName }: Protocol): RecheckRow {
  const measure = columns.measure.get(row);
  return {
    athlete_id: columns.athlete_id.get(row),
    season: columns.season.get(row),
    measure,
    unit: byName.get(measure ?? '')?.unit.code ?? null,
    file: columns.file.get(row),
    line: columns.line.get(row),
    column: columns.column.get(row),
    station: columns.station.get(row),
    raw: columns.raw.get(row),
  };
}

/**
 * The row of an outlier, at the reading that is behind it.
 * @param at row of the readings; -1: there is none
 */
export function outlierRow(outlier: Outlier, at: number, results: Results, readings: Readings): RecheckRow {
  const { row, cell, value, z, low, high } = outlier;
  const { athlete_id, team, date } = results.columns;
  const { season, measure, side } = cell;
  // A mean or a median is the value of no single attempt.
  const isOwn = at >= 0 && readings.value[at] === value;
  const own: RecheckRow = {
    athlete_id: athlete_id.get(row),
    team: team.get(row),
    season,
    date: date.get(row),
    measure: measure.name,
    side,
    unit: measure.unit.code,
  };
  const place = at >= 0 ? readingRow(readings, at) : {};
  const suggestion = outlierSuggestion(outlier, at >= 0 ? readings.value[at] : value);
  return { ...own, ...place, ...(!isOwn && { trial: null }), value, kind: 'outlier', score: z, low, high, suggestion };
}

/** The row of a tester or a device, at the sheet if it is one. */
export function apartRow(apart: Apart, readings: Readings): RecheckRow {
  const { measure, season, isPercent, difference, score, expected } = apart;
  const same = (codes: Int32Array): number => {
    const first = codes[apart.readings[0]];
    return apart.readings.every((at) => codes[at] === first) ? first : -1;
  };
  return {
    season,
    measure: measure.name,
    value: difference,
    unit: isPercent ? '%' : measure.unit.code,
    kind: 'outlier',
    score,
    low: -expected,
    high: expected,
    suggestion: apartSuggestion(apart, readings),
    file: readings.files.get(same(readings.file)),
    station: readings.stations.get(same(readings.station)),
  };
}

const byText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** By file, line, column and trial; a whole sheet or column before its lines, what belongs to no sheet last. */
export function orderIn({ byName }: Protocol): (a: RecheckRow, b: RecheckRow) => number {
  const index = ({ measure }: RecheckRow): number => byName.get(measure ?? '')?.index ?? -1;
  return (a, b) =>
    Number(!a.file) - Number(!b.file) ||
    byText(a.file ?? '', b.file ?? '') ||
    (a.line ?? 0) - (b.line ?? 0) ||
    (a.column ?? 0) - (b.column ?? 0) ||
    (a.trial ?? 0) - (b.trial ?? 0) ||
    (a.season ?? 0) - (b.season ?? 0) ||
    index(a) - index(b) ||
    byText(a.suggestion ?? '', b.suggestion ?? '');
}

/** Appends a row, internal cells included. */
export function pushRow(table: Recheck, row: RecheckRow): void {
  const cells = row as Readonly<Record<string, string | number | null | undefined>>;
  for (const { name } of RECHECK) {
    (table.column(name) as { push(value: string | number | null): void }).push(cells[name] ?? null);
  }
}
