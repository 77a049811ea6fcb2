import { AttendanceBook } from '../groups/attendance.ts';
import { coverage } from '../groups/coverage.ts';
import { retestReader } from '../groups/retests.ts';
import { teamsOf } from '../groups/to_call.ts';
import { didYouMean } from '../protocol/nearest.ts';
import type { Protocol } from '../protocol/types.ts';
import { namesOf } from '../screening/names.ts';
import { COVERAGE, type Coverage } from '../tables/schemas.ts';
import { Table } from '../tables/table.ts';
import { isoDay } from '../units/days.ts';
import { foldKey } from '../units/keys.ts';
import { ioFor, provenanceFor } from './audience/coach_ends.ts';
import { viewFor } from './audience/view.ts';
import type { AudienceOptions } from './audience.ts';
import type { Derived } from './derived.ts';
import type { Io } from './io.ts';
import { judgeJob } from './judged.ts';
import type { OnOptions } from './on_day.ts';
import { type FolderOptions, UsageError } from './options.ts';

export interface CoverageWanted extends FolderOptions, OnOptions, AudienceOptions {
  readonly team?: string;
  readonly station?: string;
}

/** Coverage as a command line asks for it, cut to its audience. */
export interface CoverageJob extends Pick<Derived, 'inputs' | 'provenance'> {
  readonly io: Io;
  readonly protocol: Protocol;
  readonly shown: Coverage;
  /** null: there are no readings */
  readonly season: number | null;
  /** ISO day */
  readonly on: string;
  /** names by id, only if they were asked for */
  readonly names: ReadonlyMap<string, string>;
}

/** Works out coverage from the tables named, else from the folder. */
export async function coverageJob(io: Io, tables: readonly string[], wanted: CoverageWanted): Promise<CoverageJob> {
  const ends = ioFor(io, wanted.audience);
  let attendance: AttendanceBook | undefined;
  const judged = await judgeJob(ends, tables, wanted, 'bilat coverage', {
    observations(batch, { protocol }) {
      attendance ??= new AttendanceBook(protocol);
      attendance.add(batch);
    },
  });
  const { setup, findings, results, members, season, desk, inputs, provenance } = judged;
  const { protocol } = setup;
  const book = attendance ?? new AttendanceBook(protocol);
  const all =
    season === null
      ? (new Table(COVERAGE) as Coverage)
      : coverage(book, protocol, {
          members: members(season),
          desk,
          retestBy: retestReader(findings, results, protocol, desk, season),
          results,
        });
  const team = nameWanted('team', wanted.team, teamsAmong(all.rows()), setup.screening.teamAliases);
  const station = nameWanted('station', wanted.station, book.stations.all());
  const asked: Coverage = new Table(COVERAGE);
  const { columns } = all;
  for (let row = 0; row < all.length; row++) {
    if (team !== undefined && !(columns.team.get(row) ?? '').split(';').includes(team)) continue;
    if (station !== undefined && columns.station.get(row) !== station) continue;
    asked.appendRow(all, row);
  }
  return {
    io: ends,
    protocol,
    shown: viewFor(wanted.audience, protocol)(asked),
    season,
    on: isoDay(desk.on),
    names: namesOf(setup),
    inputs,
    provenance: async () => provenanceFor(await provenance(), wanted.audience),
  };
}

/** Teams of athletes, by code unit. */
export function teamsAmong(athletes: Iterable<{ readonly team: string | null }>): string[] {
  const teams = new Set<string>();
  for (const athlete of athletes) for (const team of teamsOf(athlete)) if (team !== null) teams.add(team);
  return [...teams].sort();
}

/**
 * A team or station that a command line asks for, as the tables write it.
 * @param aliases other spellings, in lower case
 * @throws UsageError if there is none of that name, with the nearest that there is
 */
export function nameWanted(
  what: 'team' | 'station',
  wanted: string | undefined,
  known: readonly string[],
  aliases: ReadonlyMap<string, string> = new Map(),
): string | undefined {
  if (wanted === undefined) return undefined;
  const meant = aliases.get(wanted.trim().toLowerCase()) ?? wanted;
  const found = known.find((name) => foldKey(name) === foldKey(meant));
  if (found !== undefined) return found;
  const hint = known.length === 0 ? `There is no ${what} at all.` : didYouMean(wanted, known);
  throw new UsageError(`--${what}: there is no ${what} ${wanted}. ${hint}`);
}
