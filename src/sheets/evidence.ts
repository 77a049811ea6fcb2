import type { Delimiter } from '../tables/csv_rows.ts';
import { type DateOrder, dateEvidence } from '../units/dates.ts';
import { isInvolvedSide, readSide } from '../units/sides.ts';
import { readStatus } from '../units/statuses.ts';
import type { Unit } from '../units/unit.ts';
import { readUnit } from '../units/written.ts';
import { isAthleteHeading, isAthleteRole } from './heading_lines.ts';
import { readQualifier } from './headings.ts';
import type { ColumnPlan, RejectedColumn, TablePlan } from './plan.ts';
import { rowLabel } from './row_words.ts';
import { isBodyHeight } from './targets.ts';

type Rows = readonly (readonly string[])[];

// Behind the number a unit or a mark may stand.
const COMMA_DECIMAL = /^[-+]?\d+,(\d{1,2}|\d{4,})[^\d.,;/]{0,12}$/;
const POINT_DECIMAL = /^[-+]?\d*\.\d+[^\d.,;/]{0,12}$/;

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
 * Columns of a sheet that shows both decimal marks, told which of them are written with a point but for a cell or two: to
 * name a mark for the whole sheet would then mend nothing.
 */
export function withPoints(rows: Rows, { from, columns }: Pick<TablePlan, 'from' | 'columns'>): ColumnPlan[] {
  return columns.map((column) => {
    if (column.kind !== 'reading') return column;
    const cells = rows.map((row) => cellOf(row, from + column.at));
    const points = cells.filter((cell) => POINT_DECIMAL.test(cell)).length;
    const commas = cells.filter((cell) => COMMA_DECIMAL.test(cell)).length;
    return points > commas && commas > 0 ? { ...column, pointed: true } : column;
  });
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

/** Rows of one athlete, the first of which names the athlete. */
interface Run {
  rows: number;
  readonly keys: Set<string>;
  /** trial, side and test of one of its rows come again */
  repeats: boolean;
}

/** How rows that do not name their athlete go with the one above. */
export interface CarriedRows {
  /** most rows of an athlete; undefined: every row must name its athlete */
  readonly rowsPerAthlete?: number;
  readonly keysRepeat: boolean;
}

/**
 * How many rows may belong to an athlete whom only the first of them names. Where trial, side and test tell the rows of an
 * athlete apart, it is the most that any athlete of the head has; where nothing does, half of them and more must have the
 * same number, two or more. The last athlete is no evidence: an average without a label may stand below.
 * @param rows below the headings
 * @param columns of the table
 * @param keysAt columns that tell the rows of an athlete apart
 */
export function carriedRows(rows: Rows, columns: readonly ColumnPlan[], keysAt: readonly number[]): CarriedRows {
  const runs = runsOf(rows, columns, keysAt);
  const isKeyed = keysAt.length > 0;
  if (runs.length > 1) runs.pop();
  else if (!isKeyed) return { keysRepeat: false };
  const several = runs.filter((run) => run.rows > 1);
  // One blank among names is a forgotten name, not the way of the sheet.
  if (several.length * 2 < runs.length) return { keysRepeat: false };
  const keysRepeat = isKeyed && several.filter(({ repeats }) => repeats).length * 2 > several.length;
  const clear = keysRepeat || !isKeyed ? [] : runs.filter(({ repeats }) => !repeats);
  const most = clear.length > 0 ? Math.max(...clear.map((run) => run.rows)) : commonest(runs.map((run) => run.rows));
  // A single athlete is all the evidence there is.
  const found = runs.length === 1 && isKeyed ? runs[0].rows : most;
  return { rowsPerAthlete: found >= 2 ? found : undefined, keysRepeat };
}

function runsOf(rows: Rows, columns: readonly ColumnPlan[], keysAt: readonly number[]): Run[] {
  const athletes = columns.filter((column) => column.kind === 'role' && isAthleteRole(column.role));
  const readings = columns.filter((column) => column.kind === 'reading');
  const runs: Run[] = [];
  let isOpen = false;
  let nameAbove = '';
  for (const row of rows) {
    const name = athletes.map(({ at }) => cellOf(row, at)).find((cell) => cell !== '') ?? '';
    const hasReading = readings.some(({ at }) => isReading(cellOf(row, at)));
    const isOther = name !== '' && (rowLabel(name) !== undefined || isAthleteHeading(name));
    if (!hasReading || isOther) {
      isOpen &&= hasReading && !isOther;
      nameAbove = '';
      continue;
    }
    // A sheet that names an athlete again on the next row names every row.
    if (name !== '' && name === nameAbove) return [];
    nameAbove = name;
    const key = keysAt.map((at) => cellOf(row, at)).join('\n');
    const run = runs.at(-1);
    // A ditto mark names the athlete as well as a name does; what follows nobody is no evidence.
    if (name !== '') runs.push({ rows: 1, keys: new Set([key]), repeats: false });
    else if (run !== undefined && isOpen) {
      run.rows++;
      run.repeats ||= run.keys.has(key);
      run.keys.add(key);
    }
    isOpen ||= name !== '';
  }
  return runs;
}

/** Page 2 and Date: 18/08/2026 are no readings. */
const isReading = (cell: string): boolean => /^[^\p{L}\d]{0,3}\d/u.test(cell) || readStatus(cell) !== undefined;

/** The number that two runs or more have, and at least half of them; 0: there is none. */
function commonest(runs: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const run of runs) counts.set(run, (counts.get(run) ?? 0) + 1);
  for (const [run, count] of counts) if (count >= 2 && count * 2 >= runs.length) return run;
  return 0;
}

