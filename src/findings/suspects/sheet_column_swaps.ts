import { median } from '../../stats/simple.ts';
import { addTo } from './lists.ts';
import type { Model } from './model.ts';
import { limitsOf } from './reading_slips.ts';

/** Two measures of a whole sheet that stand under each other's headings. */
export interface SheetSwap {
  /** readings of the first measure, then of the second: as many, in pairs */
  readonly one: readonly number[];
  readonly other: readonly number[];
  /** how far the readings of the first lie from what was expected, in spreads */
  readonly score: number;
}

const FEWEST = 5;
/** Half of the readings lie farther out than so many spreads, and nearer than so many once exchanged; few readings say less. */
const farOf = (readings: number): number => 1 + 2 / Math.sqrt(readings);
const nearOf = (readings: number): number => 0.4 + 1.5 / Math.sqrt(readings);
const MOST_SWAPS = 32;
/** So many readings tell how far a column lies. */
const MOST_LOOKED_AT = 200;
/** Logarithms from the middle of narrow plausible limits, before and after. */
const FAR_FROM_MIDDLE = 0.35;
const NEAR_MIDDLE = 0.25;
const TIGHT = 10;

/**
 * Measures of a sheet that only fit other sheets, the group or the middle of what is plausible once they are exchanged
 * with another measure of the same sheet.
 */
export function sheetColumnSwaps(model: Model, isOpen: (row: number) => boolean): SheetSwap[] {
  const found: SheetSwap[] = [];
  const taken = new Set<string>();
  for (const [file, columns] of farColumns(model)) {
    for (const [at, one] of columns.entries()) {
      for (const other of columns.slice(at + 1)) {
        if (
          found.length >= MOST_SWAPS ||
          taken.has(`${file} ${one.measure}`) ||
          taken.has(`${file} ${other.measure}`)
        ) {
          continue;
        }
        const swap = swapOf(model, one.rows.filter(isOpen), other.rows.filter(isOpen));
        if (swap === undefined) continue;
        taken.add(`${file} ${one.measure}`).add(`${file} ${other.measure}`);
        found.push(swap);
        exchange(model, swap);
      }
    }
  }
  return found;
}

interface FarColumn {
  readonly measure: number;
  readonly rows: readonly number[];
}

/** By sheet the measures of which half of the readings lie far out, in protocol order. */
function farColumns(model: Model): Map<number, FarColumn[]> {
  const { readings, blocks } = model;
  const zs = new Map<number, { zs: number[]; rows: number[] }>();
  for (let block = 0; block < blocks.count; block++) {
    const view = model.view(block);
    for (const { from, to } of view.sets) {
      const key = readings.file[view.rows[from]] * 4096 + readings.measure[view.rows[from]];
      const column = zs.get(key) ?? { zs: [], rows: [] };
      zs.set(key, column);
      for (let at = from; at < to; at++) column.rows.push(view.rows[at]);
      if (Number.isNaN(view.xs[from])) continue;
      const z = view.awayZ(from);
      if (z !== undefined) column.zs.push(z);
    }
  }
  const far = new Map<number, FarColumn[]>();
  for (const [key, column] of zs) {
    const measure = key % 4096;
    const isFar = column.zs.length >= FEWEST && Math.abs(median(column.zs)!) > farOf(column.zs.length);
    const away = distanceFromMiddle(model, column.rows, (row) => model.values[row]);
    if (!isFar && !(away !== undefined && Math.abs(away) > FAR_FROM_MIDDLE)) continue;
    const file = (key - measure) / 4096;
    addTo(far, file, { measure, rows: column.rows });
  }
  for (const columns of far.values()) columns.sort((a, b) => a.measure - b.measure);
  return far;
}

/** Of the median on the logarithm, where plausible limits are narrow enough to say where the middle is. */
function distanceFromMiddle(
  model: Model,
  rows: readonly number[],
  valueAt: (row: number) => number,
): number | undefined {
  const { plausible } = model.readings.measureOf(rows[0]);
  if (plausible === undefined || !(plausible[0] > 0) || plausible[1] / plausible[0] > TIGHT) return undefined;
  const values = rows.map(valueAt).filter((value) => value > 0);
  if (values.length < FEWEST) return undefined;
  return Math.log(median(values)!) - (Math.log(plausible[0]) + Math.log(plausible[1])) / 2;
}

function swapOf(model: Model, ones: readonly number[], others: readonly number[]): SheetSwap | undefined {
  const { athlete, day, side, trial } = model.readings;
  const keyOf = (row: number): string => `${athlete[row]} ${day[row]} ${side[row]} ${trial[row]}`;
  const byKey = new Map(others.map((row) => [keyOf(row), row]));
  const one = ones.filter((row) => byKey.has(keyOf(row)));
  if (one.length < FEWEST || one.length < ones.length / 2) return undefined;
  const other = one.map((row) => byKey.get(keyOf(row))!);
  const before = [awayOf(model, one, one), awayOf(model, other, other)];
  const after = [awayOf(model, one, other), awayOf(model, other, one)];
  const fits = before.every((z, at) => Math.abs(z) > farOf(one.length) && Math.abs(after[at]) < nearOf(one.length));
  const score = fits ? before[0] : Number.NaN;
  return fits || isBackInMiddle(model, one, other) ? { one, other, score } : undefined;
}

/** How far half of the readings lie out if each had the number that stands in the place of another. */
function awayOf(model: Model, rows: readonly number[], from: readonly number[]): number {
  const zs: number[] = [];
  const stride = Math.ceil(rows.length / MOST_LOOKED_AT);
  for (let index = 0; index < rows.length; index += stride) {
    const row = rows[index];
    const view = model.view(model.blocks.blockOf[row]);
    const at = view.rows.indexOf(row);
    const [low, high] = limitsOf(model, row);
    const value = model.written.value(row, model.written.number(from[index]));
    view.xs[at] = value >= low && value <= high ? model.toScale(model.kindOfRow(row), value) : Number.NaN;
    const z = Number.isNaN(view.xs[at]) ? Number.POSITIVE_INFINITY : view.awayZ(at);
    if (z !== undefined) zs.push(z);
  }
  return median(zs) ?? 0;
}

function isBackInMiddle(model: Model, one: readonly number[], other: readonly number[]): boolean {
  return [
    [one, other],
    [other, one],
  ].every(([rows, from]) => {
    const before = distanceFromMiddle(model, rows, (row) => model.values[row]);
    const place = new Map(rows.map((row, index) => [row, from[index]]));
    const after = distanceFromMiddle(model, rows, (row) =>
      model.written.value(row, model.written.number(place.get(row)!)),
    );
    return (
      before !== undefined && after !== undefined && Math.abs(before) > FAR_FROM_MIDDLE && Math.abs(after) < NEAR_MIDDLE
    );
  });
}

function exchange(model: Model, { one, other }: SheetSwap): void {
  for (const [index, row] of one.entries()) {
    const value = model.written.value(row, model.written.number(other[index]));
    model.values[other[index]] = model.written.value(other[index], model.written.number(row));
    model.values[row] = value;
  }
}
