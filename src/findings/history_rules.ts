import type { PastInjuries, PastInjury } from '../outcomes/past.ts';
import type { Rule } from '../protocol/types.ts';
import type { Side } from '../units/sides.ts';

/** What an earlier injury of the region says of a finding, the most telling first; null: there was none. */
export const PREVIOUS_INJURIES = ['same_side', 'side_unknown', 'other_side'] as const;
export type PreviousInjury = (typeof PREVIOUS_INJURIES)[number];

/**
 * Whether a rule that is narrowed by history applies to an athlete at all, whichever side was hurt. A rule that is not
 * narrowed so applies to everybody.
 * @param day days since 1970-01-01 of the test
 */
export function historyApplies(rule: Rule, past: PastInjuries, athleteId: string, day: number): boolean {
  return rule.history === undefined || injuriesFor(rule.history, past, athleteId, day).length > 0;
}

/**
 * Whether a rule that is narrowed by history judges a side of an athlete. With `side: same` the side must have been hurt;
 * an injury whose side nobody wrote down counts for both, and a number that stands for no single side takes any.
 */
export function historyAppliesTo(rule: Rule, past: PastInjuries, athleteId: string, day: number, side: Side): boolean {
  if (rule.history === undefined) return true;
  const injuries = injuriesFor(rule.history, past, athleteId, day);
  if (rule.history.side === 'any' || !isSided(side)) return injuries.length > 0;
  return injuries.some((injury) => injury.side === null || isOn(injury, side));
}

/** An injury without a day may be as recent as any. */
function injuriesFor(
  { region, withinDays }: NonNullable<Rule['history']>,
  past: PastInjuries,
  athleteId: string,
  day: number,
): readonly PastInjury[] {
  const injuries = past.of(athleteId, region, day);
  return withinDays === undefined
    ? injuries
    : injuries.filter((injury) => injury.day === null || day - injury.day <= withinDays);
}

/**
 * What earlier injuries of a region say of a finding on a side: the most telling of them.
 * @param region of the rule; undefined: nobody can say
 */
export function previousInjury(
  region: string | undefined,
  past: PastInjuries,
  athleteId: string,
  day: number,
  side: Side,
): PreviousInjury | null {
  if (region === undefined) return null;
  const found = past.of(athleteId, region, day).map((injury) => relation(injury, side));
  return PREVIOUS_INJURIES.find((word) => found.includes(word)) ?? null;
}

function relation(injury: PastInjury, side: Side): PreviousInjury {
  if (injury.side === null || !isSided(side)) return 'side_unknown';
  return isOn(injury, side) ? 'same_side' : 'other_side';
}

const isSided = (side: Side): side is 'left' | 'right' => side === 'left' || side === 'right';
const isOn = (injury: PastInjury, side: Side): boolean => injury.side === 'both' || injury.side === side;
