import { DECIMAL_POINT, slipFactors, unitSlips } from '../../sheets/unit_slip.ts';
import type { BlockView } from './block_view.ts';
import { BOTH } from './blocks.ts';
import { type DigitSlip, digitSlips } from './digits.ts';
import type { Model } from './model.ts';
import { type Change, isPainful, type Slip } from './slip.ts';
import { shownValue } from './words.ts';

/** Nearer than so many spreads to what was expected, nothing needs explaining. */
const FAR = 3;
/** How much better a slip must make the readings fit: seldom kinds, and those with many ways, cost more. */
export const PRICE = {
  unit: 5,
  doubled: 4.5,
  turned: 6,
  dropped: 7,
  several: 6,
  columns: 3.5,
  alikeColumns: 7,
  sides: 6.5,
  rowSides: 9,
};

const CLOSE = 1e-6;
const ANY: readonly [number, number] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];

const HOW_WORDS: Record<DigitSlip['how'], string> = {
  dropped: 'a digit was left out',
  doubled: 'a digit was typed twice',
  turned: 'two digits were exchanged',
};

/** Least and most that a reading may be. */
export function limitsOf(model: Model, row: number): readonly [number, number] {
  const { plausible, plausibleBoth } = model.readings.measureOf(row);
  return (model.readings.side[row] === BOTH ? plausibleBoth : undefined) ?? plausible ?? ANY;
}

const isWithin = (value: number, [low, high]: readonly [number, number]): boolean => value >= low && value <= high;

/** Slips of single readings that lie far from what was expected. */
export function readingSlips(model: Model, view: BlockView, isOpen: (row: number) => boolean): Slip[] {
  const slips: Slip[] = [];
  for (let at = 0; at < view.rows.length; at++) {
    const row = view.rows[at];
    if (Number.isNaN(view.xs[at]) || !isOpen(row) || Math.abs(view.z(at)) < FAR) continue;
    slips.push(...unitSlipsOf(model, view, at));
    if (!isPainful(model, row)) slips.push(...digitSlipsOf(model, view, at));
  }
  return slips;
}

function unitSlipsOf(model: Model, view: BlockView, at: number): Slip[] {
  const row = view.rows[at];
  const { unit } = model.readings.measureOf(row);
  return unitSlips(model.values[row], unit, limitsOf(model, row))
    .filter(({ value, between }) => between !== DECIMAL_POINT || hasPoint(model, row, value))
    .map(({ value, between }) => ({
      kind: 'unit_slip',
      changes: [{ view, at, value }],
      price: PRICE.unit,
      words: () => `${shownValue(value, unit.code)} (${between})`,
    }));
}

/**
 * Whether moving the decimal point gives a number as the sheet has them: on its step. In whole numbers there is no point
 * that could have been moved to the left: a digit is missing there.
 */
function hasPoint(model: Model, row: number, value: number): boolean {
  const step = model.steps.inSheet(row);
  const isOnStep = (number: number): boolean => Math.abs(number / step - Math.round(number / step)) < CLOSE;
  const isWhole = model.written.inUnits(row, step) >= 1;
  return isOnStep(value) && !(isWhole && value > model.values[row] && isOnStep(model.values[row]));
}

/** Of each way in which digits go wrong the one that comes closest to what was expected. */
function digitSlipsOf(model: Model, view: BlockView, at: number): Slip[] {
  const row = view.rows[at];
  const expected = view.expected(at);
  // Put right before, it is no longer the number that was typed.
  if (expected === undefined || model.values[row] !== model.readings.value[row]) return [];
  const limits = limitsOf(model, row);
  const kind = model.kindOfRow(row);
  const best = new Map<DigitSlip['how'], { distance: number; slip: Slip }>();
  for (const { how, number } of digitSlips(model.written.number(row))) {
    const value = model.written.value(row, number);
    const distance = Math.abs(model.toScale(kind, value) - expected.centre);
    if (!isWithin(value, limits) || !(distance < (best.get(how)?.distance ?? Number.POSITIVE_INFINITY))) continue;
    const words = (): string => `${shownValue(number, model.written.unit(row).code)} (${HOW_WORDS[how]})`;
    best.set(how, {
      distance,
      slip: { kind: 'digit_slip', changes: [{ view, at, value }], price: PRICE[how], words },
    });
  }
  return [...best.values()].map(({ slip }) => slip);
}

/** All attempts of a side, or of a day, in another unit. */
export function unitSlipsOfSets(model: Model, view: BlockView, isOpen: (row: number) => boolean): Slip[] {
  const groups = new Map<string, number[]>();
  for (const { from, to, side, day } of view.sets) {
    for (const key of [`${day}`, `${day} ${side}`]) {
      const group = groups.get(key) ?? [];
      groups.set(key, group);
      for (let at = from; at < to; at++) if (!Number.isNaN(view.xs[at])) group.push(at);
    }
  }
  const slips: Slip[] = [];
  for (const group of groups.values()) {
    if (group.length < 2 || group.some((at) => !isOpen(view.rows[at]))) continue;
    const { unit } = model.readings.measureOf(view.rows[0]);
    for (const { factor, between } of slipFactors(unit)) {
      for (const times of [factor, 1 / factor]) {
        const changes = group.map((at) => ({ view, at, value: model.values[view.rows[at]] * times }));
        if (!changes.every(({ at, value }) => isWithin(value, limitsOf(model, view.rows[at])))) continue;
        // Each of them has a number of its own.
        const words = (change: Change): string => `${shownValue(change.value, unit.code)} (${between})`;
        slips.push({ kind: 'unit_slip', changes, price: PRICE.several, words });
      }
    }
  }
  return slips;
}
