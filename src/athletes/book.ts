import type { Protocol } from '../protocol/types.ts';
import type { TextColumn } from '../tables/columns.ts';
import { NO_DAY } from '../tables/columns.ts';
import { ATHLETES } from '../tables/schemas.ts';
import { type Schema, Table } from '../tables/table.ts';
import type { Dominance, Roster, RosterRow } from './roster.ts';

export type Athletes = Table<typeof ATHLETES>;

/** What is known of an athlete in a season. */
export interface AthleteFacts {
  /** "A" or "A;B" */
  readonly team: string | null;
  readonly sex: string | null;
  /** parallel to the protocol's dominance columns */
  readonly dominance: readonly (Dominance | null)[];
}

export interface AthleteBook {
  find(athleteId: string, season: number): AthleteFacts | undefined;
}

/** Columns of athletes.csv: the contract's, then the dominance columns of the protocol. */
export function athletesSchema(protocol: Protocol): typeof ATHLETES {
  const dominance: Schema = protocol.dominanceColumns.map((name) => ({ name, kind: 'text', title: 'dominant side' }));
  return [...ATHLETES, ...dominance] as unknown as typeof ATHLETES;
}

interface Seen {
  readonly teams: Set<string>;
  sex: string | null;
}

/**
 * Gathers who belongs where and when: the roster where there is one, else what the sheets say. `seen` is told of every
 * athlete, season, team and sex that ingest meets.
 */
export class AthleteGatherer {
  readonly #roster = new Map<string, RosterRow[]>();
  readonly #seen = new Map<string, Map<number, Seen>>();

  constructor(roster: Roster | undefined) {
    for (const row of roster?.rows ?? []) {
      const rows = this.#roster.get(row.athleteId);
      if (rows) rows.push(row);
      else this.#roster.set(row.athleteId, [row]);
    }
  }

  /** Every team that the roster names. */
  rosterTeams(): Set<string> {
    return new Set([...this.#roster.values()].flatMap((rows) => rows.flatMap(({ teams }) => teams)));
  }

  /** The roster's line for an athlete in a season: that season's own, else the one that holds for every season. */
  rosterRow(athleteId: string, season: number): RosterRow | undefined {
    const rows = this.#roster.get(athleteId);
    return rows?.find((row) => row.season === season) ?? rows?.find((row) => row.season === null);
  }

  seen(athleteId: string, season: number, team: string | null, sex: string | null): void {
    let seasons = this.#seen.get(athleteId);
    if (seasons === undefined) {
      seasons = new Map();
      this.#seen.set(athleteId, seasons);
    }
    let facts = seasons.get(season);
    if (facts === undefined) {
      facts = { teams: new Set(), sex: null };
      seasons.set(season, facts);
    }
    if (team !== null) facts.teams.add(team);
    if (sex !== null) facts.sex ??= sex;
  }

  /** The athletes table, by athlete_id and season. Athletes on the roster who were never seen have their row too. */
  table(protocol: Protocol): Athletes {
    const table = new Table(athletesSchema(protocol));
    const add = (id: string, season: number | null, row: RosterRow | undefined, facts: Seen | undefined): void => {
      const { columns } = table;
      const teams = row && row.teams.length > 0 ? row.teams : [...(facts?.teams ?? [])].sort();
      columns.athlete_id.push(id);
      columns.season.push(season);
      columns.team.push(teams.join(';'));
      columns.sex.push(row?.sex ?? facts?.sex ?? null);
      columns.birth_date.pushDay(row?.birthDay ?? NO_DAY);
      columns.entry_year.push(row?.entryYear ?? null);
      columns.from.push(row ? 'roster' : 'sheets');
      for (const [at, name] of protocol.dominanceColumns.entries()) {
        (table.column(name) as TextColumn).push(row?.dominance[at] ?? null);
      }
    };
    const ids = [...new Set([...this.#roster.keys(), ...this.#seen.keys()])].sort();
    for (const id of ids) {
      const seasons = new Set<number>(this.#seen.get(id)?.keys() ?? []);
      const rows = this.#roster.get(id) ?? [];
      for (const row of rows) if (row.season !== null) seasons.add(row.season);
      if (seasons.size === 0) add(id, null, rows[0], undefined);
      for (const season of [...seasons].sort((a, b) => a - b)) {
        add(id, season, this.rosterRow(id, season), this.#seen.get(id)?.get(season));
      }
    }
    return table;
  }
}

/** Looks athletes up in an athletes table; a row without a season holds for every season. */
export function athleteBook(athletes: Athletes, protocol: Protocol): AthleteBook {
  const { columns } = athletes;
  const facts = new Map<string, Map<number | null, AthleteFacts>>();
  for (let row = 0; row < athletes.length; row++) {
    const id = columns.athlete_id.get(row);
    if (id === null) continue;
    const seasons = facts.get(id) ?? new Map<number | null, AthleteFacts>();
    facts.set(id, seasons);
    seasons.set(columns.season.get(row), {
      team: columns.team.get(row),
      sex: columns.sex.get(row),
      dominance: protocol.dominanceColumns.map(
        (name) => ((athletes.column(name) as TextColumn | undefined)?.get(row) ?? null) as Dominance | null,
      ),
    });
  }
  return {
    find(athleteId, season) {
      const seasons = facts.get(athleteId);
      return seasons?.get(season) ?? seasons?.get(null);
    },
  };
}
