import type { AthleteBook } from '../athletes/book.ts';
import type { Protocol } from '../protocol/types.ts';
import { NO_DAY } from '../tables/columns.ts';
import type { Findings, Results } from '../tables/schemas.ts';
import { type Battery, batteryReader } from './batteries.ts';
import { BUILT_IN_STATUSES } from './check.ts';
import { checksByMeasureCode } from './checks.ts';

/** How many athletes a rule judged in a season, and how many it flagged. */
export interface Tally {
  readonly season: number;
  /** a rule of the protocol, or pain, unable, one_side */
  readonly rule: string;
  /** '' for all athletes */
  readonly team: string;
  /** distinct athletes with every side and part that the rule needs */
  readonly tested: number;
  /** those of them with a finding */
  readonly flagged: number;
}

/** One athlete in one season, as far as the rows have been read; both arrays by order of the check. */
interface Standing {
  readonly teams: readonly string[];
  /** first day of the occasion that counts, NO_DAY as long as there is none */
  readonly judgedOn: Int32Array;
  /** 1 if flagged there; a built-in finding on any measure counts for all measures together */
  readonly flagged: Uint8Array;
}

/** Tested and flagged of one team in one season, by order of the check. */
interface Counts {
  readonly tested: Int32Array;
  readonly flagged: Int32Array;
}

/**
 * Counts who was judged and who was flagged, by season, rule and team. An athlete counts once, on the first occasion of
 * the season on which the rule had all that it needs, and once in each of their teams.
 * @param results in the order of results.csv, by athlete and date
 * @returns by season, then rules in protocol order, the built-in ones last, then all athletes before the teams
 */
export function tally(results: Results, findings: Findings, athletes: AthleteBook, protocol: Protocol): Tally[] {
  const checks = checksByMeasureCode(results, protocol);
  const batteryOf = batteryReader(results, athletes, protocol);
  const isFlagged = findingReader(results, findings);
  const names = [...protocol.rules.map((rule) => rule.name), ...BUILT_IN_STATUSES];
  const counts = new Map<number, Map<string, Counts>>();
  const { athlete_id, season, date, measure } = results.columns;
  let seasons = new Map<number, Standing>();
  for (let row = 0; row < results.length; row++) {
    if (row > 0 && athlete_id.codes[row] !== athlete_id.codes[row - 1]) {
      count(seasons, counts, names.length);
      seasons = new Map();
    }
    const battery = batteryOf(row);
    const standing = seasons.get(season.values[row]) ?? standingOf(battery, names.length);
    seasons.set(season.values[row], standing);
    const { judgedOn, flagged } = standing;
    for (const check of checks[measure.codes[row]]) {
      const { rule, order } = check;
      if (rule !== undefined && !battery.applies[rule.index]) continue;
      if ((judgedOn[order] !== NO_DAY && judgedOn[order] !== date.days[row]) || !check.isTested(row)) continue;
      judgedOn[order] = date.days[row];
      if (flagged[order] === 0 && isFlagged(row, check.name)) flagged[order] = 1;
    }
  }
  count(seasons, counts, names.length);
  return talliesOf(counts, names);
}

/** Whether a rule flags more than half of everybody whom it judged: more likely the test is off than the athletes. */
export function flagsMost({ tested, flagged }: Tally): boolean {
  return 2 * flagged > tested;
}

function standingOf({ teams }: Battery, checks: number): Standing {
  return { teams, judgedOn: new Int32Array(checks).fill(NO_DAY), flagged: new Uint8Array(checks) };
}

/** Looks up whether a row of results has a finding of a rule. */
function findingReader(results: Results, findings: Findings): (row: number, rule: string) => boolean {
  const { athlete_id, season, date, measure } = results.columns;
  const of = findings.columns;
  const byAthlete = new Map<number, number[]>();
  for (let finding = 0; finding < findings.length; finding++) {
    const athlete = athlete_id.dictionary.find(of.athlete_id.get(finding) ?? '');
    const list = byAthlete.get(athlete);
    if (list) list.push(finding);
    else byAthlete.set(athlete, [finding]);
  }
  return (row, rule) =>
    byAthlete
      .get(athlete_id.codes[row])
      ?.some(
        (finding) =>
          of.rule.get(finding) === rule &&
          of.date.days[finding] === date.days[row] &&
          of.season.values[finding] === season.values[row] &&
          of.measure.get(finding) === measure.get(row),
      ) ?? false;
}

function count(seasons: ReadonlyMap<number, Standing>, counts: Map<number, Map<string, Counts>>, checks: number): void {
  for (const [season, { teams, judgedOn, flagged }] of seasons) {
    const byTeam = counts.get(season) ?? new Map<string, Counts>();
    counts.set(season, byTeam);
    for (const team of ['', ...teams]) {
      const own = byTeam.get(team) ?? { tested: new Int32Array(checks), flagged: new Int32Array(checks) };
      byTeam.set(team, own);
      for (let order = 0; order < checks; order++) {
        if (judgedOn[order] === NO_DAY) continue;
        own.tested[order]++;
        own.flagged[order] += flagged[order];
      }
    }
  }
}

const byCodeUnit = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

function talliesOf(counts: ReadonlyMap<number, ReadonlyMap<string, Counts>>, names: readonly string[]): Tally[] {
  const tallies: Tally[] = [];
  for (const [season, byTeam] of [...counts].sort(([a], [b]) => a - b)) {
    const teams = [...byTeam].sort(([a], [b]) => byCodeUnit(a, b));
    for (const [order, rule] of names.entries()) {
      for (const [team, { tested, flagged }] of teams) {
        if (tested[order] > 0) tallies.push({ season, rule, team, tested: tested[order], flagged: flagged[order] });
      }
    }
  }
  return tallies;
}
