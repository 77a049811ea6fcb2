// Plants known slips in sheets without any.
import type { College, Column, MadeSheet } from './college.ts';
import { TESTS, type TestKey } from './college.ts';
import type { Draws } from './draws.ts';
import { cellKey } from './read.ts';

/** One slip that was planted. */
export interface Plant {
  readonly kind: string;
  /** every cell that it changed, or that a line about it may name */
  readonly cells: readonly string[];
  /** the largest change of a number in it, as a share; undefined: a pattern and no change */
  readonly change?: number;
}

/** Plants up to so many slips and says which. */
export type Planter = (college: College, draws: Draws, count: number) => Plant[];

const HEAD_LINES = 1;
const FIRST_READING = 3;

const keyOf = (sheet: MadeSheet, row: number, column: number): string =>
  cellKey(sheet.file, row + 1 + HEAD_LINES, column + 1);

const readingColumns = ({ columns }: MadeSheet): number[] => columns.map((_, at) => at).slice(FIRST_READING);

const columnsOfTest = ({ columns }: MadeSheet, key: TestKey): number[] =>
  columns.flatMap(({ test }, at) => (test === key ? [at] : []));

const testsOf = ({ columns }: MadeSheet): TestKey[] => [...new Set(columns.flatMap(({ test }) => test ?? []))];

const shareOf = (before: string, after: string): number => {
  const share = Math.abs(Number(after) / Number(before) - 1);
  return Number.isFinite(share) ? share : 1;
};

/** Ratios by which readings of a unit go wrong, and how they are then read: what the station's device or tape shows. */
const FACTORS: Readonly<Record<string, readonly number[]>> = {
  kg: [2.2046226, 10, 0.1],
  kgf: [2.2046226, 9.80665, 1 / 2.2046226, 10, 0.1],
  N: [1 / 9.80665, 1 / 4.4482216, 10, 0.1],
  cm: [1 / 2.54, 0.01, 10, 0.1],
};

function written(number: number): string {
  const digits = Math.abs(number) >= 100 ? 0 : Math.abs(number) >= 10 ? 1 : 2;
  return String(Number(number.toFixed(digits)));
}

function factorsOf({ test, heading }: Column): readonly number[] {
  const unit = heading.endsWith('(kg)') && TESTS[test!].unit === 'N' ? 'kgf' : TESTS[test!].unit;
  return FACTORS[unit] ?? [];
}

/** Rows in a random order, one of each athlete, so that no slip meets another. */
class FreeRows {
  readonly #rows: [MadeSheet, number][];
  readonly #count: number;
  #next = 0;

  constructor(college: College, draws: Draws, count: number, fits: (sheet: MadeSheet) => boolean = () => true) {
    const all = college.sheets.flatMap((sheet) =>
      fits(sheet) ? sheet.rows.map((_, row): [MadeSheet, number] => [sheet, row]) : [],
    );
    const used = new Set<string>();
    this.#rows = draws.shuffled(all).filter(([sheet, row]) => {
      const id = sheet.rows[row][0];
      if (used.has(id)) return false;
      used.add(id);
      return true;
    });
    this.#count = count;
  }

  plant(one: (sheet: MadeSheet, row: number) => Plant | undefined): Plant[] {
    const plants: Plant[] = [];
    while (plants.length < this.#count && this.#next < this.#rows.length) {
      const plant = one(...this.#rows[this.#next++]);
      if (plant !== undefined) plants.push(plant);
    }
    return plants;
  }
}

function changeCells(
  kind: string,
  sheet: MadeSheet,
  row: number,
  changes: readonly (readonly [number, string])[],
): Plant | undefined {
  const cells = sheet.rows[row];
  const real = changes.filter(([column, text]) => text !== cells[column]);
  if (real.length === 0) return undefined;
  const change = Math.max(...real.map(([column, text]) => shareOf(cells[column], text)));
  for (const [column, text] of real) cells[column] = text;
  return { kind, cells: real.map(([column]) => keyOf(sheet, row, column)), change };
}

/** One reading in another unit, or with its point moved. */
const unitSlip: Planter = (college, draws, count) =>
  new FreeRows(college, draws, count).plant((sheet, row) => {
    const column = draws.pick(readingColumns(sheet));
    const factors = factorsOf(sheet.columns[column]);
    if (factors.length === 0) return undefined;
    const text = written(Number(sheet.rows[row][column]) * draws.pick(factors));
    return changeCells('unit_slip', sheet, row, [[column, text]]);
  });

