import { flagsMost, tally } from '../findings/prevalence.ts';
import type { Trouble } from '../problems/failure.ts';
import type { Protocol } from '../protocol/types.ts';
import { isVitalSign } from '../sheets/row_cells.ts';
import { round9 } from '../stats/round9.ts';
import type { Findings, Grade, Rejects } from '../tables/schemas.ts';
import { foldKey } from '../units/keys.ts';
import type { RunOutcome } from './run.ts';
import type { Setup } from './setup.ts';
import { type ToSee, toSee } from './to_see.ts';

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

export interface RuleTally {
  readonly rule: string;
  readonly grade: Grade;
  /** null: everybody */
  readonly team: string | null;
  readonly tested: number;
  readonly flagged: number;
  /** more than half of everybody: the test is likelier off than the athletes */
  readonly questioned: boolean;
  /** so many of a team that the protocol would speak of sharing (`sharing:`); everybody is no team */
  readonly common: boolean;
  /** of a rule of grade act, everybody who is beyond it, with the side or sides; else none */
  readonly who: readonly string[];
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
  /** the newest season; findings of earlier ones are in the tables only */
  readonly season: number | null;
  readonly earlierSeasons: readonly number[];
  readonly athletes: number;
  readonly sheets: number;
  readonly observations: number;
  readonly toSee: readonly ToSee[];
  /** athletes whom other seasons would send to medical staff */
  readonly earlierReferrals: readonly { readonly season: number; readonly athletes: number }[];
  /** vital signs of everybody without a reading: nobody is to be taken for well by that */
  readonly unjudged: readonly Unjudged[];
  readonly toRetake: readonly ToRetake[];
  readonly tallies: readonly RuleTally[];
  /** share of a team from which on something is common to it */
  readonly commonFrom: number;
  /** whether an athlete counts in more than one team of the tallies */
  readonly inSeveralTeams: boolean;
  readonly unread: readonly Unread[];
  readonly cells: number;
  readonly rejectedCells: number;
  readonly ignoredCells: number;
  readonly notes: readonly string[];
  /** cells of remark columns, which only people can read */
  readonly remarks: number;
  readonly warnings: readonly Trouble[];
}

/** Names by id, only if names were asked for. */
function namesOf(setup: Setup): ReadonlyMap<string, string> {
  const names = new Map<string, string>();
  if (!setup.showNames) return names;
  for (const row of setup.roster?.rows ?? []) {
    const name = `${row.firstName} ${row.lastName}`.trim();
    if (name !== '') names.set(row.athleteId, name);
  }
  return names;
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
    if (rowSeason !== season && !(vital && rowSeason === null)) continue;
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

/** Who is to get work in a season, by rule: `K033 left`, `K036 left and right`; in the order of the findings. */
function toWorkOn({ findings }: RunOutcome, season: number): ReadonlyMap<string, readonly string[]> {
  const { columns } = findings;
  const byRule = new Map<string, Map<string, Set<string>>>();
  for (let row = 0; row < findings.length; row++) {
    if (columns.grade.get(row) !== 'act' || columns.season.values[row] !== season) continue;
    const rule = columns.rule.get(row)!;
    const athletes = byRule.get(rule) ?? new Map<string, Set<string>>();
    byRule.set(rule, athletes);
    const id = columns.athlete_id.get(row)!;
    athletes.set(id, (athletes.get(id) ?? new Set()).add(columns.side.get(row) ?? 'none'));
  }
  const words = (id: string, sides: ReadonlySet<string>): string =>
    [id, [...sides].filter((side) => side !== 'none').join(' and ')].join(' ').trim();
  return new Map([...byRule].map(([rule, athletes]) => [rule, [...athletes].map(([id, sides]) => words(id, sides))]));
}

function tallies(outcome: RunOutcome, protocol: Protocol, season: number): RuleTally[] {
  const act = toWorkOn(outcome, season);
  const rules = new Map<string, Grade>(protocol.rules.map((rule) => [rule.name, rule.grade]));
  for (const [rule, grade] of Object.entries(protocol.statuses)) rules.set(rule, grade);
  const { minTested, fromShare } = protocol.sharing;
  return tally(outcome.results, outcome.findings, outcome.book, protocol)
    .filter((entry) => entry.season === season && entry.tested > 0)
    .map((entry) => ({
      rule: entry.rule,
      grade: rules.get(entry.rule)!,
      team: entry.team === '' ? null : entry.team,
      tested: entry.tested,
      flagged: entry.flagged,
      questioned: entry.team === '' && entry.tested >= minTested && flagsMost(entry),
      common: entry.team !== '' && entry.tested >= minTested && round9(entry.flagged / entry.tested) >= fromShare,
      who: entry.team === '' ? (act.get(entry.rule) ?? []) : [],
    }));
}

const sum = (values: Float64Array, count: number): number =>
  values.subarray(0, count).reduce((total, value) => total + value, 0);

/** Gathers from the tables of a run what people must be told. */
export function summarise(outcome: RunOutcome, setup: Setup): Summary {
  const { results, findings, ledger, rejects } = outcome;
  // A season of which nothing could be read is a season all the same: its unread pressures come first.
  const met = new Set<number>();
  for (const { columns, length } of [results, rejects]) {
    for (let row = 0; row < length; row++) met.add(columns.season.values[row]);
  }
  met.delete(Number.NaN);
  const seasons = [...met].sort((a, b) => b - a);
  const season = seasons[0] ?? null;
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
  return {
    season,
    earlierSeasons: seasons.slice(1),
    athletes: athletes.size,
    sheets: ledger.length,
    observations: outcome.observations,
    toSee: season === null ? [] : toSee(outcome, season, setup.protocol, names),
    earlierReferrals: season === null ? [] : earlierReferrals(findings, season),
    unjudged: season === null ? [] : unjudged(outcome, season, setup.protocol),
    toRetake: toRetake(rejects, season, setup.protocol, names),
    tallies: season === null ? [] : tallies(outcome, setup.protocol, season),
    commonFrom: setup.protocol.sharing.fromShare,
    inSeveralTeams: [...teams].some((code) => teamTexts[code]?.includes(';')),
    unread: unread(rejects),
    cells: sum(ledger.columns.cells.values, ledger.length),
    rejectedCells: sum(ledger.columns.rejected.values, ledger.length),
    ignoredCells: sum(ledger.columns.ignored.values, ledger.length),
    notes: [...strangeSeason(seasons), ...teamsWithoutGroup(teamNames, setup.protocol), ...outcome.notes],
    remarks: outcome.remarks,
    warnings: setup.warnings,
  };
}
