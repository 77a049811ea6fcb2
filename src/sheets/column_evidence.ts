import { readDate } from '../units/dates.ts';
import { isoDay } from '../units/days.ts';
import type { Unit } from '../units/unit.ts';
import { readUnit } from '../units/written.ts';
import { type HeadingWords, readHeading } from './headings.ts';

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

const NUMBER_AND_UNIT = /^[-+]?\d+(?:[.,]\d+)? ?([\p{L}#°"'][^\d\s,;/]{0,15})$/u;
const LONGEST_TEST = 200;

/** What the rows of a sheet with a test column show of each measure. */
export interface TestEvidence {
  /** measures of which the best is named and no single trial */
  readonly onlyBestOf: ReadonlySet<string>;
  /** units that their cells name */
  readonly unitsOfTests: ReadonlyMap<string, readonly Unit[]>;
}

/** @param valuesAt columns that leave their measure to the row */
export function testEvidence(
  rows: Rows,
  testAt: number,
  valuesAt: readonly number[],
  words: HeadingWords,
): TestEvidence {
  const best = new Set<string>();
  const single = new Set<string>();
  const units = new Map<string, Unit[]>();
  for (const row of testAt < 0 ? [] : rows) {
    const [reading] = readHeading((row[testAt] ?? '').trim().slice(0, LONGEST_TEST), words);
    const measure = reading?.measure;
    if (measure === undefined) continue;
    (reading.workedOut === 'best' ? best : single).add(measure.name);
    for (const at of valuesAt) {
      const written = NUMBER_AND_UNIT.exec((row[at] ?? '').trim().slice(0, LONGEST_UNIT))?.[1];
      const unit = written === undefined ? 'unknown' : readUnit(written, measure.unit);
      if (unit === 'unknown' || unit.dimension !== measure.unit.dimension) continue;
      const known = units.get(measure.name) ?? [];
      if (!known.some(({ code }) => code === unit.code)) units.set(measure.name, [...known, unit]);
    }
  }
  return { onlyBestOf: new Set([...best].filter((name) => !single.has(name))), unitsOfTests: units };
}
