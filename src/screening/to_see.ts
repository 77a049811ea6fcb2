import type { Protocol } from '../protocol/types.ts';
import { isVitalSign } from '../sheets/row_cells.ts';
import { NO_DAY } from '../tables/columns.ts';
import type { Findings } from '../tables/schemas.ts';
import type { RunOutcome } from './run.ts';

/** An athlete whom medical staff must see before training, with every finding that says so. */
export interface ToSee {
  readonly athlete_id: string;
  readonly name?: string;
  readonly team: string | null;
  readonly date: string | null;
  readonly findings: readonly {
    readonly rule: string;
    readonly measure: string;
    readonly date: string | null;
    readonly message: string;
    /** label of what is prescribed */
    readonly programme: string | null;
    /** whether the measure was read again later in the season */
    readonly has_newer_reading: boolean;
  }[];
}

/** More than any number of limits. */
const FIRST_OF_ALL = 1000;

/**
 * Last day in a season on which each athlete was read, or hurt, on each measure. Days without a reading do not count: who
 * was not tested again is not better.
 */
function latestDays({ results }: RunOutcome, season: number): (athlete: number, measure: number) => number {
  const { columns } = results;
  const measures = columns.measure.dictionary.size;
  const latest = new Int32Array(columns.athlete_id.dictionary.size * measures).fill(NO_DAY);
  for (let row = 0; row < results.length; row++) {
    if (columns.season.values[row] !== season) continue;
    const hasNone =
      Number.isNaN(columns.left.values[row]) &&
      Number.isNaN(columns.right.values[row]) &&
      Number.isNaN(columns.both.values[row]) &&
      Number.isNaN(columns.value.values[row]);
    if (hasNone && columns.marks.values[row] === 0) continue;
    const place = columns.athlete_id.codes[row] * measures + columns.measure.codes[row];
    latest[place] = Math.max(latest[place], columns.date.days[row]);
  }
  return (athlete, measure) => latest[athlete * measures + measure];
}

/** How far beyond its limit a finding lies, as a share of the limit; pain and the like have no margin. */
function excess(findings: Findings, row: number): number {
  const { margin, limit } = findings.columns;
  const share = margin.values[row] / Math.abs(limit.values[row]);
  return Number.isFinite(share) ? share : 0;
}

/** Everybody with a referral in the season, the most urgent first. A later reading takes nobody off the list. */
export function toSee(
  outcome: RunOutcome,
  season: number,
  protocol: Protocol,
  names: ReadonlyMap<string, string>,
): ToSee[] {
  const { findings } = outcome;
  const latest = latestDays(outcome, season);
  const byAthlete = new Map<string, Map<string, number>>();
  // Who breaks more limits with one number comes first: 182 breaks 140, 160 and 180. Among equals, the farther beyond the
  // mildest of them. Pain under a vital sign goes before everything.
  const broken = new Map<string, number>();
  const urgency = new Map<string, number>();
  const worst = new Map<string, number>();
  const { columns } = findings;
  for (let row = 0; row < findings.length; row++) {
    if (columns.grade.get(row) !== 'refer' || columns.season.values[row] !== season) continue;
    const id = columns.athlete_id.get(row)!;
    const strictest = byAthlete.get(id) ?? new Map<string, number>();
    byAthlete.set(id, strictest);
    worst.set(id, Math.max(worst.get(id) ?? 0, excess(findings, row)));
    const isVital = isVitalSign(protocol.byName.get(columns.measure.get(row)!)!);
    // Of several limits on one number the one that is nearest to it says most: 164 breaks 140 and 160.
    const key = ['measure', 'side', 'field', 'value', 'date'].map((name) => findings.column(name).get(row)).join('\n');
    const number = `${id}\n${key}`;
    broken.set(number, (broken.get(number) ?? 0) + (isVital && columns.rule.get(row) === 'pain' ? FIRST_OF_ALL : 1));
    urgency.set(id, Math.max(urgency.get(id) ?? 0, broken.get(number)!));
    const before = strictest.get(key);
    if (before === undefined || columns.margin.values[row] < columns.margin.values[before]) strictest.set(key, row);
  }
  const ids = outcome.results.columns.athlete_id.dictionary;
  const measures = outcome.results.columns.measure.dictionary;
  const seen = [...byAthlete].map(([athlete_id, strictest]) => {
    const rows = [...strictest.values()].sort((a, b) => excess(findings, b) - excess(findings, a) || a - b);
    return {
      athlete_id,
      name: names.get(athlete_id),
      team: columns.team.get(rows[0]),
      date: columns.date.get(rows[0]),
      findings: rows.map((row) => {
        const measure = columns.measure.get(row)!;
        const programme = columns.programme.get(row);
        const isNewer = latest(ids.find(athlete_id), measures.find(measure)) > columns.date.days[row];
        return {
          rule: columns.rule.get(row)!,
          measure,
          date: columns.date.get(row),
          message: columns.message.get(row)!,
          programme: programme === null ? null : (protocol.programmes.get(programme)?.label ?? programme),
          has_newer_reading: isNewer,
        };
      }),
    };
  });
  return seen.sort(
    ({ athlete_id: a }, { athlete_id: b }) => urgency.get(b)! - urgency.get(a)! || worst.get(b)! - worst.get(a)!,
  );
}
