import { flagsMost } from '../groups/decision.ts';
import { type ToCall, toCall } from '../groups/to_call.ts';
import type { Trouble } from '../problems/failure.ts';
import type { Protocol } from '../protocol/types.ts';
import { isVitalSign } from '../sheets/row_cells.ts';
import type { Findings, Grade, Rejects, Results } from '../tables/schemas.ts';
import { isoDay } from '../units/days.ts';
import { foldKey } from '../units/keys.ts';
import { namesOf } from './names.ts';
import type { RunOutcome } from './run.ts';
import type { Setup } from './setup.ts';
import { type SuspectReading, suspectReadings } from './suspect_readings.ts';
import { settledReferrals, type ToSee, toSee } from './to_see.ts';
import { NO_WORK, type WorkToDo, workToDo } from './work_to_do.ts';

/** A reading that cannot be, to be taken again while the athlete is there. */
export interface ToRetake {
  readonly vital: boolean;
  readonly code: string;
  readonly athlete_id: string | null;
  readonly name?: string;
  readonly measure: string | null;
  readonly station: string | null;
  readonly file: string;
  readonly line: number | null;
  readonly column: number | null;
  readonly message: string;
  readonly suggestion: string;
}

/** One rule, everybody together. */
export interface RuleTally {
  readonly rule: string;
  readonly grade: Grade;
  readonly tested: number;
  readonly flagged: number;
  /** more than half of everybody: the test is likelier off than the athletes */
  readonly questioned: boolean;
}

/** A vital sign that not everybody of the season has a reading of. */
export interface Unjudged {
  readonly label: string;
  /** of the athletes of the season */
  readonly athletes: readonly string[];
}

export interface Unread {
  readonly file: string;
  readonly line: number | null;
  readonly column: number | null;
  readonly heading: string | null;
  readonly code: string;
  readonly cells: number;
  readonly message: string;
  readonly suggestion: string;
}

/** What a run must say, in the order in which people act on it. */
export interface Summary {
  /** ISO day from which all is looked at; null: no reading tells of a day */
  readonly on: string | null;
  /** the newest season; findings of earlier ones are in the tables only */
  readonly season: number | null;
  readonly earlierSeasons: readonly number[];
  /** so few of the season before that likelier a year is mistyped; null: enough, or there is none before */
  readonly thin: { readonly athletes: number; readonly before: number; readonly season: number } | null;
  readonly athletes: number;
  readonly sheets: number;
  readonly observations: number;
  readonly toSee: readonly ToSee[];
  /** athletes who were referred in the season, and of whom no referral is open any more */
  readonly settled: number;
  /** whether there is a clearance file: without one nobody is held back */
  readonly knowsClearance: boolean;
  /** of whom an existing clearance file says nothing: work is planned for them as if they were cleared */
  readonly withoutClearance: readonly string[];
  /** athletes whom other seasons would send to medical staff */
  readonly earlierReferrals: readonly { readonly season: number; readonly athletes: number }[];
  /** vital signs of everybody without a reading: nobody is to be taken for well by that */
  readonly unjudged: readonly Unjudged[];
  readonly toRetake: readonly ToRetake[];
  /** readings that were taken and may be entry errors, and real outliers */
  readonly suspects: readonly SuspectReading[];
  readonly work: WorkToDo;
  readonly toCall: ToCall;
  readonly tallies: readonly RuleTally[];
  readonly unread: readonly Unread[];
  readonly cells: number;
  readonly rejectedCells: number;
  readonly ignoredCells: number;
  readonly notes: readonly string[];
  /** cells of remark columns, which only people can read */
  readonly remarks: number;
  readonly warnings: readonly Trouble[];
}

/** Who has no reading of a vital sign that everybody is given, in a season. */
function unjudged({ results }: RunOutcome, season: number, protocol: Protocol): Unjudged[] {
  const { columns } = results;
  const vital = protocol.everyone
    .map((name) => protocol.byName.get(name)!)
    .filter((measure) => measure.derivation === undefined && isVitalSign(measure));
  const everybody = new Set<string>();
  const read = new Map(vital.map(({ name }) => [name, new Set<string>()]));
  for (let row = 0; row < results.length; row++) {
    if (columns.season.values[row] !== season) continue;
    const id = columns.athlete_id.get(row)!;
    everybody.add(id);
    if (!Number.isNaN(columns.value.values[row])) read.get(columns.measure.get(row)!)?.add(id);
  }
  return vital
    .map(({ name, label }) => ({ label, athletes: [...everybody].filter((id) => !read.get(name)!.has(id)).sort() }))
    .filter(({ athletes }) => athletes.length > 0);
}

