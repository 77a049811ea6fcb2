import type { Measure } from '../protocol/types.ts';
import { round9 } from '../stats/round9.ts';
import type { Results } from '../tables/schemas.ts';
import { bilateralIndexPct, deficitPct, signedPct, symmetryAngle } from './fields.ts';
import { STATUS_BIT, statusText } from './statuses.ts';

const UNKNOWN = Number.NaN;

/** The numbers of one result before the sides are compared; NaN where there is none. */
export interface Numbers {
  left: number;
  right: number;
  both: number;
  value: number;
  semLeft: number;
  semRight: number;
  semValue: number;
  /** STATUS_BIT */
  statuses: number;
}

/** Attempts behind a measured result; a derived one has none. */
export interface Attempts {
  trialsLeft: number;
  trialsRight: number;
  spreadLeftPct: number;
  spreadRightPct: number;
  leastLeft: number;
  mostLeft: number;
  leastRight: number;
  mostRight: number;
  leastValue: number;
  mostValue: number;
  marks: number;
}

export const NO_ATTEMPTS: Attempts = {
  trialsLeft: UNKNOWN,
  trialsRight: UNKNOWN,
  spreadLeftPct: UNKNOWN,
  spreadRightPct: UNKNOWN,
  leastLeft: UNKNOWN,
  mostLeft: UNKNOWN,
  leastRight: UNKNOWN,
  mostRight: UNKNOWN,
  leastValue: UNKNOWN,
  mostValue: UNKNOWN,
  marks: 0,
};

/** Numbers that come from comparing the two sides. */
export interface Comparison {
  weaker: 'left' | 'right' | null;
  deficitPct: number;
  gap: number;
  difference: number;
  directionPct: number;
  dominancePct: number;
  dominanceGap: number;
  symmetryAngle: number;
  bilateralIndexPct: number;
  /** STATUS_BIT */
  statuses: number;
}

/** Compares the sides of one result; statistics, section 0. */
export function compareSides(
  measure: Measure,
  left: number,
  right: number,
  both: number,
  dominant: 'left' | 'right' | 'both' | null | undefined,
  into: Comparison,
): void {
  into.weaker = null;
  into.deficitPct = UNKNOWN;
  into.gap = UNKNOWN;
  into.difference = UNKNOWN;
  into.directionPct = UNKNOWN;
  into.dominancePct = UNKNOWN;
  into.dominanceGap = UNKNOWN;
  into.symmetryAngle = UNKNOWN;
  into.bilateralIndexPct = UNKNOWN;
  into.statuses = 0;
  if (measure.sides !== 'each') return;
  if (Number.isNaN(left)) into.statuses |= STATUS_BIT.missing_left;
  if (Number.isNaN(right)) into.statuses |= STATUS_BIT.missing_right;
  if (into.statuses !== 0) return;
  const difference = right - left;
  if (measure.better !== 'between' && round9(difference) !== 0) {
    into.weaker = difference > 0 === (measure.better === 'higher') ? 'left' : 'right';
  }
  if (both > 0 && left + right > 0) into.bilateralIndexPct = bilateralIndexPct(both, left, right);
  if (measure.compare === 'none') return;
  into.gap = Math.abs(difference);
  into.difference = difference;
  const hasDominant = dominant === 'left' || dominant === 'right';
  if (hasDominant) into.dominanceGap = dominant === 'right' ? difference : -difference;
  else if (measure.dominance !== undefined) into.statuses |= STATUS_BIT.no_dominant_side;
  if (measure.compare !== 'percent') return;
  if (Math.max(left, right) <= 0 || Math.min(left, right) < 0) {
    into.statuses |= STATUS_BIT.not_positive;
    return;
  }
  into.deficitPct = deficitPct(left, right);
  into.directionPct = signedPct(right, left);
  into.symmetryAngle = symmetryAngle(left, right);
  if (hasDominant) into.dominancePct = dominant === 'right' ? into.directionPct : signedPct(left, right);
}

/** Codes of the row's first columns, in the dictionaries of the results. */
export interface RowHead {
  athlete: number;
  team: number;
  season: number;
  day: number;
}

/** Appends one row; every column gets exactly one value. */
export function pushResult(
  results: Results,
  head: RowHead,
  measure: Measure,
  unitCode: number,
  numbers: Numbers,
  comparison: Comparison,
  attempts: Attempts,
): void {
  const { columns } = results;
  columns.athlete_id.pushCode(head.athlete);
  columns.team.pushCode(head.team);
  columns.season.push(head.season);
  columns.date.pushDay(head.day);
  columns.measure.pushCode(measure.index);
  columns.unit.pushCode(unitCode);
  columns.left.push(numbers.left);
  columns.right.push(numbers.right);
  columns.both.push(numbers.both);
  columns.value.push(numbers.value);
  columns.weaker.push(comparison.weaker);
  columns.deficit_pct.push(comparison.deficitPct);
  columns.gap.push(comparison.gap);
  columns.difference.push(comparison.difference);
  columns.direction_pct.push(comparison.directionPct);
  columns.dominance_pct.push(comparison.dominancePct);
  columns.dominance_gap.push(comparison.dominanceGap);
  columns.symmetry_angle.push(comparison.symmetryAngle);
  columns.bilateral_index_pct.push(comparison.bilateralIndexPct);
  columns.trials_left.push(attempts.trialsLeft);
  columns.trials_right.push(attempts.trialsRight);
  columns.spread_left_pct.push(attempts.spreadLeftPct);
  columns.spread_right_pct.push(attempts.spreadRightPct);
  columns.status.push(statusText(numbers.statuses | comparison.statuses));
  columns.least_left.push(attempts.leastLeft);
  columns.most_left.push(attempts.mostLeft);
  columns.least_right.push(attempts.leastRight);
  columns.most_right.push(attempts.mostRight);
  columns.least_value.push(attempts.leastValue);
  columns.most_value.push(attempts.mostValue);
  columns.sem_left.push(numbers.semLeft);
  columns.sem_right.push(numbers.semRight);
  columns.sem_value.push(numbers.semValue);
  columns.marks.push(attempts.marks);
}

/** Overwrites the numbers of a row that had to wait for its group. */
export function setNumbers(results: Results, row: number, numbers: Numbers, comparison: Comparison): void {
  const { columns } = results;
  columns.left.values[row] = numbers.left;
  columns.right.values[row] = numbers.right;
  columns.value.values[row] = numbers.value;
  columns.sem_left.values[row] = numbers.semLeft;
  columns.sem_right.values[row] = numbers.semRight;
  columns.sem_value.values[row] = numbers.semValue;
  columns.weaker.codes[row] = comparison.weaker === null ? -1 : columns.weaker.dictionary.code(comparison.weaker);
  columns.deficit_pct.values[row] = comparison.deficitPct;
  columns.gap.values[row] = comparison.gap;
  columns.difference.values[row] = comparison.difference;
  columns.direction_pct.values[row] = comparison.directionPct;
  columns.dominance_pct.values[row] = comparison.dominancePct;
  columns.dominance_gap.values[row] = comparison.dominanceGap;
  columns.symmetry_angle.values[row] = comparison.symmetryAngle;
  const status = statusText(numbers.statuses | comparison.statuses);
  columns.status.codes[row] = status === '' ? -1 : columns.status.dictionary.code(status);
}
