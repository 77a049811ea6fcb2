import type { Delimiter } from '../tables/csv_rows.ts';
import { type DateOrder, dateEvidence } from '../units/dates.ts';
import { isInvolvedSide, readSide } from '../units/sides.ts';
import { isAthleteHeading, isAthleteRole } from './heading_lines.ts';
import { readQualifier } from './headings.ts';
import type { ColumnPlan } from './plan.ts';
import { isDitto, rowLabel } from './row_words.ts';

type Rows = readonly (readonly string[])[];

const COMMA_DECIMAL = /^[-+]?\d+,(\d{1,2}|\d{4,})$/;
const POINT_DECIMAL = /^[-+]?\d*\.\d+$/;

const cellOf = (row: readonly string[], at: number): string => (row[at] ?? '').trim();

/** The decimal mark that the readings of a sheet show, if they agree. */
export function decimalEvidence(rows: Rows, places: readonly number[], delimiter: Delimiter): '.' | ',' | undefined {
  let comma = false;
  let point = false;
  for (const row of rows) {
    for (const at of places) {
      const cell = cellOf(row, at);
      // In a sheet whose delimiter is the comma, "35,40" may as well be two trials.
      if (delimiter !== ',' && COMMA_DECIMAL.test(cell)) comma = true;
      else if (POINT_DECIMAL.test(cell)) point = true;
    }
  }
  return comma === point ? undefined : comma ? ',' : '.';
}

/**
 * What a sheet's own dates say about their order, and whether any of them leaves it open.
 * @returns order only if all that is unambiguous agrees
 */
export function dateOrderOf(cells: Iterable<string>): DateOrder | undefined {
  const seen = new Set<DateOrder>();
  for (const cell of cells) {
    const order = dateEvidence(cell.trim());
    if (order) seen.add(order);
    if (seen.size > 1) return undefined;
  }
  return [...seen][0];
}

/**
 * How many rows may belong to an athlete whom only the first of them names. Where a trial, side or test column tells the
 * rows of an athlete apart, it is the most that any athlete of the head has; where nothing does, all must have the same
 * number, two or more. The last athlete is no evidence: an average without a label may stand below.
 * @param rows below the headings
 * @param columns of the table
 * @param isKeyed whether a column tells the rows of an athlete apart
 * @returns undefined where every row must name its athlete
 */
export function rowsPerAthlete(rows: Rows, columns: readonly ColumnPlan[], isKeyed: boolean): number | undefined {
  const athletes = columns.filter((column) => column.kind === 'role' && isAthleteRole(column.role));
  const readings = columns.filter((column) => column.kind === 'reading');
  const runs: number[] = [];
  let isOpen = false;
  for (const row of rows) {
    const name = athletes.map(({ at }) => cellOf(row, at)).find((cell) => cell !== '') ?? '';
    const hasReading = readings.some(({ at }) => cellOf(row, at) !== '');
    const isOther = name !== '' && (rowLabel(name) !== undefined || isAthleteHeading(name));
    if (!hasReading || isOther) {
      isOpen &&= hasReading && !isOther;
      continue;
    }
    if (name !== '' && !isDitto(name)) runs.push(1);
    else if (isOpen) runs[runs.length - 1]++;
    isOpen = true;
  }
  if (runs.length > 1) runs.pop();
  else if (!isKeyed) return undefined;
  const most = runs.reduce((top, run) => Math.max(top, run), 0);
  if (most < 2) return undefined;
  return isKeyed || (runs.length > 1 && runs.every((run) => run === most)) ? most : undefined;
}

/** Whether a trial column says best or mean and nothing else: these are then the readings of the sheet. */
export function onlyWorkedOutTrials(rows: Rows, trialAt: number): boolean {
  if (trialAt < 0) return false;
  const said = rows.map((row) => cellOf(row, trialAt)).filter((cell) => cell !== '' && cell.length <= 20);
  return said.length > 0 && said.every((cell) => readQualifier(cell)?.workedOut !== undefined);
}

/** Whether a sheet speaks of operated or involved sides, so that "other" is the side opposite to those. */
export function speaksOfInvolved(rows: Rows, columns: readonly ColumnPlan[], sideAt: number): boolean {
  const inHeading = columns.some((column) => column.kind === 'reading' && isInvolvedSide(column.side));
  return inHeading || (sideAt >= 0 && rows.some((row) => isInvolvedSide(readSide(cellOf(row, sideAt)))));
}
