import type { AthleteBook } from '../athletes/book.ts';
import type { Desk } from '../athletes/desk.ts';
import type { Members } from '../athletes/members.ts';
import type { Protocol } from '../protocol/types.ts';
import { grouped } from '../tables/grouped.ts';
import type { Cohort, Findings, Plan, Results } from '../tables/schemas.ts';
import { againReader } from './plan_again.ts';
import { careOf, leaveOutReader } from './plan_care.ts';
import { type PlanFinding, planFindings } from './plan_findings.ts';
import { planTable } from './plan_line.ts';
import { medicalWork } from './plan_medical.ts';
import { ownWork } from './plan_own.ts';
import { type Person, peopleOf, regionReader } from './plan_people.ts';
import { byPriority, type RegionCounter } from './plan_priority.ts';
import { coverReader, type SharedProgramme, sharedLines, sharedProgrammes } from './plan_shared.ts';
import { triage, type Unplanned } from './plan_triage.ts';

export interface PlanOptions {
  readonly desk: Desk;
  /** who belongs to a season, tested or not */
  readonly members: Members;
  /** the season that is planned, the newest one; null: nobody was tested */
  readonly season: number | null;
  /** tell what was measured again within the limits; without them only newer findings do */
  readonly results?: Results;
}

export interface Planned {
  readonly plan: Plan;
  /** findings that give no line, in the order of the findings */
  readonly unplanned: readonly Unplanned[];
  /** row of the plan that answers a finding, by row of the findings; -1: none */
  readonly lineOf: Int32Array;
}

/**
 * Who does what, in the order in which staff act: first athletes whom medical staff see, by urgency and then by how far
 * they are beyond the limit; then athletes on hold; then shared work of teams with whom it leaves out; then the work and
 * the repeats of single athletes. Athletes alike come by an earlier injury of the same side, a clear act, the number of
 * findings in the region, the margin over the measurement error, and athlete_id.
 *
 * Each finding of the season stands behind one line, or is unplanned for a stated reason. Nobody who is held gets more
 * than a hold.
 * @param findings those of `flag`
 * @param cohort of the same findings, with the teams of the season
 */
export function plan(
  findings: Findings,
  cohort: Cohort,
  athletes: AthleteBook,
  protocol: Protocol,
  { desk, members, season, results }: PlanOptions,
): Planned {
  const all = planFindings(findings, protocol);
  const own = all.filter((finding) => finding.season === season);
  const people =
    season === null ? new Map<string, Person>() : peopleOf(members(season), own, season, athletes, protocol, desk);
  const again = againReader(all, results);
  const triaged = triage(all, findings, season, people, desk, again);
  const { current, unplanned } = triaged;
  const regionsOf = regionReader(protocol);
  const medical = medicalWork(current, people, regionsOf, protocol, desk.on);
  const care = careOf(own, triaged, people, again, protocol);
  const since = own.reduce((first, { day }) => Math.min(first, day), desk.on);
  const leaveOut = leaveOutReader(care, protocol, desk, since);
  const shared = season === null ? [] : sharedProgrammes(cohort, season, people, leaveOut, protocol);
  const coverOf = coverReader(shared);
  const byCover = grouped(medical.left, coverOf);
  const teamLines = sharedLines(shared, (one: SharedProgramme) => byCover.get(one) ?? [], desk, protocol);
  const inRegion = regionCounter(
    current.map(({ finding }) => finding),
    regionsOf,
  );
  const alone = ownWork(byCover.get(undefined) ?? [], people, { care, desk, protocol, inRegion });
  const lines = byPriority([...medical.ranked, ...teamLines, ...alone.ranked], inRegion);
  const lineOf = new Int32Array(findings.length).fill(-1);
  for (const [at, line] of lines.entries()) for (const { row } of line.findings) lineOf[row] = at;
  return {
    plan: planTable(lines, protocol),
    unplanned: [...unplanned, ...alone.unplanned].sort((a, b) => a.finding.row - b.finding.row),
    lineOf,
  };
}

/** Counts an athlete's findings by region; one without a region counts for itself. */
function regionCounter(
  findings: readonly PlanFinding[],
  regionsOf: (finding: PlanFinding) => readonly string[],
): RegionCounter {
  const counts = new Map<string, number>();
  const keysOf = (finding: PlanFinding): string[] =>
    regionsOf(finding).map((region) => `${region}\n${finding.athleteId}`);
  for (const finding of findings) {
    for (const key of keysOf(finding)) counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return (finding) => keysOf(finding).reduce((most, key) => Math.max(most, counts.get(key)!), 1);
}
