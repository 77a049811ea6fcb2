import { readDate } from '../units/dates.ts';
import { isoDay } from '../units/days.ts';

type Rows = readonly (readonly string[])[];

const FEWEST_DATES = 3;
const MOST_UNITS = 50;
const LONGEST_UNIT = 40;

/**
 * First and last year of the dates in a column, of those that stand there more than once: a mistyped year stands alone.
 * Undefined: too few dates to tell.
 */
export function yearsOf(rows: Rows, dateAt: number): readonly [number, number] | undefined {
  if (dateAt < 0) return undefined;
  const counts = new Map<number, number>();
  let dates = 0;
  for (const row of rows) {
    const year = yearOf((row[dateAt] ?? '').trim());
    if (year === undefined) continue;
    dates++;
    counts.set(year, (counts.get(year) ?? 0) + 1);
  }
  const years = [...counts].flatMap(([year, count]) => (count > 1 ? [year] : []));
  return dates < FEWEST_DATES || years.length === 0 ? undefined : [Math.min(...years), Math.max(...years)];
}

/** The year is the same whichever of day and month stands first. */
function yearOf(text: string): number | undefined {
  for (const order of ['dmy', 'mdy'] as const) {
    const date = readDate(text, order);
    if (date.kind === 'day') return Number(isoDay(date.day).slice(0, 4));
  }
  return undefined;
}

/** The units that a column of units names, as written. */
export function unitsIn(rows: Rows, unitAt: number): readonly string[] {
  const units = new Set<string>();
  if (unitAt < 0) return [];
  for (const row of rows) {
    const unit = (row[unitAt] ?? '').trim();
    if (unit !== '' && unit.length <= LONGEST_UNIT && units.size < MOST_UNITS) units.add(unit);
  }
  return [...units];
}