/** How many athletes earlier seasons would send to medical staff: a mistyped year must not hide them. */
function earlierReferrals(findings: Findings, season: number): { season: number; athletes: number }[] {
  const { columns } = findings;
  const bySeason = new Map<number, Set<number>>();
  for (let row = 0; row < findings.length; row++) {
    const other = columns.season.values[row];
    if (columns.grade.get(row) !== 'refer' || other === season) continue;
    bySeason.set(other, (bySeason.get(other) ?? new Set()).add(columns.athlete_id.codes[row]));
  }
  return [...bySeason].sort((a, b) => b[0] - a[0]).map(([other, ids]) => ({ season: other, athletes: ids.size }));
}

/** Teams that no sport group holds: only what everybody is given is judged for their athletes. */
function teamsWithoutGroup(teams: readonly string[], protocol: Protocol): string[] {
  if (protocol.sportGroups.length === 0) return [];
  const grouped = new Set(protocol.sportGroups.flatMap((group) => group.teams.map(foldKey)));
  const alone = teams.filter((team) => !team.split(';').some((one) => grouped.has(foldKey(one))));
  return alone.sort().map((team) => {
    const who = team === '' ? 'athletes without a team are' : `team ${team} is`;
    return `${who} in no sport group of the protocol: only the rules for everybody apply`;
  });
}

/** Below this share of the athletes of the season before, a season is likelier a mistyped year. */
const THIN = 0.2;

function thinSeason({ columns, length }: Results, season: number | null): Summary['thin'] {
  const athletes = new Map<number, Set<number>>();
  for (let row = 0; row < length; row++) {
    const year = columns.season.values[row];
    athletes.set(year, (athletes.get(year) ?? new Set()).add(columns.athlete_id.codes[row]));
  }
  const before = [...athletes.keys()]
    .filter((year) => season !== null && year < season)
    .reduce((a, b) => Math.max(a, b), 0);
  const count = athletes.get(season ?? 0)?.size ?? 0;
  const countBefore = athletes.get(before)?.size ?? 0;
  return count < THIN * countBefore ? { athletes: count, before: countBefore, season: before } : null;
}

/** Seasons of everything that was read, or could not be, the newest first. */
function seasonsOf({ results, rejects }: RunOutcome): number[] {
  const met = new Set<number>();
  for (const { columns, length } of [results, rejects]) {
    for (let row = 0; row < length; row++) met.add(columns.season.values[row]);
  }
  met.delete(Number.NaN);
  return [...met].sort((a, b) => b - a);
}

/** A season that stands years after the one before it is likelier a mistyped date. */
function strangeSeason(seasons: readonly number[]): string[] {
  const [newest, before] = seasons;
  if (before === undefined || newest - before < 2) return [];
  return [`season ${newest} stands ${newest - before} years after ${before}: look for a mistyped year in the dates`];
}

function toRetake(
  rejects: Rejects,
  season: number | null,
  protocol: Protocol,
  names: ReadonlyMap<string, string>,
): ToRetake[] {
  const { columns } = rejects;
  const found: ToRetake[] = [];
  for (let row = 0; row < rejects.length; row++) {
    const measure = columns.measure.get(row);
    const measures = (measure ?? '').split(';').flatMap((name) => protocol.byName.get(name) ?? []);
    const vital = measures.some(isVitalSign);
    // A pressure that could not be read is as urgent as one that cannot be; other cells wait with the unread.
    if (columns.code.get(row) !== 'implausible' && !vital) continue;
    // A pressure whose day is not known may be of today.
    const rowSeason = columns.season.get(row);
    // What could not be read of a season to come, be its year mistyped or not, is as urgent as this one's.
    const isOfSeason = rowSeason !== null && season !== null && rowSeason >= season;
    if (!isOfSeason && !(vital && rowSeason === null)) continue;
    const athlete_id = columns.athlete_id.get(row);
    found.push({
      vital,
      code: columns.code.get(row)!,
      athlete_id,
      name: athlete_id === null ? undefined : names.get(athlete_id),
      measure,
      station: columns.station.get(row),
      file: columns.file.get(row)!,
      line: columns.line.get(row),
      column: columns.column.get(row),
      message: columns.message.get(row)!,
      suggestion: columns.suggestion.get(row)!,
    });
  }
  return [...found.filter((reading) => reading.vital), ...found.filter((reading) => !reading.vital)];
}

