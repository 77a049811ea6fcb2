import type { Comparator, Field, Measure, Rule } from '../protocol/types.ts';
import type { Grade } from '../tables/schemas.ts';
import type { Side } from '../units/sides.ts';

/** One number or mark of a result row that a check looks at; rows are indices into the results. */
export interface Probe {
  readonly isBroken: (row: number) => boolean;
  readonly sideOf: (row: number) => Side;
  /** the number judged; NaN for marks and where it is unknown */
  readonly valueOf: (row: number) => number;
}

interface AnyCheck {
  /** name of the rule, or of the built-in status finding */
  readonly name: string;
  /** rules in protocol order, then the built-in ones */
  readonly order: number;
  /** undefined: built in, and applies to everybody */
  readonly rule: Rule | undefined;
  readonly measure: Measure;
  readonly field: Field;
  readonly grade: Grade;
  /** one a side, or one for the whole row */
  readonly probes: readonly Probe[];
  /** whether every side and part was there that the check needs */
  readonly isTested: (row: number) => boolean;
}

export interface LimitCheck extends AnyCheck {
  readonly kind: 'limit';
  readonly field: LimitField;
  readonly comparator: Comparator;
  readonly limit: number;
  readonly of: Rule['of'];
}

/** The status findings that no protocol has to ask for, in the order in which they are reported. */
export const BUILT_IN_STATUSES = ['pain', 'unable', 'one_side'] as const;
export type JudgedStatus = (typeof BUILT_IN_STATUSES)[number];

export interface StatusCheck extends AnyCheck {
  readonly kind: 'status';
  readonly status: JudgedStatus;
}

export type Check = LimitCheck | StatusCheck;
export type LimitField = Exclude<Field, 'z' | 'change' | 'status'>;
