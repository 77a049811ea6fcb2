import type { Desk } from '../athletes/desk.ts';
import { isStopped } from '../athletes/work.ts';
import { referralStates } from '../findings/referred.ts';
import type { Protocol } from '../protocol/types.ts';
import type { Findings, Results } from '../tables/schemas.ts';
import type { Side } from '../units/sides.ts';
import { partOf } from './plan_again.ts';
import { lastReadReader, type ReadPart, type ReadWhat } from './read_again.ts';
import { measuredFor } from './rule_needs.ts';

/** A test that is due again. */
export interface Retest {
  /** days since 1970-01-01 */
  readonly day: number;
  /** the rule whose programme asks for it first */
  readonly rule: string;
}

/** When an athlete is to be tested again at a measure; undefined: no test is planned. */
export type RetestReader = (athleteId: string, measure: number) => Retest | undefined;

/** A test that is to be repeated, unless it was. */
interface Asked {
  readonly key: string;
  readonly what: ReadWhat;
  readonly part: ReadPart;
  /** days since 1970-01-01: of the finding, and by which it is due */
  readonly day: number;
  readonly due: number;
  readonly rule: string;
}

/**
 * When tests are to be repeated after findings of grade act or refer whose programme has a number of days: so long after
 * the work was begun, or after the test as long as nobody has begun, or whoever had begun gave it up. What was read again
 * since, on a later occasion, is not asked for, nor is what a closed referral has settled.
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
  const asked: Asked[] = [];
  for (let row = 0; row < findings.length; row++) {
    if (columns.season.values[row] !== season || columns.grade.get(row) === 'watch') continue;
    const programme = protocol.programmes.get(columns.programme.get(row) ?? '');
    if (programme?.retestDays === undefined || states[row]?.state === 'closed') continue;
    const athleteId = columns.athlete_id.get(row) ?? '';
    const day = columns.date.days[row];
    const work = desk.work(athleteId, programme.name, day);
    const begun = (work && !isStopped(work, desk.on) ? work.started : null) ?? day;
    const rule = columns.rule.get(row) ?? '';
    const part = partOf({ field: columns.field.get(row) ?? '', side: columns.side.get(row) as Side });
    for (const index of measuredFor(protocol.byName.get(columns.measure.get(row) ?? '')!)) {
      const { name, sides } = protocol.measures[index];
      const what = { athleteId, season, measure: name };
      const own = sides === 'none' ? 'whole' : part;
      asked.push({ key: `${athleteId}\n${index}`, what, part: own, day, due: begun + programme.retestDays, rule });
    }
  }
  const lastRead = lastReadReader(
    results,
    asked.map(({ what }) => what),
  );
  const first = new Map<string, Retest>();
  for (const { key, what, part, day, due, rule } of asked) {
    if (lastRead(what, part, day) !== undefined) continue;
    if (due < (first.get(key)?.day ?? Number.POSITIVE_INFINITY)) first.set(key, { day: due, rule });
  }
  return (athleteId, measure) => first.get(`${athleteId}\n${measure}`);
}