function unread(rejects: Rejects): Unread[] {
  const { columns } = rejects;
  const found: Unread[] = [];
  for (let row = 0; row < rejects.length; row++) {
    found.push({
      file: columns.file.get(row)!,
      line: columns.line.get(row),
      column: columns.column.get(row),
      heading: columns.heading.get(row),
      code: columns.code.get(row)!,
      cells: columns.cells.get(row) ?? 0,
      message: columns.message.get(row)!,
      suggestion: columns.suggestion.get(row)!,
    });
  }
  return found;
}

/** Rules in the order of the protocol, each over everybody of the season. */
function tallies({ cohort }: RunOutcome, protocol: Protocol, season: number): RuleTally[] {
  const grades = new Map<string, Grade>(protocol.rules.map((rule) => [rule.name, rule.grade]));
  for (const [rule, grade] of Object.entries(protocol.statuses)) grades.set(rule, grade);
  return [...cohort.rows()]
    .filter((row) => row.season === season && row.group_kind === 'all' && row.tested! > 0)
    .map(({ rule, tested, flagged }) => {
      const counts = { tested: tested!, flagged: flagged! };
      const questioned = counts.tested >= protocol.sharing.minTested && flagsMost(counts);
      return { rule: rule!, grade: grades.get(rule!)!, ...counts, questioned };
    });
}

const sum = (values: Float64Array, count: number): number =>
  values.subarray(0, count).reduce((total, value) => total + value, 0);

/** Gathers from the tables of a run what people must be told. */
export function summarise(outcome: RunOutcome, setup: Setup): Summary {
  const { results, findings, ledger, rejects } = outcome;
  const { protocol } = setup;
  const seasons = seasonsOf(outcome);
  const season = outcome.season ?? seasons[0] ?? null;
  const names = namesOf(setup);
  const athletes = new Set<number>();
  const teams = new Set<number>();
  for (let row = 0; row < results.length; row++) {
    if (results.columns.season.values[row] !== season) continue;
    athletes.add(results.columns.athlete_id.codes[row]);
    teams.add(results.columns.team.codes[row]);
  }
  const teamTexts = results.columns.team.dictionary.texts;
  const teamNames = [...teams].map((code) => teamTexts[code] ?? '');
  const world = { ...outcome, protocol, names };
  return {
    on: outcome.season === null ? null : isoDay(outcome.desk.on),
    season,
    earlierSeasons: seasons.filter((other) => other !== season),
    thin: thinSeason(results, season),
    athletes: athletes.size,
    sheets: ledger.length,
    observations: outcome.observations,
    toSee: season === null ? [] : toSee(world, season),
    settled: season === null ? 0 : settledReferrals(world, season),
    knowsClearance: outcome.desk.knowsClearance,
    withoutClearance: outcome.withoutClearance,
    earlierReferrals: season === null ? [] : earlierReferrals(findings, season),
    unjudged: season === null ? [] : unjudged(outcome, season, protocol),
    toRetake: toRetake(rejects, season, protocol, names),
    suspects: season === null ? [] : suspectReadings(outcome.recheck, season, { protocol, names, rejects, findings }),
    work: season === null ? NO_WORK : workToDo(outcome.plan, protocol, names),
    toCall: toCall(outcome.coverage, protocol),
    tallies: season === null ? [] : tallies(outcome, protocol, season),
    unread: unread(rejects),
    cells: sum(ledger.columns.cells.values, ledger.length),
    rejectedCells: sum(ledger.columns.rejected.values, ledger.length),
    ignoredCells: sum(ledger.columns.ignored.values, ledger.length),
    notes: [...strangeSeason(seasons), ...teamsWithoutGroup(teamNames, protocol), ...outcome.notes],
    remarks: outcome.remarks,
    warnings: setup.warnings,
  };
}
