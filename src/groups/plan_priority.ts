import type { Urgency } from '../protocol/types.ts';
import { URGENCIES } from '../protocol/types.ts';
import { round9 } from '../stats/round9.ts';
import type { PlanFinding } from './plan_findings.ts';
import type { Line } from './plan_line.ts';

/** How the lines of a plan are ordered, as people are told. */
export const PRIORITY_LINES = [
  'Priority: athletes whom medical staff see (now, before training, routinely; then',
  'the farthest beyond the limit), athletes on hold, shared work of teams with whom',
  'it leaves out, and then the work and the repeats of single athletes. Among',
  'athletes alike: an earlier injury of the same side, a clear finding of grade',
  'act, the number of findings in the region, the margin over the measurement',
  'error, the id.',
] as const;

/** In the order in which they come. */
export const STAGES = ['refer', 'hold', 'team', 'own'] as const;
export type Stage = (typeof STAGES)[number];

/** What the priority of a line is worked out from. */
export interface Ranked {
  readonly line: Line;
  readonly stage: Stage;
  /** of the referral, if there is one */
  readonly urgency?: Urgency;
}

/** Counts the findings of an athlete that lie in a region of a finding. */
export type RegionCounter = (finding: PlanFinding) => number;

/** The lines in the order in which to act. Lines of teams keep the order in which they come. */
export function byPriority(ranked: readonly Ranked[], inRegion: RegionCounter): Line[] {
  const keyed = ranked.map((one) => ({ one, keys: keysOf(one, inRegion) }));
  return keyed.sort((a, b) => compareKeys(a.keys, b.keys) || byAthlete(a.one, b.one)).map(({ one }) => one.line);
}

const byAthlete = (a: Ranked, b: Ranked): number => {
  if (a.stage === 'team') return 0;
  const [idA, idB] = [a.line.athleteId ?? '', b.line.athleteId ?? ''];
  return idA < idB ? -1 : idA > idB ? 1 : 0;
};

/** Numbers of which the smaller comes first. */
function keysOf({ line, stage, urgency }: Ranked, inRegion: RegionCounter): number[] {
  const first = STAGES.indexOf(stage);
  if (stage === 'team') return [first];
  // What is only watched gives no work, so it moves no work forward.
  const asking = line.findings.filter(({ grade }) => grade !== 'watch');
  const findings = asking.length > 0 ? asking : line.findings;
  if (stage !== 'refer') return [first, ...needKeys(findings, inRegion)];
  const referred = findings.filter(({ grade }) => grade === 'refer');
  const soon = URGENCIES.indexOf(urgency ?? 'routine');
  return [first, soon, -largest(referred.map(beyondLimit)), ...needKeys(findings, inRegion)];
}

/** How much findings of one athlete ask for work. */
export function needKeys(findings: readonly PlanFinding[], inRegion: RegionCounter): number[] {
  return [
    -Number(findings.some(({ previousInjury }) => previousInjury === 'same_side')),
    -Number(findings.some(({ grade, certainty }) => grade !== 'watch' && certainty === 'clear')),
    -largest(findings.map(inRegion)),
    -largest(findings.map(overError)),
  ];
}

export function compareKeys(a: readonly number[], b: readonly number[]): number {
  for (const [at, key] of a.entries()) if (key !== b[at]) return key < b[at] ? -1 : 1;
  return 0;
}

/** Margin over the limit. A limit of 0 has no share of itself: whatever lies beyond it comes first. */
function beyondLimit({ margin, limit }: PlanFinding): number {
  if (margin === null || limit === null || margin === 0) return 0;
  return limit === 0 ? Number.POSITIVE_INFINITY : round9(margin / Math.abs(limit));
}

/** Margin over the 95 % measurement error; 0 where that is unknown. */
function overError({ margin, error }: PlanFinding): number {
  return margin === null || error === null || error === 0 ? 0 : round9(margin / error);
}

/** The largest, 0 if there are none. */
function largest(numbers: readonly number[]): number {
  return numbers.reduce((a, b) => Math.max(a, b), 0);
}

/** How soon medical staff see an athlete for a finding. */
export type UrgencyOf = (finding: PlanFinding) => Urgency;

/** Referrals by urgency, the newest of them first, then by the limit that is the hardest to reach. */
export function byStrictness(findings: readonly PlanFinding[], urgency: UrgencyOf): PlanFinding[] {
  const keyed = findings.map((finding) => ({
    finding,
    keys: [URGENCIES.indexOf(urgency(finding)), -finding.day, finding.margin ?? 0, finding.order],
  }));
  return keyed.sort((a, b) => compareKeys(a.keys, b.keys)).map(({ finding }) => finding);
}
