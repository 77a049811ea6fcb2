import type { Field, Measure, MeasurementError } from '../protocol/types.ts';
import { normalCdf, Z90, Z95 } from '../stats/normal.ts';

/** A standard error of measurement and whether the protocol declared it or it was worked out. */
export interface FieldError {
  /** SD of the number over repeat occasions, in its own unit */
  readonly sem: number;
  readonly basis: 'declared' | 'derived';
}

/** The numbers of one result, NaN where unknown. */
export interface ResultNumbers {
  readonly left: number;
  readonly right: number;
  /** the number that is judged: the value, or the side's own */
  readonly value: number;
  readonly semLeft: number;
  readonly semRight: number;
  readonly semValue: number;
}

/**
 * Standard error of measurement at a reading: sem = mdc/(z·√2), and with a percentage |x|·pct/100 at the reading itself.
 * J Strength Cond Res 2005;19:231-240.
 * @returns NaN if the reading is unknown
 */
export function semAt(error: MeasurementError, reading: number): number {
  const z = error.level === 90 ? Z90 : Z95;
  if (error.sem !== undefined) return Number.isNaN(reading) ? Number.NaN : error.sem;
  if (error.mdc !== undefined) return Number.isNaN(reading) ? Number.NaN : error.mdc / (z * Math.SQRT2);
  const pct = error.sem_pct ?? error.mdc_pct! / (z * Math.SQRT2);
  return (Math.abs(reading) * pct) / 100;
}

/** (100/M)·√(s(m)² + q²·s(M)²), M the larger side, m the smaller, q = m/M: first-order propagation, sides independent. */
function percentSem({ left, right, semLeft, semRight }: ResultNumbers): number {
  const leftIsMost = left >= right;
  const most = leftIsMost ? left : right;
  if (!(most > 0)) return Number.NaN;
  const ratio = (leftIsMost ? right : left) / most;
  const semMost = leftIsMost ? semLeft : semRight;
  const semLeast = leftIsMost ? semRight : semLeft;
  return (100 / most) * Math.hypot(semLeast, ratio * semMost);
}

function derivedSem(field: Field, numbers: ResultNumbers): number {
  switch (field) {
    case 'gap':
    case 'difference':
    case 'dominance_gap':
      return Math.hypot(numbers.semLeft, numbers.semRight);
    case 'deficit_pct':
    case 'direction_pct':
    case 'dominance_pct':
      return percentSem(numbers);
    default:
      return Number.NaN;
  }
}

/**
 * Error of one field of a result. What the protocol declares for the field wins over anything worked out.
 * @returns undefined where no error is declared for what the number is made of
 */
export function fieldError(measure: Measure, field: Field, numbers: ResultNumbers): FieldError | undefined {
  const declared = measure.errors[field];
  if (declared) {
    const sem = semAt(declared, numbers.value);
    return Number.isNaN(sem) ? undefined : { sem, basis: 'declared' };
  }
  const isValue = field === 'value' || field === 'worse';
  const sem = isValue ? numbers.semValue : derivedSem(field, numbers);
  if (Number.isNaN(sem)) return undefined;
  return { sem, basis: isValue && measure.error !== undefined ? 'declared' : 'derived' };
}

/**
 * Share of athletes with equal sides whose unsigned comparison reads beyond a limit by error alone: P(|N(0, sem²)| > limit),
 * the folded normal. Exact for a gap. A deficit of d % is divided by the larger reading and so not normal; its log ratio
 * nearly is, and at equal sides has the same error: hand in −100·ln(1 − d/100). That gives 13.6 and 35.2 % beyond 10 % at
 * side errors of 5 and 8 %, where simulation gives 13.8 and 35.
 * @param limit in the unit of sem
 * @returns 0 to 1
 */
export function foldedNormalShare(limit: number, sem: number): number {
  if (limit <= 0) return 1;
  return sem > 0 ? 2 * normalCdf(-limit / sem) : 0;
}