/** All attempts of both sides of an athlete in another unit. */
const rowUnitSlip: Planter = (college, draws, count) =>
  new FreeRows(college, draws, count).plant((sheet, row) => {
    const key = draws.pick(testsOf(sheet).filter((test) => TESTS[test].trials > 1));
    if (key === undefined) return undefined;
    const columns = columnsOfTest(sheet, key);
    const factors = factorsOf(sheet.columns[columns[0]]);
    if (factors.length === 0) return undefined;
    const factor = draws.pick(factors);
    const changes = columns.map((at) => [at, written(Number(sheet.rows[row][at]) * factor)] as const);
    return changeCells('unit_slip', sheet, row, changes);
  });

/** A whole test of a sheet, one of its columns, or all forces of a station in another unit. Every second sheet of a test at most. */
const columnUnitSlip: Planter = (college, draws, count) => {
  const plants: Plant[] = [];
  const used = new Set<string>();
  for (const sheet of draws.shuffled(college.sheets)) {
    for (const key of draws.shuffled(testsOf(sheet))) {
      const columns = columnsOfTest(sheet, key);
      const factors = factorsOf(sheet.columns[columns[0]]);
      if (plants.length >= count || factors.length === 0 || used.has(key)) continue;
      used.add(key);
      const factor = draws.pick(factors);
      const some = columns.length > 1 && draws.share() < 0.3 ? [draws.pick(columns)] : columns;
      const cells: string[] = [];
      for (const [row, texts] of sheet.rows.entries()) {
        for (const at of some) {
          texts[at] = written(Number(texts[at]) * factor);
          cells.push(keyOf(sheet, row, at));
        }
      }
      plants.push({ kind: 'column_unit_slip', cells, change: Math.abs(factor - 1) });
    }
  }
  return plants;
};

/** The right side of a test copied from the left. */
const sidesIdentical: Planter = (college, draws, count) =>
  new FreeRows(college, draws, count).plant((sheet, row) => {
    const key = draws.pick(testsOf(sheet).filter((test) => TESTS[test].sides && TESTS[test].trials > 1));
    if (key === undefined) return undefined;
    const columns = columnsOfTest(sheet, key);
    const right = columns.filter((at) => sheet.columns[at].side === 'right');
    for (const at of right) {
      const left = columns.find(
        (other) => sheet.columns[other].side === 'left' && sheet.columns[other].trial === sheet.columns[at].trial,
      )!;
      sheet.rows[row][at] = sheet.rows[row][left];
    }
    return { kind: 'sides_identical', cells: columns.map((at) => keyOf(sheet, row, at)) };
  });

const SWAPPED: readonly (readonly [TestKey, TestKey])[] = [
  ['systolic', 'diastolic'],
  ['flexion', 'extension'],
  ['height', 'mass'],
];

function swapped(sheet: MadeSheet, row: number, one: TestKey, other: TestKey): (readonly [number, string])[] {
  const from = columnsOfTest(sheet, one);
  const to = columnsOfTest(sheet, other);
  const cells = sheet.rows[row];
  return from.flatMap((at, index) => [[at, cells[to[index]]] as const, [to[index], cells[at]] as const]);
}

/** Two tests of an athlete under each other's headings. */
const rowSwap: Planter = (college, draws, count) =>
  new FreeRows(college, draws, count).plant((sheet, row) => {
    const pairs = SWAPPED.filter(([one]) => testsOf(sheet).includes(one));
    if (pairs.length === 0) return undefined;
    return changeCells('columns_swapped', sheet, row, swapped(sheet, row, ...draws.pick(pairs)));
  });

/** Two tests of a whole sheet under each other's headings: one sheet of three. */
const columnSwap: Planter = (college, draws, count) => {
  const plants: Plant[] = [];
  for (const pair of SWAPPED.slice(0, 2)) {
    if (plants.length >= count) break;
    const sheet = draws.pick(college.sheets.filter((one) => testsOf(one).includes(pair[0])));
    const done = sheet.rows.flatMap(
      (_, row) => changeCells('columns_swapped', sheet, row, swapped(sheet, row, ...pair)) ?? [],
    );
    plants.push({ kind: 'columns_swapped', cells: done.flatMap(({ cells }) => cells), change: 1 });
  }
  return plants;
};

function sidesTurned(sheet: MadeSheet, row: number, keys: readonly TestKey[]): (readonly [number, string])[] {
  return keys.flatMap((key) =>
    columnsOfTest(sheet, key).map((at) => {
      const { side, trial } = sheet.columns[at];
      const other = columnsOfTest(sheet, key).find(
        (one) => sheet.columns[one].trial === trial && sheet.columns[one].side !== side,
      )!;
      return [at, sheet.rows[row][other]] as const;
    }),
  );
}

