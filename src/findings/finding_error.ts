import { type FieldError, fieldError, foldedNormalShare, semAt } from '../results/errors.ts';
import { Z95 } from '../stats/normal.ts';
import type { Results } from '../tables/schemas.ts';
import type { LimitCheck } from './check.ts';
import { lowBreaks } from './comparators.ts';
import type { Hit } from './hits.ts';

export interface FindingError {
  /** 95 % error of the number, in its unit: z95·sem, as a limit has no error */
  readonly error: number;
  readonly basis: FieldError['basis'];
}

/** The measurement error of the number that breaks a limit; undefined where none is declared for what it is made of. */
export function findingError(hit: Hit, check: LimitCheck, results: Results): FindingError | undefined {
  const { row, value } = hit;
  const { columns } = results;
  const found = fieldError(check.measure, check.field, {
    left: columns.left.values[row],
    right: columns.right.values[row],
    value,
    semLeft: columns.sem_left.values[row],
    semRight: columns.sem_right.values[row],
    semValue: semOfReading(hit, check, results),
  });
  return found && { error: Z95 * found.sem, basis: found.basis };
}

/** Standard error of the one reading that is judged. A single trial has its own where the error is a percentage. */
function semOfReading({ row, side, value }: Hit, { measure, of }: LimitCheck, { columns }: Results): number {
  if (of === 'any_trial' && measure.error !== undefined) return semAt(measure.error, value);
  if (measure.sides === 'none') return columns.sem_value.values[row];
  return (side === 'right' ? columns.sem_right : columns.sem_left).values[row];
}

/**
 * Share, 0 to 1, of athletes with two equal sides who would read an unsigned comparison beyond the limit by measurement
 * error alone, by the folded normal. Their sides are taken to be as this athlete's larger one.
 *
 * A deficit beyond d % is a log ratio of the sides beyond −ln(1 − d/100), and it is the log ratio whose error is normal
 * and, at equal sides, that of the deficit. At 5 % a side this gives 13.6 % beyond 10 %, where simulation gives 13.8 %.
 * @returns undefined for other fields, for limits from above, and without an error
 */
export function symmetricShare(hit: Hit, check: LimitCheck, results: Results): number | undefined {
  const { field, limit } = check;
  if ((field !== 'deficit_pct' && field !== 'gap') || lowBreaks(check.comparator)) return undefined;
  const { columns } = results;
  const left = columns.left.values[hit.row];
  const right = columns.right.values[hit.row];
  const most = Math.max(left, right);
  const sem = (most === left ? columns.sem_left : columns.sem_right).values[hit.row];
  const twin = { left: most, right: most, value: limit, semLeft: sem, semRight: sem, semValue: Number.NaN };
  const found = fieldError(check.measure, field, twin);
  if (found === undefined) return undefined;
  return foldedNormalShare(field === 'gap' ? limit : -100 * Math.log1p(-limit / 100), found.sem);
}
