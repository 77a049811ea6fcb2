import { BUILT_IN_STATUSES } from '../../findings/check.ts';
import type { Protocol } from '../../protocol/types.ts';
import { hasEmptyCell } from '../../stats/relative_risk.ts';
import { round9 } from '../../stats/round9.ts';
import { type Cohort, GRADES, type Grade } from '../../tables/schemas.ts';

export type CohortRow = ReturnType<Cohort['row']>;

/** The rows of one rule in one season, in the order in which they are read. */
export interface RuleRows {
  readonly rule: string;
  readonly grade: Grade;
  /** the row of all athletes, if it was asked for */
  readonly all: CohortRow | undefined;
  /** groups with somebody flagged, shared work first, then by share */
  readonly ranked: readonly CohortRow[];
  /** groups large enough in which nobody is flagged */
  readonly clear: readonly CohortRow[];
  readonly tooFew: readonly CohortRow[];
}

export interface SeasonRows {
  /** null: several seasons together */
  readonly season: number | null;
  /** rules that somebody breaks, the strictest grade first */
  readonly broken: readonly RuleRows[];
  /** rules for which somebody was tested, and which nobody breaks */
  readonly kept: readonly string[];
  /** rules for which nobody was tested */
  readonly untested: readonly string[];
  /** of the intervals of ratios: how many there are, and how many do not hold 1 */
  readonly intervals: { readonly count: number; readonly excluding: number };
  readonly hasTeams: boolean;
  /** whether somebody was not tested for a rule that applies */
  readonly hasUntested: boolean;
}

/** Cuts a table of cohorts into its seasons, the newest first. */
export function seasonRows(table: Cohort, protocol: Protocol): SeasonRows[] {
  const bySeason = new Map<number | null, CohortRow[]>();
  for (const row of table.rows()) {
    const own = bySeason.get(row.season);
    if (own) own.push(row);
    else bySeason.set(row.season, [row]);
  }
  return [...bySeason]
    .sort(([a], [b]) => (b ?? 0) - (a ?? 0))
    .map(([season, rows]) => oneSeason(season, rows, protocol));
}

function oneSeason(season: number | null, rows: readonly CohortRow[], protocol: Protocol): SeasonRows {
  const grades = new Map<string, Grade>(protocol.rules.map(({ name, grade }) => [name, grade]));
  for (const status of BUILT_IN_STATUSES) grades.set(status, protocol.statuses[status]);
  const byRule = new Map([...grades.keys()].map((rule): [string, CohortRow[]] => [rule, []]));
  for (const row of rows) byRule.get(row.rule!)!.push(row);
  const broken: RuleRows[] = [];
  const kept: string[] = [];
  const untested: string[] = [];
  for (const [rule, own] of byRule) {
    if (own.length === 0) continue;
    if (own.some(({ flagged, flagged_partial }) => flagged! + flagged_partial! > 0)) {
      broken.push(ruleRows(rule, grades.get(rule)!, own, protocol));
    } else if (own.some(({ tested }) => tested! > 0)) kept.push(rule);
    else untested.push(rule);
  }
  broken.sort((a, b) => GRADES.indexOf(b.grade) - GRADES.indexOf(a.grade));
  const withInterval = rows.filter(({ ratio_low }) => ratio_low !== null);
  return {
    season,
    broken,
    kept,
    untested,
    intervals: { count: withInterval.length, excluding: withInterval.filter(excludesOne).length },
    hasTeams: rows.some(({ group_kind }) => group_kind === 'team'),
    hasUntested: rows.some(({ missing }) => missing! > 0),
  };
}

function ruleRows(rule: string, grade: Grade, rows: readonly CohortRow[], { sharing }: Protocol): RuleRows {
  const groups = rows.filter(({ group_kind }) => group_kind !== 'all');
  const isLarge = ({ tested }: CohortRow): boolean => tested! >= Math.max(1, sharing.minTested);
  const large = groups.filter(isLarge);
  return {
    rule,
    grade,
    all: rows.find(({ group_kind }) => group_kind === 'all'),
    ranked: large.filter(({ flagged }) => flagged! > 0).sort((a, b) => sharedFirst(a, b) || byShare(a, b)),
    clear: large.filter(({ flagged }) => flagged === 0),
    tooFew: groups.filter((row) => !isLarge(row)),
  };
}

const sharedFirst = (a: CohortRow, b: CohortRow): number =>
  Number(b.decision === 'shared') - Number(a.decision === 'shared');
const byShare = (a: CohortRow, b: CohortRow): number => round9(b.share!) - round9(a.share!);

function excludesOne({ ratio_low, ratio_high }: CohortRow): boolean {
  return round9(ratio_low!) > 1 || round9(ratio_high!) < 1;
}

/** Whether 0.5 was added to all four cells of a row's ratio. */
export function isCorrected(row: CohortRow): boolean {
  if (row.ratio === null) return false;
  return hasEmptyCell({
    flagged: row.flagged!,
    tested: row.tested!,
    othersFlagged: row.others_flagged!,
    othersTested: row.others_tested!,
  });
}
