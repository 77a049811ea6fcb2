import { flagsMost, tally } from '../findings/prevalence.ts';
import type { Trouble } from '../problems/failure.ts';
import type { Measure, Protocol } from '../protocol/types.ts';
import { NO_DAY } from '../tables/columns.ts';
import type { Findings, Grade, Rejects } from '../tables/schemas.ts';
import { PRESSURE, parseUnit } from '../units/unit.ts';
import type { RunOutcome } from './run.ts';
import type { Setup } from './setup.ts';

/** An athlete whom medical staff must see before training, with every finding that says so. */
export interface ToSee {
  readonly athlete_id: string;
  readonly name?: string;
  readonly team: string | null;
  readonly date: string | null;
  readonly findings: readonly { readonly rule: string; readonly measure: string; readonly message: string }[];
}

/** A reading that cannot be, to be taken again while the athlete is there. */
export interface ToRetake {
  readonly vital: boolean;
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
  readonly toRetake: readonly ToRetake[];
  readonly tallies: readonly RuleTally[];
  /** whether an athlete counts in more than one team of the tallies */
  readonly inSeveralTeams: boolean;
  readonly unread: readonly Unread[];
  readonly cells: number;
  readonly rejectedCells: number;
  readonly ignoredCells: number;
  readonly notes: readonly string[];
  readonly warnings: readonly Trouble[];
}

const HEART_RATE = parseUnit('/min')!.dimension;

/** Pressure and pulse that everybody is tested for: where a misreading or a true alarm cannot wait. */
function isVitalSign(measure: Measure, protocol: Protocol): boolean {
  const { dimension } = measure.unit;
  const inCompound = protocol.compounds.some((compound) => compound.parts.includes(measure));
  return (
    (dimension === PRESSURE || dimension === HEART_RATE) && (inCompound || protocol.everyone.includes(measure.name))
  );
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

/** Last day in a season on which each athlete has a result of each measure: a retest speaks louder than the test. */
function latestDays({ results }: RunOutcome, season: number): (athlete: number, measure: number) => number {
  const { columns } = results;
  const measures = columns.measure.dictionary.size;
  const latest = new Int32Array(columns.athlete_id.dictionary.size * measures).fill(NO_DAY);
  for (let row = 0; row < results.length; row++) {
    if (columns.season.values[row] !== season) continue;
    const place = columns.athlete_id.codes[row] * measures + columns.measure.codes[row];
    latest[place] = Math.max(latest[place], columns.date.days[row]);
  }
  return (athlete, measure) => latest[athlete * measures + measure];
}

function toSee(findings: Findings, season: number, outcome: RunOutcome, names: ReadonlyMap<string, string>): ToSee[] {
  const latest = latestDays(outcome, season);
  const byAthlete = new Map<string, { row: number; strictest: Map<string, number> }>();
  const { columns } = findings;
  const ids = outcome.results.columns.athlete_id.dictionary;
  const measures = outcome.results.columns.measure.dictionary;
  for (let row = 0; row < findings.length; row++) {
    if (columns.grade.get(row) !== 'refer' || columns.season.values[row] !== season) continue;
    const id = columns.athlete_id.get(row)!;
    const measure = columns.measure.get(row)!;
    if (latest(ids.find(id), measures.find(measure)) !== columns.date.days[row]) continue;
    const entry = byAthlete.get(id) ?? { row, strictest: new Map<string, number>() };
    byAthlete.set(id, entry);
    // Of several limits on one number the one that is nearest to it says most: 164 breaks 140 and 160.
    const key = `${measure}\n${columns.side.get(row)}\n${columns.field.get(row)}`;
    const before = entry.strictest.get(key);
    if (before === undefined || columns.margin.values[row] < columns.margin.values[before])
      entry.strictest.set(key, row);
  }
  return [...byAthlete].map(([athlete_id, { row, strictest }]) => ({
    athlete_id,
    name: names.get(athlete_id),
    team: columns.team.get(row),
    date: columns.date.get(row),
    findings: [...strictest.values()].map((at) => ({
      rule: columns.rule.get(at)!,
      measure: columns.measure.get(at)!,
      message: columns.message.get(at)!,
    })),
  }));
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
    if (columns.code.get(row) !== 'implausible' || columns.season.get(row) !== season) continue;
    const measure = columns.measure.get(row);
    const known = measure === null ? undefined : protocol.byName.get(measure);
    const athlete_id = columns.athlete_id.get(row);
    found.push({
      vital: known !== undefined && isVitalSign(known, protocol),
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

function tallies(outcome: RunOutcome, protocol: Protocol, season: number): RuleTally[] {
  const rules = new Map<string, Grade>(protocol.rules.map((rule) => [rule.name, rule.grade]));
  for (const [rule, grade] of Object.entries(protocol.statuses)) rules.set(rule, grade);
  return tally(outcome.results, outcome.findings, outcome.book, protocol)
    .filter((entry) => entry.season === season && entry.tested > 0)
    .map((entry) => ({
      rule: entry.rule,
      grade: rules.get(entry.rule)!,
      team: entry.team === '' ? null : entry.team,
      tested: entry.tested,
      flagged: entry.flagged,
      questioned: entry.team === '' && entry.tested >= protocol.sharing.minTested && flagsMost(entry),
    }));
}

const sum = (values: Float64Array, count: number): number =>
  values.subarray(0, count).reduce((total, value) => total + value, 0);

/** Gathers from the tables of a run what people must be told. */
export function summarise(outcome: RunOutcome, setup: Setup): Summary {
  const { results, findings, ledger, rejects } = outcome;
  const seasons = [...new Set(results.columns.season.values.subarray(0, results.length))].sort((a, b) => b - a);
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
  return {
    season,
    earlierSeasons: seasons.slice(1),
    athletes: athletes.size,
    sheets: ledger.length,
    observations: outcome.observations,
    toSee: season === null ? [] : toSee(findings, season, outcome, names),
    toRetake: toRetake(rejects, season, setup.protocol, names),
    tallies: season === null ? [] : tallies(outcome, setup.protocol, season),
    inSeveralTeams: [...teams].some((code) => teamTexts[code]?.includes(';')),
    unread: unread(rejects),
    cells: sum(ledger.columns.cells.values, ledger.length),
    rejectedCells: sum(ledger.columns.rejected.values, ledger.length),
    ignoredCells: sum(ledger.columns.ignored.values, ledger.length),
    notes: [...outcome.notes],
    warnings: setup.warnings,
  };
}
