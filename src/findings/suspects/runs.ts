import { round9 } from '../../stats/round9.ts';
import { SIDES } from '../../units/sides.ts';
import { kindOf } from './blocks.ts';
import { type Frequencies, frequencies, sheetKey, tieChance } from './chance.ts';
import type { Model } from './model.ts';
import { coded, orderedBy, ranked } from './order.ts';

/** Readings of athletes one below the other that look filled in. */
export interface Run {
  readonly rows: readonly number[];
  readonly how: 'equal' | 'stepped' | 'sorted';
  /** from one to the next, in the measure's unit; 0: equal or sorted */
  readonly step: number;
}

const SHORTEST = 5;
const SHORTEST_SORTED = 10;
const FEWEST_DISTINCT = 8;
/** A run is told where fewer than so many like it are expected by chance in its column. */
const BY_CHANCE = 0.01;

/** The readings of each side and attempt of a measure in a sheet, from the top down. */
function* columnsOf(model: Model): Generator<Int32Array> {
  const { readings } = model;
  const { length, file, side, trial, line, column } = readings;
  const order = orderedBy(length, [
    coded(file, readings.files.dictionary.size),
    { of: (row) => kindOf(readings, row), size: readings.protocol.measures.length * 2 },
    { of: (row) => side[row], size: SIDES.length },
    ranked(trial, length),
    ranked(line, length),
    ranked(column, length),
  ]);
  for (let from = 0; from < length; ) {
    let to = from + 1;
    const first = order[from];
    const isSame = (row: number): boolean =>
      file[row] === file[first] &&
      kindOf(readings, row) === kindOf(readings, first) &&
      side[row] === side[first] &&
      trial[row] === trial[first];
    while (to < length && isSame(order[to])) to++;
    yield order.subarray(from, to);
    from = to;
  }
}

/** Runs of equal or evenly stepped numbers down a column, and columns that were sorted without their ids. */
export function runsOfFill(model: Model, isOpen: (row: number) => boolean): Run[] {
  const { readings } = model;
  const runs: Run[] = [];
  const often = frequencies(readings);
  for (const column of columnsOf(model)) {
    const sheet = often.get(sheetKey(readings, column[0]))!;
    const isRough = sheet.counts.size < FEWEST_DISTINCT || readings.measureOf(column[0]).levels !== undefined;
    if (isRough || column.length < SHORTEST) continue;
    const open = column.filter((row) => isOpen(row));
    const filled = steppedRuns(model, open, sheet);
    const inRun = new Set(filled.flatMap(({ rows }) => rows));
    runs.push(...filled, ...sortedRuns(model, open).filter(({ rows }) => !rows.some((row) => inRun.has(row))));
  }
  return runs;
}

function steppedRuns({ readings }: Model, column: Int32Array, sheet: Frequencies): Run[] {
  const { value, athlete } = readings;
  const runs: Run[] = [];
  const stepTo = (at: number): number => round9(value[column[at]] - value[column[at - 1]]);
  for (let from = 0; from + 1 < column.length; ) {
    const step = stepTo(from + 1);
    let to = from + 2;
    while (to < column.length && stepTo(to) === step && athlete[column[to]] !== athlete[column[to - 1]]) to++;
    const length = to - from;
    if (length >= SHORTEST) {
      // The first number of an equal run is free, and the first two of an even one.
      const chance = step === 0 ? tieChance(sheet, value[column[from]], length) : tieChance(sheet);
      const free = step === 0 ? 1 : 2;
      if (column.length * chance ** (length - free) < BY_CHANCE) {
        runs.push({ rows: [...column.subarray(from, to)], how: step === 0 ? 'equal' : 'stepped', step });
      }
    }
    // The last of a run may be the first of the next.
    from = Math.max(from + 1, to - 1);
  }
  return runs;
}

function sortedRuns(model: Model, column: Int32Array): Run[] {
  const runs: Run[] = [];
  const { value } = model.readings;
  for (const sign of [1, -1]) {
    for (let from = 0; from < column.length; ) {
      let to = from + 1;
      const distinct = new Set([value[column[from]]]);
      while (to < column.length && sign * (value[column[to]] - value[column[to - 1]]) >= 0) {
        distinct.add(value[column[to++]]);
      }
      if (to - from >= SHORTEST_SORTED && distinct.size >= FEWEST_DISTINCT) {
        const rows = [...column.subarray(from, to)];
        if (!isSortedWhole(model, rows)) runs.push({ rows, how: 'sorted', step: 0 });
      }
      from = to;
    }
  }
  return runs;
}

const FEWEST_LOOKS = 5;
/** Readings that belong to their athletes lie within 0.67 spreads of what is expected, half of them. */
const MISFIT = 1.2;

/** Whether whole rows were sorted, not one column: then the readings still fit the other readings of their athletes. */
function isSortedWhole(model: Model, rows: readonly number[]): boolean {
  const distances: number[] = [];
  for (const row of rows) {
    const view = model.view(model.blocks.blockOf[row]);
    const z = view.ownZ(view.rows.indexOf(row));
    if (z !== undefined) distances.push(Math.abs(z));
  }
  if (distances.length < FEWEST_LOOKS) return false;
  distances.sort((a, b) => a - b);
  return distances[distances.length >> 1] < MISFIT;
}
