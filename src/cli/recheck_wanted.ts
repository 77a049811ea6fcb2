import type { Rechecked, RecheckTally } from '../findings/recheck.ts';
import type { Readings } from '../findings/suspects/readings.ts';
import { didYouMean } from '../protocol/nearest.ts';
import type { Recheck, Rejects } from '../tables/schemas.ts';
import { Table } from '../tables/table.ts';
import { foldKey } from '../units/keys.ts';
import { UsageError } from './options.ts';

/**
 * The station that a command line asks for, as the sheets write it.
 * @throws UsageError if nothing was read there, with those that there are
 */
export function stationWanted(
  station: string | undefined,
  readings: Readings,
  rejects: Rejects | undefined,
): string | undefined {
  if (station === undefined) return undefined;
  const rejected = rejects?.columns.station.dictionary.texts ?? [];
  const known = [...new Set([...readings.stations.dictionary.texts, ...rejected])].sort();
  const found = known.find((name) => foldKey(name) === foldKey(station));
  if (found !== undefined) return found;
  const hint =
    known.length === 0 ? 'No sheet names a station: station: in screening.yaml does.' : didYouMean(station, known);
  throw new UsageError(`--station: nothing was read at a station ${station}. ${hint}`);
}

/**
 * Seasons with readings, the newest first.
 * @throws UsageError for one that is asked for and was not read
 */
export function seasonsRead(wanted: readonly number[] | undefined, readings: Readings): number[] {
  const known = [...new Set(readings.season.subarray(0, readings.length))].sort((a, b) => b - a);
  for (const season of wanted ?? []) {
    if (known.includes(season)) continue;
    const list =
      known.length === 0 ? 'there are no readings' : `seasons with readings: ${known.toReversed().join(', ')}`;
    throw new UsageError(`--season: nobody was tested in season ${season}; ${list}`);
  }
  return known;
}

/** The part of a recheck list that is of a station. */
export function atStation({ table, tallies }: Rechecked, station: string | undefined): Rechecked {
  if (station === undefined) return { table, tallies };
  return {
    table: rowsWhere(table, (row) => table.columns.station.get(row) === station),
    tallies: tallies.filter(({ stations }) => stations.includes(station)),
  };
}

/** The part of a recheck list that is of some seasons; what belongs to none stays. */
export function inSeasons({ table, tallies }: Rechecked, seasons: readonly number[]): Rechecked {
  const isWanted = (season: number | null): boolean => season === null || seasons.includes(season);
  return {
    table: rowsWhere(table, (row) => isWanted(table.columns.season.get(row))),
    tallies: tallies.filter(({ season }: RecheckTally) => isWanted(season)),
  };
}

function rowsWhere(table: Recheck, isWanted: (row: number) => boolean): Recheck {
  const kept: Recheck = new Table(table.schema);
  for (let row = 0; row < table.length; row++) if (isWanted(row)) kept.appendRow(table, row);
  return kept;
}
