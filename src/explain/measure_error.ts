import type { Derivation, Measure, MeasurementError, Rule } from '../protocol/types.ts';
import { fieldError, foldedNormalShare, semAt } from '../results/errors.ts';
import { Z95 } from '../stats/normal.ts';

/**
 * A standard error of measurement as far as it can be said without a reading: the same at every reading (in the
 * measure's unit), or in percent of the reading.
 */
export type GeneralError = { readonly amount: number } | { readonly pct: number };

const ofError = (error: MeasurementError): GeneralError =>
  error.sem_pct === undefined && error.mdc_pct === undefined ? { amount: semAt(error, 1) } : { pct: semAt(error, 100) };

/** √Σs² of errors of one kind; undefined if one is unknown or of the other kind. */
function together(parts: readonly Measure[], key: 'amount' | 'pct'): number | undefined {
  let square = 0;
  for (const part of parts) {
    const error = generalError(part) as { amount?: number; pct?: number } | undefined;
    const size = error?.[key];
    if (size === undefined) return undefined;
    square += size * size;
  }
  return Math.sqrt(square);
}

function derivedError(measure: Measure, derivation: Derivation): GeneralError | undefined {
  switch (derivation.operator) {
    case 'ratio':
    case 'per':
    case 'percent_of': {
      const pct = together(derivation.parts, 'pct');
      return pct === undefined ? undefined : { pct };
    }
    case 'sum':
    case 'difference':
    case 'mean': {
      const hasOneUnit = derivation.parts.every((part) => part.unit.code === measure.unit.code);
      const amount = hasOneUnit ? together(derivation.parts, 'amount') : undefined;
      if (amount === undefined || ('asPercentOf' in derivation && derivation.asPercentOf)) return undefined;
      return { amount: derivation.operator === 'mean' ? amount / derivation.parts.length : amount };
    }
    default:
      return undefined;
  }
}

/** Error of a measure: as declared, else from its parts (statistics, section 1), where no reading is needed to say it. */
export function generalError(measure: Measure): GeneralError | undefined {
  if (measure.error) return ofError(measure.error);
  return measure.derivation && derivedError(measure, measure.derivation);
}

/** Whether its error can be said beside a result: declared, or known for all that it is worked out from. */
export function hasError({ error, derivation }: Measure): boolean {
  if (error) return true;
  if (derivation === undefined || derivation.operator === 'total') return false;
  const divisor = 'asPercentOf' in derivation ? derivation.asPercentOf : undefined;
  return [...derivation.parts, ...(divisor ? [divisor] : [])].every(hasError);
}

/** What can be said of the error of a number that lies on a rule's limit. */
export interface LimitError {
  /** 95 % measurement error, in the unit of the limit */
  readonly error: number;
  /** share, 0 to 1, of athletes with equal sides who would read beyond the limit; only where that has a meaning */
  readonly symmetricShare?: number;
}

/** Readings that lie on the limit of a rule; NaN where only a reading could tell. */
function readingsAt({ measure, field, limit = Number.NaN }: Rule) {
  const error = generalError(measure);
  const isPct = error !== undefined && 'pct' in error;
  const unknown = { left: Number.NaN, right: Number.NaN, semLeft: Number.NaN, semRight: Number.NaN };
  const none = { ...unknown, value: limit, semValue: Number.NaN };
  if (error === undefined) return none;
  if (field === 'value' || field === 'worse') {
    return { ...none, semValue: isPct ? (Math.abs(limit) * error.pct) / 100 : error.amount };
  }
  if (field === 'gap' || field === 'difference' || field === 'dominance_gap') {
    return isPct ? none : { ...none, semLeft: error.amount, semRight: error.amount };
  }
  if (!isPct) return none;
  const least = 100 - Math.abs(limit);
  return { ...none, left: 100, right: least, semLeft: error.pct, semRight: (least * error.pct) / 100 };
}

/** The error of a number on the limit of a rule; undefined where no error is known or only a reading could tell it. */
export function errorAtLimit(rule: Rule): LimitError | undefined {
  const { measure, field, limit, comparator } = rule;
  if (limit === undefined || comparator === undefined) return undefined;
  const at = fieldError(measure, field, readingsAt(rule));
  if (at === undefined) return undefined;
  const error = Z95 * at.sem;
  const isUnsigned = (field === 'deficit_pct' || field === 'gap') && limit > 0 && limit < 100;
  if (!isUnsigned || comparator === 'below' || comparator === 'at_most') return { error };
  const equal = fieldError(measure, field, readingsAt({ ...rule, limit: 0 }));
  if (equal === undefined || measure.errors[field]) return { error };
  const reach = field === 'gap' ? limit : -100 * Math.log1p(-limit / 100);
  return { error, symmetricShare: foldedNormalShare(reach, equal.sem) };
}
