import type { Desk, ReferralState } from '../athletes/desk.ts';
import { referralStates } from '../findings/referred.ts';
import type { Findings } from '../tables/schemas.ts';
import { isoDay } from '../units/days.ts';
import type { AgainReader } from './plan_again.ts';
import type { PlanFinding } from './plan_findings.ts';
import type { Person } from './plan_people.ts';

/** Why a finding gives no line. */
export const UNPLANNED_KINDS = [
  'earlier_season',
  'left_team',
  'closed',
  'measured_again',
  'watched',
  'too_many_programmes',
] as const;
export type UnplannedKind = (typeof UNPLANNED_KINDS)[number];

/** A finding for which nothing is planned. */
export interface Unplanned {
  readonly finding: PlanFinding;
  readonly kind: UnplannedKind;
  /** in words, for staff */
  readonly reason: string;
}

/** A finding that something is to be planned for, with what became of its referral. */
export interface Current {
  readonly finding: PlanFinding;
  /** undefined: nobody wrote a referral for it */
  readonly referral: ReferralState | undefined;
  /** days since 1970-01-01 of a newer reading; undefined: there is none */
  readonly again: number | undefined;
}

export interface Triage {
  readonly current: readonly Current[];
  readonly unplanned: readonly Unplanned[];
}

/**
 * Takes out what is settled: findings of other seasons, of athletes who left, referrals that are closed, and what was
 * measured again. A newer reading never takes off a referral.
 */
export function triage(
  findings: readonly PlanFinding[],
  table: Findings,
  season: number | null,
  people: ReadonlyMap<string, Person>,
  desk: Desk,
  again: AgainReader,
): Triage {
  const states = referralStates(table, desk);
  const current: Current[] = [];
  const unplanned: Unplanned[] = [];
  for (const finding of findings) {
    const leave = (kind: UnplannedKind, reason: string): number => unplanned.push({ finding, kind, reason });
    const referral = states[finding.row];
    const leftOn = people.get(finding.athleteId)?.leftOn ?? null;
    const newer = again(finding);
    if (finding.season !== season) leave('earlier_season', `earlier season: ${finding.season}`);
    else if (leftOn !== null) leave('left_team', `left the team on ${isoDay(leftOn)}`);
    else if (referral?.state === 'closed') leave('closed', closedWords(referral));
    else if (finding.grade !== 'refer' && newer !== undefined) {
      leave('measured_again', `measured again on ${isoDay(newer)}`);
    } else current.push({ finding, referral, again: newer });
  }
  return { current, unplanned };
}

function closedWords({ since, closedOn }: ReferralState): string {
  const from = since === null ? 'referred' : `referred on ${isoDay(since)}`;
  return closedOn === null ? `${from}, closed` : `${from}, closed on ${isoDay(closedOn)}`;
}
