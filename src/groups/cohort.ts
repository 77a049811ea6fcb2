import type { AthleteBook } from '../athletes/book.ts';
import type { Members } from '../athletes/members.ts';
import { NO_PAST, type PastInjuries } from '../outcomes/past.ts';
import type { Protocol } from '../protocol/types.ts';
import { type ClusteredRatio, clusteredRatio } from '../stats/clustered_ratio.ts';
import { clusteredShare } from '../stats/clustered_share.ts';
import { relativeRisk, type TwoGroups } from '../stats/relative_risk.ts';
import { type Interval, wilson } from '../stats/wilson.ts';
import { COHORT, type Cohort, type Findings, type GroupKind, type Results } from '../tables/schemas.ts';
import { Table } from '../tables/table.ts';
import { type Counts, countsOf } from './counts.ts';
import { decisionOf } from './decision.ts';
import { type Group, groupsOf } from './groups.ts';
import { type Standing, standings } from './standings.ts';
import { ruleNames } from './verdicts.ts';

/** Draws of the bootstrap of several seasons. */
const DRAWS = 2000;

export interface CohortOptions {
  /** who belongs to a season, tested or not */
  readonly members: Members;
  readonly past?: PastInjuries;
  /** seasons one by one, or all together with the athlete as cluster; default every season of the results */
  readonly seasons?: readonly number[] | 'pooled';
  readonly kinds?: readonly GroupKind[];
  /** names of rules and built-in statuses; default all */
  readonly rules?: readonly string[];
  /** which occasion of a season counts, of those on which a rule had all that it needs; default the first */
  readonly occasion?: 'first' | 'last';
  /** of the bootstrap of `pooled`; default 1 */
  readonly seed?: number;
}

/**
 * What each group shares: one row a season, group and rule, by season, kind, group, and rules in protocol order, the
 * built-in statuses last. A group has a row for each rule that applies to one of its athletes.
 * @param results as worked out by derive, with marks
 * @param findings those of `flag` on these results
 */
export function cohort(
  results: Results,
  findings: Findings,
  athletes: AthleteBook,
  protocol: Protocol,
  { members, past = NO_PAST, seasons, kinds, rules, occasion = 'first', seed = 1 }: CohortOptions,
): Cohort {
  const everybody = standings(results, findings, athletes, protocol, { members, past, occasion });
  const table: Cohort = new Table(COHORT);
  for (const { season, own } of scopesOf(everybody, seasons)) {
    for (const group of groupsOf(own, protocol, kinds)) {
      for (const [order, rule] of ruleNames(protocol).entries()) {
        if (rules !== undefined && !rules.includes(rule)) continue;
        const counts = countsOf(group.standings, order);
        if (counts.eligible === 0) continue;
        pushCounts(table, season, group, rule, counts);
        pushComparison(table, group, order, counts, season === null ? seed : null);
        table.columns.decision.push(season === null ? null : decisionOf(counts, rule, protocol));
      }
    }
  }
  return table;
}

interface Scope {
  /** null: all seasons together */
  readonly season: number | null;
  readonly own: readonly Standing[];
}

function scopesOf(everybody: readonly Standing[], seasons: CohortOptions['seasons']): Scope[] {
  if (seasons === 'pooled') return [{ season: null, own: everybody }];
  const bySeason = new Map<number, Standing[]>();
  for (const standing of everybody) {
    const own = bySeason.get(standing.season);
    if (own) own.push(standing);
    else bySeason.set(standing.season, [standing]);
  }
  return [...bySeason]
    .filter(([season]) => seasons === undefined || seasons.includes(season))
    .map(([season, own]) => ({ season, own }));
}

function pushCounts(table: Cohort, season: number | null, group: Group, rule: string, counts: Counts): void {
  const { columns } = table;
  columns.season.push(season);
  columns.group_kind.push(group.kind);
  columns.group.push(group.name);
  columns.rule.push(rule);
  columns.eligible.push(counts.eligible);
  columns.tested.push(counts.tested);
  columns.flagged.push(counts.flagged);
  columns.flagged_partial.push(counts.flaggedPartial);
  columns.pain.push(counts.pain);
  columns.unable.push(counts.unable);
  columns.missing.push(counts.eligible - counts.tested);
  columns.worse_left.push(counts.left);
  columns.worse_right.push(counts.right);
}

/** @param seed null: one season, in which the athletes are independent of each other */
function pushComparison(table: Cohort, group: Group, order: number, own: Counts, seed: number | null): void {
  const { columns } = table;
  const others = group.kind === 'all' ? undefined : countsOf(group.others, order);
  columns.share.push(own.tested === 0 ? null : own.flagged / own.tested);
  const interval = shareInterval(group, order, own, seed !== null);
  columns.share_low.push(interval?.low ?? null);
  columns.share_high.push(interval?.high ?? null);
  columns.others_tested.push(others?.tested ?? null);
  columns.others_flagged.push(others?.flagged ?? null);
  const ratio = others && ratioOf(group, order, own, others, seed);
  columns.ratio.push(ratio?.ratio ?? null);
  columns.ratio_low.push(ratio?.low ?? null);
  columns.ratio_high.push(ratio?.high ?? null);
}

function shareInterval(group: Group, order: number, own: Counts, isPooled: boolean): Interval | undefined {
  if (!isPooled) return wilson(own.flagged, own.tested);
  const athletes = new Map<string, { x: number; n: number }>();
  for (const { athleteId, tested, found } of group.standings) {
    const athlete = athletes.get(athleteId) ?? { x: 0, n: 0 };
    athletes.set(athleteId, athlete);
    athlete.n += tested[order];
    athlete.x += Number(found[order] !== 0);
  }
  return clusteredShare([...athletes.values()]);
}

function ratioOf(
  group: Group,
  order: number,
  own: Counts,
  others: Counts,
  seed: number | null,
): ClusteredRatio | undefined {
  const { flagged, tested } = own;
  if (seed === null) {
    return relativeRisk({ flagged, tested, othersFlagged: others.flagged, othersTested: others.tested });
  }
  return clusteredRatio(byAthlete(group, order), DRAWS, seed);
}

type Tested = { -readonly [K in keyof TwoGroups]: number };

/** What each athlete adds to a group and to the others: a team may change from one season to the next. */
function byAthlete({ standings: own, others }: Group, order: number): TwoGroups[] {
  const athletes = new Map<string, Tested>();
  const of = (athleteId: string): Tested => {
    const athlete = athletes.get(athleteId) ?? { flagged: 0, tested: 0, othersFlagged: 0, othersTested: 0 };
    athletes.set(athleteId, athlete);
    return athlete;
  };
  for (const { athleteId, tested, found } of own) {
    of(athleteId).tested += tested[order];
    of(athleteId).flagged += Number(found[order] !== 0);
  }
  for (const { athleteId, tested, found } of others) {
    of(athleteId).othersTested += tested[order];
    of(athleteId).othersFlagged += Number(found[order] !== 0);
  }
  return [...athletes.values()];
}
