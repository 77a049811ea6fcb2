import type { Desk, ReferralState } from '../athletes/desk.ts';
import { referralStates } from '../findings/referred.ts';
import { sooner, urgencyOf } from '../findings/urgency.ts';
import { type Protocol, URGENCIES, type Urgency } from '../protocol/types.ts';
import { isVitalSign } from '../sheets/row_cells.ts';
import { NO_DAY } from '../tables/columns.ts';
import type { Findings, Results } from '../tables/schemas.ts';
import { isoDay } from '../units/days.ts';
import type { TesterReader } from './testers.ts';

/** An athlete whom medical staff must see, with every finding that says so and is not settled. */
export interface ToSee {
  readonly athlete_id: string;
  readonly name?: string;
  readonly team: string | null;
  readonly date: string | null;
  /** how soon, by the most urgent of the findings */
  readonly urgency: Urgency;
  readonly findings: readonly {
    readonly rule: string;
    readonly measure: string;
    readonly date: string | null;
    /** last day of the occasion on which it was read */
    readonly last_day: string | null;
    readonly message: string;
    /** label of what is prescribed */
    readonly programme: string | null;
    /** whether the measure was read again later in the season */
    readonly has_newer_reading: boolean;
    /** who tested; empty: no sheet says */
    readonly testers: readonly string[];
    /** the referral that stands open, ISO days; null: nobody was referred for it yet */
    readonly referral: {
      readonly since: string | null;
      readonly seen_on: string | null;
      /** closed, and read again since, or one of several tests: it does not answer this one */
      readonly closed_before: boolean;
    } | null;
  }[];
}

/** What the list of athletes to see is made from. */
export interface SeeingWorld {
  readonly results: Results;
  readonly findings: Findings;
  readonly protocol: Protocol;
  readonly desk: Desk;
  readonly testersOf: TesterReader;
  /** names by id, only if they were asked for */
  readonly names: ReadonlyMap<string, string>;
}

/** More than any number of limits. */
const FIRST_OF_ALL = 1000;

/**
 * Last day in a season on which each athlete was read, or hurt, on each measure. Days without a reading do not count: who
 * was not tested again is not better.
 */
function latestDays(results: Results, season: number): (athlete: number, measure: number) => number {
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

/**
 * Everybody with a referral in the season that is not settled, the most urgent first. A later reading takes nobody off the
 * list; a referral that was written and closed does.
 */
export function toSee(world: SeeingWorld, season: number): ToSee[] {
  const { findings, protocol, names } = world;
  const states = referralStates(findings, world.desk);
  const byAthlete = new Map<string, Map<string, number>>();
  // Who breaks more limits with one number comes first: 182 breaks 140, 160 and 180. Among equals, the farther beyond the
  // mildest of them. Pain under a vital sign goes before everything.
  const broken = new Map<string, number>();
  const weight = new Map<string, number>();
  const worst = new Map<string, number>();
  const urgencies = new Map<string, Urgency>();
  const { columns } = findings;
  for (let row = 0; row < findings.length; row++) {
    if (columns.grade.get(row) !== 'refer' || columns.season.values[row] !== season) continue;
    if (states[row]?.state === 'closed') continue;
    const id = columns.athlete_id.get(row)!;
    const rule = columns.rule.get(row)!;
    const measure = protocol.byName.get(columns.measure.get(row)!)!;
    const strictest = byAthlete.get(id) ?? new Map<string, number>();
    byAthlete.set(id, strictest);
    worst.set(id, Math.max(worst.get(id) ?? 0, excess(findings, row)));
    urgencies.set(id, sooner(urgencies.get(id) ?? 'routine', urgencyOf(rule, measure, protocol)));
    // Of several limits on one number the one that is nearest to it says most: 164 breaks 140 and 160.
    const key = ['measure', 'side', 'field', 'value', 'date'].map((name) => findings.column(name).get(row)).join('\n');
    const number = `${id}\n${key}`;
    broken.set(number, (broken.get(number) ?? 0) + (isVitalSign(measure) && rule === 'pain' ? FIRST_OF_ALL : 1));
    weight.set(id, Math.max(weight.get(id) ?? 0, broken.get(number)!));
    const before = strictest.get(key);
    if (before === undefined || columns.margin.values[row] < columns.margin.values[before]) strictest.set(key, row);
  }
  const latest = latestDays(world.results, season);
  const seen = [...byAthlete].map(([athlete_id, strictest]): ToSee => {
    const rows = [...strictest.values()].sort((a, b) => excess(findings, b) - excess(findings, a) || a - b);
    return {
      athlete_id,
      name: names.get(athlete_id),
      team: columns.team.get(rows[0]),
      date: columns.date.get(rows[0]),
      urgency: urgencies.get(athlete_id)!,
      findings: rows.map((row) => findingToSee(world, row, states[row], latest)),
    };
  });
  return seen.sort(
    ({ athlete_id: a }, { athlete_id: b }) =>
      URGENCIES.indexOf(urgencies.get(a)!) - URGENCIES.indexOf(urgencies.get(b)!) ||
      weight.get(b)! - weight.get(a)! ||
      worst.get(b)! - worst.get(a)!,
  );
}

function findingToSee(
  { results, findings, protocol, testersOf }: SeeingWorld,
  row: number,
  state: ReferralState | undefined,
  latest: ReturnType<typeof latestDays>,
): ToSee['findings'][number] {
  const { columns } = findings;
  const athlete = columns.athlete_id.get(row)!;
  const measure = columns.measure.get(row)!;
  const day = columns.date.days[row];
  const programme = columns.programme.get(row);
  const ids = results.columns.athlete_id.dictionary;
  const measures = results.columns.measure.dictionary;
  return {
    rule: columns.rule.get(row)!,
    measure,
    date: columns.date.get(row),
    last_day: columns.last_day.get(row),
    message: columns.message.get(row)!,
    programme: programme === null ? null : (protocol.programmes.get(programme)?.label ?? programme),
    has_newer_reading: latest(ids.find(athlete), measures.find(measure)) > day,
    testers: testersOf(athlete, protocol.byName.get(measure)!, day),
    referral: state === undefined ? null : referralOf(state),
  };
}

function referralOf({ since, seenOn, closedBefore, closings }: ReferralState): ToSee['findings'][number]['referral'] {
  return {
    since: isoOrNull(since),
    seen_on: isoOrNull(seenOn),
    closed_before: closedBefore !== null || closings > 0,
  };
}

const isoOrNull = (day: number | null): string | null => (day === null ? null : isoDay(day));

/** How many athletes of a season were referred and are settled: no finding of theirs is open any more. */
export function settledReferrals({ findings, desk }: SeeingWorld, season: number): number {
  const { columns } = findings;
  const open = new Set<string>();
  const closed = new Set<string>();
  for (const [row, state] of referralStates(findings, desk).entries()) {
    if (columns.season.values[row] !== season || columns.grade.get(row) !== 'refer') continue;
    (state?.state === 'closed' ? closed : open).add(columns.athlete_id.get(row)!);
  }
  return [...closed].filter((id) => !open.has(id)).length;
}
