import { round9 } from '../../stats/round9.ts';
import type { Rejects } from '../../tables/schemas.ts';
import { columnUnitSlips } from './column_units.ts';
import { identicalSides } from './identical.ts';
import { addTo } from './lists.ts';
import { Model } from './model.ts';
import type { Readings } from './readings.ts';
import { implausibleRejects, rejectedColumns, rejectKey, rejectSuspect } from './rejected.ts';
import { rejectedSwaps } from './rejected_swaps.ts';
import { type Repeat, repeatedRows } from './repeated_rows.ts';
import { runsOfFill } from './runs.ts';
import { settle } from './settle.ts';
import { sheetColumnSwaps } from './sheet_column_swaps.ts';
import { sheetsWithSidesTurned } from './sheet_sides.ts';
import { apartSuspect, readingSuspects } from './told.ts';
import {
  columnSlipSuspect,
  identicalSuspect,
  repeatedSheetSuspect,
  repeatSuspect,
  runSuspect,
  sheetSwapSuspect,
  sidesTurnedSuspect,
} from './told_wide.ts';
import type { Suspect, SuspectOptions } from './types.ts';

/** From so many repeated rows on, a sheet that stands in another one is one line. */
const ROWS_OF_A_SHEET = 5;

/**
 * What was probably typed wrongly, by sheet, line and column, rejects last. Nothing is changed. A reading has one line at
 * most, and is told by the first of these that explains it: rows that stand twice, runs that were filled in, equal
 * sides; then by what makes the readings fit best (another unit, digits, an exchange); last an attempt apart. Whole
 * columns and sheets in another unit or exchanged are told first, and their readings are judged as they were meant.
 */
export function entrySuspects(readings: Readings, rejects: Rejects | undefined, options: SuspectOptions): Suspect[] {
  const { book, confirmed } = options;
  const model = new Model(readings, book);
  const taken = new Set<number>();
  const isFree = (row: number): boolean => !taken.has(row) && !confirmed.has(readings.cellKey(row));
  const takeAll = (some: readonly Suspect[]): readonly Suspect[] => {
    for (const { covers } of some) for (const row of covers) taken.add(row);
    return some;
  };
  const wide = wideSuspects(model, isFree);
  const own = [...takeAll(patternSuspects(model, isFree))];
  model.learn();
  const rejected = rejects === undefined ? [] : takeAll(rejectSuspects(model, rejects, options, isFree));
  model.leaveOut(rejected.flatMap(({ covers }) => covers));
  settle(
    model,
    isFree,
    (found) => own.push(...takeAll(readingSuspects(model, found))),
    (apart) => own.push(...takeAll([apartSuspect(model, apart)])),
  );
  const { file, line, column, trial } = readings;
  const byPlace = ({ at: a }: Suspect, { at: b }: Suspect): number =>
    file[a] - file[b] || line[a] - line[b] || column[a] - column[b] || trial[a] - trial[b] || a - b;
  return [...[...wide, ...own].sort(byPlace), ...rejected].map(rounded);
}

function rounded(suspect: Suspect): Suspect {
  return { ...suspect, score: round9(suspect.score), low: round9(suspect.low), high: round9(suspect.high) };
}

/** Whole columns and sheets. */
function wideSuspects(model: Model, isOpen: (row: number) => boolean): Suspect[] {
  model.learn();
  const swaps = sheetColumnSwaps(model, isOpen);
  const slips = columnUnitSlips(model);
  if (swaps.length > 0 || slips.length > 0) model.learn();
  const turned = sheetsWithSidesTurned(model);
  return [
    ...swaps.map((swap) => sheetSwapSuspect(model, swap)),
    ...slips.map((slip) => columnSlipSuspect(model, slip)),
    ...turned.map((one) => sidesTurnedSuspect(model, one)),
  ];
}

/** Rejects that cannot be: columns of them, then those that were exchanged with another number of their row. */
function rejectSuspects(
  model: Model,
  rejects: Rejects,
  { confirmed }: SuspectOptions,
  isOpen: (row: number) => boolean,
): Suspect[] {
  const rows = implausibleRejects(rejects, (row) => !confirmed.has(rejectKey(rejects, row)));
  const columns = rejectedColumns(model, rejects, rows);
  const told = new Set(columns.flatMap((column) => column.rows));
  const alone = rows.filter((row) => !told.has(row));
  const swaps = rejectedSwaps(model, rejects, alone, isOpen);
  for (const swap of swaps) for (const row of swap.rejects) told.add(row);
  return [
    ...[...columns, ...swaps].map(({ suspect }) => suspect),
    ...alone.filter((row) => !told.has(row)).map((row) => rejectSuspect(model, rejects, row)),
  ];
}

/** What shows in the numbers themselves, whoever they belong to. */
function patternSuspects(model: Model, isOpen: (row: number) => boolean): Suspect[] {
  const taken = new Set<number>();
  const isFree = (row: number): boolean => isOpen(row) && !taken.has(row);
  const repeats = repeatedRows(model, isFree);
  const suspects = repeatSuspects(model, repeats);
  const takeOut = (rows: readonly number[]): void => {
    for (const row of rows) taken.add(row);
    model.leaveOut(rows);
  };
  for (const { rows } of repeats) takeOut(rows);
  const runs = runsOfFill(model, isFree);
  for (const { rows } of runs) takeOut(rows);
  const identical = identicalSides(model, isFree);
  return [
    ...suspects,
    ...runs.map((run) => runSuspect(model, run)),
    ...identical.map((one) => identicalSuspect(model, one)),
  ];
}

function repeatSuspects(model: Model, repeats: readonly Repeat[]): Suspect[] {
  const { file } = model.readings;
  const bySheets = new Map<string, Repeat[]>();
  const suspects: Suspect[] = [];
  for (const repeat of repeats) {
    const [own, other] = [file[repeat.rows[0]], file[repeat.of]];
    if (own === other || repeat.how !== 'again') {
      suspects.push(repeatSuspect(model, repeat));
      continue;
    }
    addTo(bySheets, `${own} ${other}`, repeat);
  }
  for (const some of bySheets.values()) {
    if (some.length >= ROWS_OF_A_SHEET) suspects.push(repeatedSheetSuspect(model, some));
    else suspects.push(...some.map((repeat) => repeatSuspect(model, repeat)));
  }
  return suspects;
}
