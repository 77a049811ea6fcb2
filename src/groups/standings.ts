import type { AthleteBook } from '../athletes/book.ts';
import type { Member, Members } from '../athletes/members.ts';
import { batteryFinder } from '../findings/batteries.ts';
import type { PastInjuries } from '../outcomes/past.ts';
import type { Protocol } from '../protocol/types.ts';
import type { Findings, Results } from '../tables/schemas.ts';
import { type Occasion, SeasonJudge, type Verdicts } from './verdicts.ts';

/** An athlete in one season: where they belong, and what became of them by rule. */
export interface Standing extends Verdicts {
  readonly athleteId: string;
  readonly season: number;
  /** as written, each once */
  readonly teams: readonly string[];
  readonly sex: string | null;
}

export interface StandingOptions {
  /** who belongs to a season, tested or not */
  readonly members: Members;
  readonly past: PastInjuries;
  /** which occasion of the season counts, of those on which the rule had all that it needs */
  readonly occasion: 'first' | 'last';
}

/**
 * Everybody who belongs to a season with results, tested or not, by season and athlete_id. The order of the rows of the
 * results does not matter.
 */
export function standings(
  results: Results,
  findings: Findings,
  athletes: AthleteBook,
  protocol: Protocol,
  { members, past, occasion }: StandingOptions,
): Standing[] {
  const judge = new SeasonJudge(results, findings, protocol, past, occasion);
  const batteryOf = batteryFinder(protocol);
  const seasons = [...rowsBySeason(results)].sort(([a], [b]) => a - b);
  return seasons.flatMap(([season, rowsOf]) => {
    const listed = new Map(members(season).map((member) => [member.athleteId, member]));
    const lastDay = lastDayOf(results, rowsOf);
    return [...new Set([...listed.keys(), ...rowsOf.keys()])].sort().map((athleteId) => {
      const rows = rowsOf.get(athleteId) ?? [];
      const { team, sex } = belonging(athleteId, season, athletes, listed.get(athleteId), results, rows);
      const battery = batteryOf(team, sex);
      const verdicts = judge.judge({ athleteId, season, battery }, occasionsOf(rows, results), lastDay);
      return { athleteId, season, teams: battery.teams, sex, ...verdicts };
    });
  });
}

/** Team and sex as the findings were judged by: those of the athlete book, else of the roster, else of the results. */
function belonging(
  athleteId: string,
  season: number,
  athletes: AthleteBook,
  member: Member | undefined,
  results: Results,
  rows: readonly number[],
): { readonly team: string | null; readonly sex: string | null } {
  const facts = athletes.find(athleteId, season);
  const ofRow = rows.length > 0 ? results.columns.team.get(rows[0]) : null;
  return { team: facts?.team ?? member?.team ?? ofRow, sex: facts?.sex ?? member?.sex ?? null };
}

/** Rows of one athlete and season by the day of their occasion, the first day first. */
function occasionsOf(rows: readonly number[], results: Results): Occasion[] {
  const days = new Map<number, number[]>();
  for (const row of rows) addTo(days, results.columns.date.days[row], row);
  return [...days].map(([day, own]) => ({ day, rows: own })).sort((a, b) => a.day - b.day);
}

function rowsBySeason(results: Results): Map<number, Map<string, number[]>> {
  const { athlete_id, season } = results.columns;
  const seasons = new Map<number, Map<string, number[]>>();
  for (let row = 0; row < results.length; row++) {
    const rowsOf = seasons.get(season.values[row]) ?? new Map<string, number[]>();
    seasons.set(season.values[row], rowsOf);
    addTo(rowsOf, athlete_id.get(row) ?? '', row);
  }
  return seasons;
}

function addTo<K>(map: Map<K, number[]>, key: K, row: number): void {
  const rows = map.get(key);
  if (rows) rows.push(row);
  else map.set(key, [row]);
}

function lastDayOf(results: Results, rowsOf: ReadonlyMap<string, readonly number[]>): number {
  let last = Number.NEGATIVE_INFINITY;
  for (const rows of rowsOf.values()) for (const row of rows) last = Math.max(last, results.columns.date.days[row]);
  return last;
}
