import type { Desk, ReferralState } from '../athletes/desk.ts';
import { NO_DAY } from '../tables/columns.ts';
import type { Findings } from '../tables/schemas.ts';
import { BUILT_IN_STATUSES } from './check.ts';

const IS_MARK: ReadonlySet<string> = new Set(BUILT_IN_STATUSES);

/**
 * What became of the referrals, by row of the findings: undefined for findings of other grades, and for those that
 * nobody wrote a referral for. A mark such as pain is one rule on every measure, and a referral does not say which it
 * speaks of: marks at several measures count as closed only once as many referrals are closed. A referral that is closed for one limit also closes the milder limits on the same number:
 * 164 breaks 140 and 160, and whoever was seen for 160 was seen for 140. It never closes a stricter one.
 */
export function referralStates(findings: Findings, desk: Desk): (ReferralState | undefined)[] {
  const { columns } = findings;
  const states: (ReferralState | undefined)[] = [];
  const numbers = new Map<string, number[]>();
  for (let row = 0; row < findings.length; row++) {
    states.push(undefined);
    if (columns.grade.get(row) !== 'refer' || columns.date.days[row] === NO_DAY) continue;
    const first = columns.date.days[row];
    const last = Math.max(first, columns.last_day.days[row]);
    states[row] = desk.referral(columns.athlete_id.get(row) ?? '', columns.rule.get(row) ?? '', first, last);
    const key = ['athlete_id', 'date', 'measure', 'side', 'field', 'value']
      .map((name) => findings.column(name).get(row))
      .join('\n');
    const rows = numbers.get(key);
    if (rows) rows.push(row);
    else numbers.set(key, [row]);
  }
  for (const rows of numbers.values()) closeMilder(findings, rows, states);
  reopenMarks(findings, states);
  return states;
}

/** The farther beyond its limit a number lies, the milder the limit; too high says nothing of too low. */
function closeMilder(findings: Findings, rows: readonly number[], states: (ReferralState | undefined)[]): void {
  const margins = findings.columns.margin.values;
  const { value, limit } = findings.columns;
  const isAbove = (row: number): number => Math.sign(value.values[row] - limit.values[row]);
  const closed = rows.filter((row) => states[row]?.state === 'closed');
  for (const row of rows) {
    if (states[row]?.state === 'closed') continue;
    const stricter = closed.find((other) => margins[row] >= margins[other] && isAbove(row) * isAbove(other) >= 0);
    // Whoever is sent again for the milder limit is not settled by what was closed before.
    if (stricter === undefined || isNewer(states[row], states[stricter])) continue;
    states[row] = states[stricter];
  }
}

function isNewer(state: ReferralState | undefined, closed: ReferralState | undefined): boolean {
  return state !== undefined && state.since !== null && state.since > (closed?.since ?? state.since);
}

/** Marks at more measures than there are closed referrals: nobody can say which of them were looked at. */
function reopenMarks(findings: Findings, states: (ReferralState | undefined)[]): void {
  const { athlete_id, date, rule, measure } = findings.columns;
  const marks = new Map<string, number[]>();
  for (const [row, state] of states.entries()) {
    if (state?.state !== 'closed' || !IS_MARK.has(rule.get(row) ?? '')) continue;
    const key = `${athlete_id.get(row)}\n${date.get(row)}\n${rule.get(row)}`;
    marks.set(key, [...(marks.get(key) ?? []), row]);
  }
  for (const rows of marks.values()) {
    const measures = new Set(rows.map((row) => measure.get(row)));
    for (const row of rows) {
      const state = states[row]!;
      if (state.closings < measures.size) states[row] = { ...state, state: 'open', closedOn: null };
    }
  }
}
