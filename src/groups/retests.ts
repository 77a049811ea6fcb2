import type { Desk } from '../athletes/desk.ts';
import { referralStates } from '../findings/referred.ts';
import type { Protocol } from '../protocol/types.ts';
import type { Findings, Results } from '../tables/schemas.ts';
import { measuredFor } from './rule_needs.ts';

/** Day by which an athlete is to be tested again at a measure, in days since 1970-01-01; undefined: no test is planned. */
export type RetestReader = (athleteId: string, measure: number) => number | undefined;

/**
 * When tests are to be repeated after findings of grade act or refer whose programme has a number of days: so long after
 * the work was begun, or after the test as long as nobody has begun. A measure that was read again since, on a later
 * occasion, is not asked for, nor is what a closed referral has settled.
 * @param season findings of others are over
 */
export function retestReader(
  findings: Findings,
  results: Results,
  protocol: Protocol,
  desk: Desk,
  season: number,
): RetestReader {
  const { columns } = findings;
  const states = referralStates(findings, desk);
  const asked: { readonly key: string; readonly day: number; readonly due: number }[] = [];
  for (let row = 0; row < findings.length; row++) {
    if (columns.season.values[row] !== season || columns.grade.get(row) === 'watch') continue;
    const programme = protocol.programmes.get(columns.programme.get(row) ?? '');
    if (programme?.retestDays === undefined || states[row]?.state === 'closed') continue;
    const athleteId = columns.athlete_id.get(row) ?? '';
    const day = columns.date.days[row];
    const begun = desk.work(athleteId, programme.name, day)?.started ?? day;
    for (const index of measuredFor(protocol.byName.get(columns.measure.get(row) ?? '')!)) {
      asked.push({ key: `${athleteId}\n${index}`, day, due: begun + programme.retestDays });
    }
  }
  const lastRead = lastReadings(results, protocol, new Set(asked.map(({ key }) => key)));
  const due = new Map<string, number>();
  for (const { key, day, due: dueOn } of asked) {
    if ((lastRead.get(key) ?? day) > day) continue;
    due.set(key, Math.min(due.get(key) ?? Number.POSITIVE_INFINITY, dueOn));
  }
  return (athleteId, measure) => due.get(`${athleteId}\n${measure}`);
}

/** First day of the last occasion with a reading, by athlete and measure, as far as it is asked for. */
function lastReadings(
  { columns, length }: Results,
  protocol: Protocol,
  asked: ReadonlySet<string>,
): ReadonlyMap<string, number> {
  const last = new Map<string, number>();
  if (asked.size === 0) return last;
  const numbers = [columns.left, columns.right, columns.both, columns.value];
  for (let row = 0; row < length; row++) {
    const measure = protocol.byName.get(columns.measure.get(row) ?? '');
    if (measure === undefined || measure.derivation !== undefined) continue;
    if (numbers.every((column) => Number.isNaN(column.values[row]))) continue;
    const key = `${columns.athlete_id.get(row) ?? ''}\n${measure.index}`;
    if (!asked.has(key)) continue;
    last.set(key, Math.max(last.get(key) ?? Number.NEGATIVE_INFINITY, columns.date.days[row]));
  }
  return last;
}
