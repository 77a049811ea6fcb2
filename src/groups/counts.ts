import { FOUND } from './found.ts';
import type { Standing } from './standings.ts';

/** How many athletes of a group stand how with one rule; over several seasons an athlete counts in each. */
export interface Counts {
  readonly eligible: number;
  readonly tested: number;
  readonly flagged: number;
  readonly flaggedPartial: number;
  readonly pain: number;
  readonly unable: number;
  /** flagged on that side and nowhere else */
  readonly left: number;
  readonly right: number;
}

/** @param order place of the rule in the verdicts */
export function countsOf(standings: readonly Standing[], order: number): Counts {
  const counts = { eligible: 0, tested: 0, flagged: 0, flaggedPartial: 0, pain: 0, unable: 0, left: 0, right: 0 };
  for (const { eligible, tested, found, partial, pain, unable } of standings) {
    if (eligible[order] === 0) continue;
    counts.eligible++;
    counts.tested += tested[order];
    counts.flaggedPartial += partial[order];
    counts.pain += pain[order];
    counts.unable += unable[order];
    if (found[order] !== 0) counts.flagged++;
    if (found[order] === FOUND.left) counts.left++;
    if (found[order] === FOUND.right) counts.right++;
  }
  return counts;
}