/** Left and right of all tests exchanged in the rows of one tester, in one sheet of each season's station. */
const testerSides: Planter = (college, draws, count) => {
  const plants: Plant[] = [];
  const used = new Set<string>();
  for (const sheet of draws.shuffled(college.sheets)) {
    const keys = testsOf(sheet).filter((key) => TESTS[key].sides);
    if (plants.length >= count || used.has(keys.join())) continue;
    used.add(keys.join());
    const tester = sheet.rows[0][2];
    const columns = keys.flatMap((key) => columnsOfTest(sheet, key));
    const cells = sheet.rows.flatMap((texts, row) => {
      if (texts[2] !== tester) return [];
      changeCells('sides_swapped', sheet, row, sidesTurned(sheet, row, keys));
      return columns.map((at) => keyOf(sheet, row, at));
    });
    plants.push({ kind: 'sides_swapped', cells });
  }
  return plants;
};

/** Left and right exchanged for one athlete whose sides lie far apart in all seasons. */
const athleteSides: Planter = (college, draws, count) => {
  const byAthlete = new Map<string, [MadeSheet, number][]>();
  for (const sheet of college.sheets) {
    for (const [row, [id]] of sheet.rows.entries()) byAthlete.set(id, [...(byAthlete.get(id) ?? []), [sheet, row]]);
  }
  return new FreeRows(college, draws, count).plant((sheet, row) => {
    const others = (byAthlete.get(sheet.rows[row][0]) ?? []).filter(
      ([other]) =>
        other !== sheet && other.columns.length === sheet.columns.length && other.file.endsWith(sheet.file.slice(12)),
    );
    const key = draws.pick(testsOf(sheet).filter((test) => TESTS[test].sides && TESTS[test].isRatio));
    if (key === undefined || others.length < 2) return undefined;
    // Weak on one side for good: a quarter off the right side in every season.
    for (const [other, at] of [...others, [sheet, row] as const]) {
      for (const column of columnsOfTest(other, key)) {
        const { side, digits } = other.columns[column];
        if (side === 'right') other.rows[at][column] = (Number(other.rows[at][column]) * 0.75).toFixed(digits);
      }
    }
    return changeCells('sides_swapped', sheet, row, sidesTurned(sheet, row, [key]));
  });
};

/** One of three attempts far from the two others. */
const trialApart: Planter = (college, draws, count) =>
  new FreeRows(college, draws, count).plant((sheet, row) => {
    const columns = readingColumns(sheet).filter((at) => TESTS[sheet.columns[at].test!].trials > 2);
    if (columns.length === 0) return undefined;
    const column = draws.pick(columns);
    const times = 1.35 + 0.45 * draws.share();
    const value = Number(sheet.rows[row][column]) * (draws.share() < 0.5 ? times : 1 / times);
    return changeCells('trial_apart', sheet, row, [[column, sheet.columns[column].write(value)]]);
  });

/** The numbers of a row once more in the row below, under the id of the next athlete. */
const rowCopied: Planter = (college, draws, count) => {
  const used = new Set<string>();
  return new FreeRows(college, draws, count).plant((sheet, row) => {
    const below = sheet.rows[row + 1];
    if (below === undefined || used.has(`${sheet.file} ${row}`) || used.has(`${sheet.file} ${row + 1}`))
      return undefined;
    used.add(`${sheet.file} ${row}`).add(`${sheet.file} ${row + 1}`);
    for (const at of readingColumns(sheet)) below[at] = sheet.rows[row][at];
    return {
      kind: 'repeated_row',
      cells: readingColumns(sheet).flatMap((at) => [keyOf(sheet, row, at), keyOf(sheet, row + 1, at)]),
    };
  });
};

/** A row pasted once more at the end of its sheet: under the same id, or under that of an athlete who was not there. */
const rowPasted: Planter = (college, draws, count) =>
  new FreeRows(college, draws, count).plant((sheet, row) => {
    const present = new Set(sheet.rows.map(([id]) => id));
    const absent = college.sheets.flatMap(({ rows }) => rows.map(([id]) => id)).filter((id) => !present.has(id));
    const id = draws.share() < 0.5 ? sheet.rows[row][0] : draws.pick(absent);
    sheet.rows.push([id, ...sheet.rows[row].slice(1)]);
    const last = sheet.rows.length - 1;
    const cells = readingColumns(sheet).flatMap((at) => [keyOf(sheet, row, at), keyOf(sheet, last, at)]);
    return { kind: 'repeated_row', cells };
  });

