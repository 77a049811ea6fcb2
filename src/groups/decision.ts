import type { Protocol } from '../protocol/types.ts';
import { round9 } from '../stats/round9.ts';
import type { DECISIONS } from '../tables/schemas.ts';

export type Decision = (typeof DECISIONS)[number];

interface Judged {
  readonly tested: number;
  readonly flagged: number;
}

/** Whether a rule flags more than half of everybody whom it judged: likelier the test is off than the athletes. */
export function flagsMost({ tested, flagged }: Judged): boolean {
  return 2 * flagged > tested;
}

/**
 * Whether a group is given the work of a rule together: enough of it were tested, a large enough share is flagged, and
 * the rule may be shared.
 * @param rule a rule of the protocol, or a built-in status, which is never shared
 */
export function decisionOf({ tested, flagged }: Judged, rule: string, { sharing, rules }: Protocol): Decision {
  if (tested < sharing.minTested || tested === 0) return 'too_few';
  const mayShare = rules.some(({ name, share }) => name === rule && share);
  return mayShare && round9(flagged / tested) >= round9(sharing.fromShare) ? 'shared' : 'individual';
}
