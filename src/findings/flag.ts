import type { AthleteBook } from '../athletes/book.ts';
import { NO_PAST, type PastInjuries } from '../outcomes/past.ts';
import { Failure } from '../problems/failure.ts';
import type { Protocol } from '../protocol/types.ts';
import { FINDINGS, type Findings, type Results } from '../tables/schemas.ts';
import { Table } from '../tables/table.ts';
import { batteryReader } from './batteries.ts';
import { certaintyOf } from './certainty.ts';
import type { LimitCheck, LimitField } from './check.ts';
import { checksByMeasureCode } from './checks.ts';
import { marginBeyond } from './comparators.ts';
import { findingError, symmetricShare } from './finding_error.ts';
import { historyAppliesTo, previousInjury } from './history_rules.ts';
import { type Hit, sortHits, standingHits } from './hits.ts';
import { statusReader } from './status_checks.ts';
import { limitMessage, statusMessage } from './wording.ts';

/** Fields that set one side against the other. */
const COMPARING: ReadonlySet<LimitField> = new Set([
  'deficit_pct',
  'gap',
  'difference',
  'direction_pct',
  'dominance_pct',
  'dominance_gap',
]);

/**
 * Judges results by the rules of the protocol: one finding a broken rule and side. Pain, unable and a side left out are
 * found on every measure, whatever the athlete's battery.
 * @param results as worked out by derive, with single trials, errors and marks
 * @param past earlier injuries, by which rules may be narrowed
 * @returns findings by athlete, date, protocol order of measures, rule order (built-in ones last), side
 * @throws Failure (2) for results of another protocol, or without the marks that only derive knows
 */
export function flag(
  results: Results,
  athletes: AthleteBook,
  protocol: Protocol,
  past: PastInjuries = NO_PAST,
): Findings {
  const hits = brokenChecks(results, athletes, protocol, past);
  sortHits(hits, results);
  return findingsOf(standingHits(hits, results), results, protocol, past);
}

function brokenChecks(results: Results, athletes: AthleteBook, protocol: Protocol, past: PastInjuries): Hit[] {
  const checks = checksByMeasureCode(results, protocol);
  const batteryOf = batteryReader(results, athletes, protocol);
  const { athlete_id, date } = results.columns;
  const measures = results.columns.measure.codes;
  const marks = results.columns.marks.values;
  const hits: Hit[] = [];
  for (let row = 0; row < results.length; row++) {
    if (Number.isNaN(marks[row])) throw withoutMarks();
    const battery = batteryOf(row);
    for (const check of checks[measures[row]]) {
      if (check.rule !== undefined && !battery.applies[check.rule.index]) continue;
      for (const probe of check.probes) {
        if (!probe.isBroken(row)) continue;
        const side = probe.sideOf(row);
        const { rule } = check;
        // Asked last: few rules are narrowed by history, and fewer hits are left.
        if (rule && !historyAppliesTo(rule, past, athlete_id.get(row) ?? '', date.days[row], side)) continue;
        hits.push({ row, check, side, value: probe.valueOf(row), battery });
      }
    }
  }
  return hits;
}

/** A table read back from a file lacks the internal columns, and a pain that is not seen would be lost without a word. */
function withoutMarks(): Failure {
  return new Failure(2, {
    message: 'these results do not tell pain and single trials apart, so they cannot be judged',
    hint: 'Work them out again from the observations.',
  });
}

function findingsOf(hits: readonly Hit[], results: Results, protocol: Protocol, past: PastInjuries): Findings {
  const from = results.columns;
  const findings: Findings = new Table(FINDINGS, {
    athlete_id: from.athlete_id.dictionary,
    team: from.team.dictionary,
    measure: from.measure.dictionary,
  });
  const to = findings.columns;
  const isUneven = statusReader(results, ['unequal_trials']);
  for (const hit of hits) {
    const { row, check, side, battery } = hit;
    to.athlete_id.pushCode(from.athlete_id.codes[row]);
    to.team.pushCode(from.team.codes[row]);
    to.season.push(from.season.values[row]);
    to.date.pushDay(from.date.days[row]);
    to.sport_group.push(battery.sportGroups[check.measure.index]);
    to.rule.push(check.name);
    to.measure.pushCode(from.measure.codes[row]);
    to.side.push(side);
    to.field.push(check.field);
    if (check.kind === 'limit') pushLimit(findings, hit, check, results, isUneven(row) && COMPARING.has(check.field));
    else pushStatus(findings, statusMessage(check, side));
    to.grade.push(check.grade);
    to.previous_injury.push(
      previousInjury(check.rule?.region, past, from.athlete_id.get(row) ?? '', from.date.days[row], side),
    );
    to.programme.push(check.rule?.programme ?? null);
    to.owner.push(ownerOf(hit, protocol));
    to.last_day.pushDay(from.last_day.days[row]);
  }
  return findings;
}

function pushLimit(findings: Findings, hit: Hit, check: LimitCheck, results: Results, unequalTrials: boolean): void {
  const { columns } = findings;
  const { value, side } = hit;
  const margin = marginBeyond(value, check.comparator, check.limit);
  const found = findingError(hit, check, results);
  const certainty = certaintyOf(margin, found?.error, unequalTrials);
  columns.value.push(value);
  columns.limit.push(check.limit);
  columns.margin.push(margin);
  columns.error.push(found?.error ?? null);
  columns.error_basis.push(found?.basis ?? null);
  columns.certainty.push(certainty);
  const unit = check.field.endsWith('_pct') ? '%' : check.measure.unit.code;
  const share = symmetricShare(hit, check, results);
  columns.message.push(
    limitMessage({
      check,
      side,
      value,
      unit,
      margin,
      error: found?.error,
      certainty,
      symmetricShare: share,
      status: results.columns.status.get(hit.row) ?? '',
    }),
  );
}

function pushStatus(findings: Findings, message: string): void {
  const { columns } = findings;
  for (const column of [columns.value, columns.limit, columns.margin, columns.error, columns.error_basis])
    column.push(null);
  columns.certainty.push('not_applicable');
  columns.message.push(message);
}

/** Who does the work: the programme's owner. Pain, and a built-in finding that refers, are for medical staff. */
function ownerOf({ check }: Hit, protocol: Protocol): string | null {
  const programme = check.rule?.programme;
  if (programme !== undefined) return protocol.programmes.get(programme)?.owner ?? null;
  const isPain = check.kind === 'status' && check.status === 'pain';
  return isPain || (check.rule === undefined && check.grade === 'refer') ? 'medical' : null;
}
