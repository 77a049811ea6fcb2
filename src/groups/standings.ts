import type { AthleteBook } from '../athletes/book.ts';
import { hasLeft, type Member, type Members } from '../athletes/members.ts';
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
 * Everybody who belongs to a season with results, tested or not, by season and athlete_id; not who had left before its
 * first test. The order of the rows of the results does not matter.
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
    const { first, last } = testDays(results, rowsOf);
    const there = members(season).filter(({ leftDay }) => !hasLeft(leftDay, first));
    const listed = new Map(there.map((member) => [member.athleteId, member]));
    return [...new Set([...listed.keys(), ...rowsOf.keys()])].sort().map((athleteId) => {
      const rows = rowsOf.get(athleteId) ?? [];
      const { team, sex } = belonging(athleteId, season, athletes, listed.get(athleteId), results, rows);
      const battery = batteryOf(team, sex);
      const verdicts = judge.judge({ athleteId, season, battery }, occasionsOf(rows, results), last);
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

/** First and last day on which anybody was tested, in days since 1970-01-01. */
function testDays(
  { columns }: Results,
  rowsOf: ReadonlyMap<string, readonly number[]>,
): { readonly first: number; readonly last: number } {
  let first = Number.POSITIVE_INFINITY;
  let last = Number.NEGATIVE_INFINITY;
  for (const row of [...rowsOf.values()].flat()) {
    first = Math.min(first, columns.date.days[row]);
    last = Math.max(last, columns.date.days[row]);
  }
  return { first, last };
}