/** 35/40, 35 P / 40: two readings and one solidus. */
const PAIR = /^[^/]{0,6}\d[^/]{0,8}\/[^/]{0,6}\d[^/]{0,8}$/;

/** Columns that leave the side open, and whose cells hold both sides: 35/40. */
export function withPairs(rows: Rows, columns: readonly ColumnPlan[], sideAt: number): ColumnPlan[] {
  return columns.map((column) => {
    if (sideAt >= 0 || column.kind !== 'reading' || column.side !== undefined || column.sides !== undefined)
      return column;
    if (column.measure?.sides !== 'each' || !rows.some((row) => PAIR.test(cellOf(row, column.at)))) return column;
    return { ...column, sides: 'left_right', sidesByCells: true };
  });
}

/** Numbers with a unit behind: 20 kg, 21 kg */
const UNITS_BEHIND = /\d ?([\p{L}#°"'][^\d\s,;/]{0,15})/gu;
const LONGEST_CELL = 200;

/**
 * Columns that name no unit, with cells that do, and another one than the column would be read in: 180 among 150 lbs and
 * 165# is not taken for kilograms. Heights are told apart by their size.
 */
export function withMixedUnits(rows: Rows, columns: readonly ColumnPlan[]): ColumnPlan[] {
  return columns.map((column) => {
    if (column.kind === 'rejected') return withUnitsInCells(rows, column);
    if (column.kind !== 'reading' || column.measure === undefined || column.unit === undefined) return column;
    if (column.unitFrom !== 'protocol' && column.unitFrom !== 'written_in') return column;
    if (isBodyHeight(column.measure)) return column;
    const alsoIn = otherUnit(rows, column.at, column.measure.unit, column.unit);
    return alsoIn ? { ...column, alsoIn } : column;
  });
}

/** A column is not held back for want of a unit where its cells name theirs; those that do not are refused one by one. */
function withUnitsInCells(rows: Rows, column: RejectedColumn): ColumnPlan {
  const { held, at } = column;
  if (held?.measure === undefined) return column;
  const unit = otherUnit(rows, at, held.measure.unit);
  return unit ? { ...held, unit, unitFrom: 'cell', alsoIn: unit } : column;
}

/** The first unit that a cell of the column names, other than its own. */
function otherUnit(rows: Rows, at: number, wanted: Unit, own?: Unit): Unit | undefined {
  for (const row of rows) {
    const cell = cellOf(row, at);
    if (cell.length > LONGEST_CELL) continue;
    for (const [, written] of cell.matchAll(UNITS_BEHIND)) {
      const unit = readUnit(written, wanted);
      if (unit !== 'unknown' && unit.dimension === wanted.dimension && unit.factor !== own?.factor) return unit;
    }
  }
  return undefined;
}

/** Whether a trial column says best or mean and nothing else: these are then the readings of the sheet. */
export function onlyWorkedOutTrials(rows: Rows, trialAt: number): boolean {
  if (trialAt < 0) return false;
  const said = rows.map((row) => cellOf(row, trialAt)).filter((cell) => cell !== '' && cell.length <= 20);
  return said.length > 0 && said.every((cell) => readQualifier(cell)?.workedOut !== undefined);
}

/** What "other" means where a sheet speaks of operated or involved sides: the side opposite to those. */
export function meaningOfOther(
  rows: Rows,
  columns: readonly ColumnPlan[],
  sideAt: number,
): 'non_surgical' | 'uninvolved' | undefined {
  const sides = columns.flatMap((column) => (column.kind === 'reading' ? [column.side] : []));
  const cells = sideAt < 0 ? [] : rows.map((row) => readSide(cellOf(row, sideAt)));
  const involved = [...sides, ...cells].find(isInvolvedSide);
  if (involved === undefined) return undefined;
  return involved === 'surgical' || involved === 'non_surgical' ? 'non_surgical' : 'uninvolved';
}
