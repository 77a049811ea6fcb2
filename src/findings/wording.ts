import { round9 } from '../stats/round9.ts';
import type { Side } from '../units/sides.ts';
import { withUnit } from '../units/unit_text.ts';
import type { Certainty } from './certainty.ts';
import type { LimitCheck, LimitField, StatusCheck } from './check.ts';
import { lowBreaks } from './comparators.ts';
import { formatBeside } from './format_beside.ts';

const SIDE_WORDS: Record<Side, string> = { left: ', left', right: ', right', both: ', both limbs at once', none: '' };

const FIELD_WORDS: Record<LimitField, string> = {
  value: '',
  worse: 'worse side',
  deficit_pct: 'side-to-side deficit',
  gap: 'side-to-side gap',
  difference: 'right minus left',
  direction_pct: 'right minus left',
  dominance_pct: 'dominant minus other side',
  dominance_gap: 'dominant minus other side',
};

const LIMIT_WORDS: Record<LimitCheck['comparator'], (limit: string) => string> = {
  below: (limit) => `below the limit of ${limit}`,
  at_most: (limit) => `limit ${limit} or less`,
  above: (limit) => `above the limit of ${limit}`,
  at_least: (limit) => `limit ${limit} or more`,
};

/** Printed beside a rule that flags more than half of everybody. */
export const CHECK_THE_TEST_FIRST = 'check device, unit and tester first';

/** What is known of a number beyond a limit. */
export interface LimitFacts {
  readonly check: LimitCheck;
  readonly side: Side;
  readonly value: number;
  /** UCUM code of the unit of value, limit and error */
  readonly unit: string;
  readonly margin: number;
  /** 95 % measurement error; undefined: unknown */
  readonly error: number | undefined;
  readonly certainty: Certainty;
  /** share of symmetric athletes who would read beyond the limit, 0 to 1, where that can be said */
  readonly symmetricShare: number | undefined;
  /** status of the result; '' if there is nothing to say */
  readonly status: string;
}

function judgedWords(check: LimitCheck): string {
  if (check.of === 'kept') return FIELD_WORDS[check.field];
  return lowBreaks(check.comparator) ? 'lowest reading' : 'highest reading';
}

/** How far the number can be trusted; '' where a referral stands whatever the error is, and it is not known. */
function errorWords({ error, unit, margin, certainty, check }: LimitFacts): string {
  const isReferral = check.grade === 'refer';
  if (error === undefined) {
    return isReferral ? '' : '; measurement error unknown, so how far this can be trusted cannot be said';
  }
  const amount = formatBeside(error, margin);
  const size = `; measurement error ±${unit === '%' ? `${amount} points` : withUnit(amount, unit)}`;
  if (certainty === 'clear') return `${size}, so clearly beyond the limit`;
  const stands = isReferral ? '; the referral stands all the same' : '';
  return round9(margin) >= round9(error)
    ? `${size}, and farther beyond the limit than that, but one side had more trials: repeat the test${stands}`
    : `${size}, so not distinguishable from the limit${stands}`;
}

function symmetricWords(share: number | undefined): string {
  if (share === undefined) return '';
  const percent = Math.round(100 * share);
  const amount = percent < 1 ? 'fewer than 1 %' : `about ${percent} %`;
  return `; with this error ${amount} of symmetric athletes would read beyond the limit`;
}

/** What the attempts behind the number say against it. */
function careWords(status: string): string {
  const apart = status.includes('wide_spread') ? '; the attempts lie far apart: repeat the test first' : '';
  return /(^|;)pain/.test(status) ? `${apart}; read in pain` : apart;
}

/** A number beyond a limit, in one sentence: how much, how sure, and what chance alone would do. */
export function limitMessage(facts: LimitFacts): string {
  const { check, side, value, unit, symmetricShare } = facts;
  const read = `${judgedWords(check)} ${withUnit(formatBeside(value, check.limit), unit)}`.trim();
  const limit = LIMIT_WORDS[check.comparator](withUnit(String(check.limit), unit));
  const place = `${check.measure.label}${SIDE_WORDS[side]}`;
  return `${place}: ${read}, ${limit}${errorWords(facts)}${symmetricWords(symmetricShare)}${careWords(facts.status)}.`;
}

const STATUS_WORDS: Record<StatusCheck['status'], string> = {
  pain: 'pain during the test',
  unable: 'the test could not be done',
  one_side: 'no number for this side and one for the other, so they cannot be compared',
};

/** A mark, in one sentence. */
export function statusMessage(check: StatusCheck, side: Side): string {
  return `${check.measure.label}${SIDE_WORDS[side]}: ${STATUS_WORDS[check.status]}.`;
}
