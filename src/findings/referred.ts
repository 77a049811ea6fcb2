import type { Desk, ReferralState } from '../athletes/desk.ts';
import { NO_DAY } from '../tables/columns.ts';
import type { Findings } from '../tables/schemas.ts';

/**
 * What became of the referrals, by row of the findings: undefined for findings of other grades, and for those that
 * nobody wrote a referral for. A referral that is closed for one limit also closes the milder limits on the same number:
 * 164 breaks 140 and 160, and whoever was seen for 160 was seen for 140. It never closes a stricter one.
 */
export function referralStates(findings: Findings, desk: Desk): (ReferralState | undefined)[] {
  const { columns } = findings;
  const states: (ReferralState | undefined)[] = [];
  const numbers = new Map<string, number[]>();
  for (let row = 0; row < findings.length; row++) {
    states.push(undefined);
    if (columns.grade.get(row) !== 'refer' || columns.date.days[row] === NO_DAY) continue;
    states[row] = desk.referral(columns.athlete_id.get(row) ?? '', columns.rule.get(row) ?? '', columns.date.days[row]);
    const key = ['athlete_id', 'date', 'measure', 'side', 'field', 'value']
      .map((name) => findings.column(name).get(row))
      .join('\n');
    const rows = numbers.get(key);
    if (rows) rows.push(row);
    else numbers.set(key, [row]);
  }
  for (const rows of numbers.values()) closeMilder(findings, rows, states);
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
    if (stricter !== undefined) states[row] = states[stricter];
  }
}