function withSlippedDigit(text: string, draws: Draws): string {
  const digits = [...text].flatMap((sign, at) => (sign === '.' ? [] : [at]));
  const whole = text.includes('.') ? text.indexOf('.') : text.length;
  const at = draws.pick(digits.filter((place) => place < whole));
  const way = draws.whole(0, 2);
  if (way === 0) return whole > 1 ? text.slice(0, at) + text.slice(at + 1) : text;
  if (way === 1) return text.slice(0, at) + text[at] + text.slice(at);
  const next = digits[digits.indexOf(at) + 1];
  if (next === undefined) return text;
  return text.slice(0, at) + text[next] + text.slice(at + 1, next) + text[at] + text.slice(next + 1);
}

const digitSlip: Planter = (college, draws, count) =>
  new FreeRows(college, draws, count).plant((sheet, row) => {
    const column = draws.pick(readingColumns(sheet));
    const text = withSlippedDigit(sheet.rows[row][column], draws);
    return /^0\d/.test(text) ? undefined : changeCells('digit_slip', sheet, row, [[column, text]]);
  });

/** Five to nine cells of a column pulled down: the same number, or rising by one step. */
const fill: Planter = (college, draws, count) => {
  const used = new Set<string>();
  return new FreeRows(college, draws, count).plant((sheet, row) => {
    const length = draws.whole(5, 9);
    const column = draws.pick(readingColumns(sheet));
    const rows = Array.from({ length }, (_, at) => row + at);
    if (row + length > sheet.rows.length || rows.some((at) => used.has(`${sheet.file} ${at}`))) return undefined;
    for (const at of [row - 1, ...rows, row + length]) used.add(`${sheet.file} ${at}`);
    const { digits, test } = sheet.columns[column];
    const { step } = TESTS[test!];
    const rise = draws.share() < 0.5 ? 0 : Math.max(step, 1);
    const first = Number(sheet.rows[row][column]);
    for (const [at, other] of rows.entries()) sheet.rows[other][column] = (first + at * rise).toFixed(digits);
    return { kind: 'run_of_fill', cells: rows.map((at) => keyOf(sheet, at, column)) };
  });
};

/** Twelve to thirty cells of a column sorted, and the ids beside them not. */
const sorted: Planter = (college, draws, count) => {
  const used = new Set<string>();
  return new FreeRows(college, draws, count).plant((sheet, row) => {
    const length = draws.whole(12, 30);
    const column = draws.pick(readingColumns(sheet));
    const rows = Array.from({ length }, (_, at) => row + at);
    if (row + length > sheet.rows.length || rows.some((at) => used.has(`${sheet.file} ${at}`))) return undefined;
    for (const at of [row - 1, ...rows, row + length]) used.add(`${sheet.file} ${at}`);
    const values = rows.map((at) => sheet.rows[at][column]).sort((a, b) => Number(a) - Number(b));
    for (const [at, other] of rows.entries()) sheet.rows[other][column] = values[at];
    return { kind: 'run_of_fill', cells: rows.map((at) => keyOf(sheet, at, column)) };
  });
};

/** Every way to plant, with how many go into one college. */
export const PLANTERS: readonly { readonly name: string; readonly plant: Planter; readonly perCollege: number }[] = [
  { name: 'unit slip, one reading', plant: unitSlip, perCollege: 200 },
  { name: 'unit slip, all attempts of an athlete', plant: rowUnitSlip, perCollege: 200 },
  { name: 'unit slip, whole columns', plant: columnUnitSlip, perCollege: 10 },
  { name: 'sides identical', plant: sidesIdentical, perCollege: 200 },
  { name: 'columns swapped, one row', plant: rowSwap, perCollege: 200 },
  { name: 'columns swapped, whole sheet', plant: columnSwap, perCollege: 2 },
  { name: 'sides swapped, one tester', plant: testerSides, perCollege: 4 },
  { name: 'sides swapped, one athlete', plant: athleteSides, perCollege: 200 },
  { name: 'one attempt apart', plant: trialApart, perCollege: 200 },
  { name: 'row copied to the next athlete', plant: rowCopied, perCollege: 200 },
  { name: 'row pasted again', plant: rowPasted, perCollege: 200 },
  { name: 'digit dropped, doubled, turned', plant: digitSlip, perCollege: 200 },
  { name: 'cells pulled down', plant: fill, perCollege: 200 },
  { name: 'column sorted', plant: sorted, perCollege: 100 },
];
