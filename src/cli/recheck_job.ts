import type { Provenance } from '../files/metadata.ts';
import { recheck } from '../findings/recheck.ts';
import { Readings } from '../findings/suspects/readings.ts';
import { namesOf } from '../screening/names.ts';
import { confirmedCells } from '../sheets/corrections.ts';
import { isForMedical } from './audience/private_measures.ts';
import type { Audience } from './audience/who.ts';
import { deriveJob } from './derived.ts';
import type { Io } from './io.ts';
import type { FolderOptions } from './options.ts';
import { atStation, inSeasons, seasonsRead, stationWanted } from './recheck_wanted.ts';
import type { RecheckView } from './render/recheck.ts';

export interface RecheckFlags extends FolderOptions {
  readonly station?: string;
  readonly season?: readonly number[];
  readonly audience: Audience;
}

/** A recheck list as a command line asks for it, not yet cut to its audience. */
export interface RecheckJob extends RecheckView {
  /** absolute paths of what was read */
  readonly inputs: readonly string[];
  provenance(): Promise<Provenance>;
}

/**
 * Works out the recheck list from the tables named, else from the sheets of the folder: only they tell what could not be
 * read and which corrections met their cell.
 * @param onlyNewest without a season asked for: the newest alone, else all
 */
export async function recheckJob(
  io: Io,
  names: readonly string[],
  flags: RecheckFlags,
  onlyNewest: boolean,
): Promise<RecheckJob> {
  let gathered: Readings | undefined;
  const { setup, results, book, rejects, inputs, provenance } = await deriveJob(io, names, flags, 'bilat outliers', {
    anew: true,
    observations: (batch, { protocol }) => {
      gathered ??= new Readings(protocol);
      gathered.add(batch);
    },
  });
  const { protocol } = setup;
  const readings = gathered ?? new Readings(protocol);
  const station = stationWanted(flags.station, readings, rejects);
  const known = seasonsRead(flags.season, readings);
  const confirmed = confirmedCells(setup.corrections);
  const whole = atStation(recheck({ readings, rejects, results, book, protocol, confirmed }), station);
  const seasons = known.filter((season, at) => flags.season?.includes(season) ?? (!onlyNewest || at === 0));
  const { table, tallies } = inSeasons(whole, seasons);
  const others = known.filter((season) => !seasons.includes(season));
  const isHidden = (measure: string): boolean =>
    flags.audience !== 'medical' && isForMedical(protocol.byName.get(measure)!);
  return {
    table,
    tallies: tallies.filter(({ measure }) => !isHidden(measure)),
    seasons,
    others: new Map(others.map((season) => [season, linesOf(whole.table.columns.season, whole.table.length, season)])),
    hasRejects: rejects !== undefined,
    protocol,
    names: namesOf(setup),
    inputs,
    provenance,
  };
}

function linesOf({ values }: { readonly values: Float64Array }, length: number, season: number): number {
  return values.subarray(0, length).reduce((count, own) => count + Number(own === season), 0);
}
