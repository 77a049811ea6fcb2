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
  if (measure.compare === 'none') return;
  into.gap = Math.abs(difference);
  into.difference = difference;
  const hasDominant = dominant === 'left' || dominant === 'right';
  if (hasDominant) into.dominanceGap = dominant === 'right' ? difference : left - right;
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
  if (both >= 0) into.bilateralIndexPct = bilateralIndexPct(both, left, right);
}

/** Codes of the row's first columns, in the dictionaries of the results. */
export interface RowHead {
  athlete: number;
  team: number;
  season: number;
  day: number;
}

/** Codes of `weaker` in the dictionary that results begin with. */
export const WEAKER = ['left', 'right'] as const;

/**
 * Writes one row into a table that has been extended: what is unknown stays as it is.
 * @param row index of a row in which nothing is known yet
 */
export function writeResult(
  results: Results,
  row: number,
  head: RowHead,
  measure: Measure,
  numbers: Numbers,
  comparison: Comparison,
): void {
  const { columns } = results;
  columns.athlete_id.codes[row] = head.athlete;
  columns.team.codes[row] = head.team;
  columns.season.values[row] = head.season;
  columns.date.days[row] = head.day;
  columns.measure.codes[row] = measure.index;
  columns.both.values[row] = numbers.both;
  columns.marks.values[row] = 0;
  setNumbers(results, row, numbers, comparison);
}

/** What the attempts of a measured result say. */
export function writeAttempts(results: Results, row: number, isSided: boolean, attempts: Attempts): void {
  const { columns } = results;
  columns.marks.values[row] = attempts.marks;
  if (!isSided) {
    columns.least_value.values[row] = attempts.leastValue;
    columns.most_value.values[row] = attempts.mostValue;
    return;
  }
  columns.trials_left.values[row] = attempts.trialsLeft;
  columns.trials_right.values[row] = attempts.trialsRight;
  columns.spread_left_pct.values[row] = attempts.spreadLeftPct;
  columns.spread_right_pct.values[row] = attempts.spreadRightPct;
  columns.least_left.values[row] = attempts.leastLeft;
  columns.most_left.values[row] = attempts.mostLeft;
  columns.least_right.values[row] = attempts.leastRight;
  columns.most_right.values[row] = attempts.mostRight;
}

/** Writes the numbers of a row; also those of a row that had to wait for its group. */
export function setNumbers(results: Results, row: number, numbers: Numbers, comparison: Comparison): void {
  const { columns } = results;
  columns.left.values[row] = numbers.left;
  columns.right.values[row] = numbers.right;
  columns.value.values[row] = numbers.value;
  columns.sem_left.values[row] = numbers.semLeft;
  columns.sem_right.values[row] = numbers.semRight;
  columns.sem_value.values[row] = numbers.semValue;
  columns.weaker.codes[row] = comparison.weaker === null ? -1 : WEAKER.indexOf(comparison.weaker);
  columns.deficit_pct.values[row] = comparison.deficitPct;
  columns.gap.values[row] = comparison.gap;
  columns.difference.values[row] = comparison.difference;
  columns.direction_pct.values[row] = comparison.directionPct;
  columns.dominance_pct.values[row] = comparison.dominancePct;
  columns.dominance_gap.values[row] = comparison.dominanceGap;
  columns.symmetry_angle.values[row] = comparison.symmetryAngle;
  columns.bilateral_index_pct.values[row] = comparison.bilateralIndexPct;
  const bits = numbers.statuses | comparison.statuses;
  columns.status.codes[row] = bits === 0 ? -1 : columns.status.dictionary.code(statusText(bits));
}
