import type { Desk } from '../athletes/desk.ts';
import { isStopped } from '../athletes/work.ts';
import { urgencyOf } from '../findings/urgency.ts';
import type { Measure, Programme, Protocol } from '../protocol/types.ts';
import { grouped } from '../tables/grouped.ts';
import { isoDay } from '../units/days.ts';
import type { AgainReader } from './plan_again.ts';
import { isPain, type PlanFinding } from './plan_findings.ts';
import { isClearedAfter, type Person } from './plan_people.ts';
import { byStrictness, type UrgencyOf } from './plan_priority.ts';
import type { Triage } from './plan_triage.ts';
import { sentence, standingWords, stoppedWords } from './plan_wording.ts';
import { measuredFor } from './rule_needs.ts';

/** What stands against work of an athlete, though nobody holds the athlete. */
export interface Care {
  /** the finding for which medical staff see the athlete before any training; undefined: there is none */
  seenFirst(athleteId: string): PlanFinding | undefined;
  /** pain at some measures or parts of them; undefined: there is none */
  pain(athleteId: string, measures: readonly Measure[]): PlanFinding | undefined;
}

/**
 * Finds who is in pain, and who has to be seen before training: by an open referral that is not routine, unless medical
 * staff cleared the whole athlete on a later day. Pain counts until the measure is read again without it. A clearance or
 * a closed referral alone does not say that it is gone; both together do.
 * @param findings of the season
 * @param triaged the same findings by what is settled
 */
export function careOf(
  findings: readonly PlanFinding[],
  { current, unplanned }: Triage,
  people: ReadonlyMap<string, Person>,
  again: AgainReader,
  protocol: Protocol,
): Care {
  const closed = new Set(unplanned.filter(({ kind }) => kind === 'closed').map(({ finding }) => finding));
  const isCleared = ({ athleteId, day }: PlanFinding): boolean => isClearedAfter(people.get(athleteId)!.standing, day);
  const urgency: UrgencyOf = ({ rule, measure }) => urgencyOf(rule, measure, protocol);
  const urgent = current
    .map(({ finding }) => finding)
    .filter((finding) => finding.grade === 'refer' && urgency(finding) !== 'routine' && !isCleared(finding));
  const hurting = findings.filter(
    (finding) => isPain(finding) && again(finding) === undefined && !(closed.has(finding) && isCleared(finding)),
  );
  const firsts = grouped(byStrictness(urgent, urgency), ({ athleteId }) => athleteId);
  const pains = grouped(hurting, ({ athleteId }) => athleteId);
  return {
    seenFirst: (athleteId) => firsts.get(athleteId)?.[0],
    pain(athleteId, measures) {
      const measured = new Set(measures.flatMap(measuredFor));
      return pains.get(athleteId)?.find(({ measure }) => measuredFor(measure).some((index) => measured.has(index)));
    },
  };
}

/**
 * Why an athlete does not do a shared programme, for medical staff; undefined: nothing stands against it. Whoever gave it
 * up does not go on with the team before somebody has decided so.
 * @param since first day of the findings that are planned, in days since 1970-01-01: work of years before is over
 */
export function leaveOutReader(
  { pain, seenFirst }: Care,
  { rules }: Protocol,
  desk: Desk,
  since: number,
): (person: Person, programme: Programme) => string | undefined {
  return ({ athleteId, standing }, programme) => {
    if (standing.availability !== 'full') return sentence(standingWords(standing));
    const measures = rules.filter((rule) => rule.programme === programme.name).map(({ measure }) => measure);
    const hurting = pain(athleteId, measures);
    if (hurting) return `In pain on ${isoDay(hurting.day)}. ${hurting.message}`;
    const first = seenFirst(athleteId);
    if (first) return `Medical staff see the athlete first. ${first.message}`;
    const row = desk.work(athleteId, programme.name, since);
    return row !== undefined && isStopped(row, desk.on) ? stoppedWords(row) : undefined;
  };
}
