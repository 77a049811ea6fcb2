import type { AttendanceBook } from '../groups/attendance.ts';
import type { Station } from '../groups/forms.ts';
import { measuredFor } from '../groups/rule_needs.ts';
import { didYouMean } from '../protocol/nearest.ts';
import type { Measure, Protocol } from '../protocol/types.ts';
import type { Screening } from '../screening/types.ts';
import { foldKey } from '../units/keys.ts';
import { UsageError } from './options.ts';

/**
 * The stations that a command line asks for, with what was taken there in any season: the one named, else all that sheets
 * name, else everything that is taken as one. Whoever names measures gets those.
 * @throws UsageError for a measure or a station that nobody knows, with those that there are
 */
export function stationsWanted(
  station: string | undefined,
  measures: readonly string[] | undefined,
  book: AttendanceBook,
  protocol: Protocol,
  screening: Screening,
): readonly Station[] {
  const taken = protocol.measures.filter(({ derivation }) => derivation === undefined);
  if (measures !== undefined) return [{ name: station, measures: measuresNamed(measures, protocol) }];
  const at = (name: string): Station => ({
    name,
    measures: taken.filter(({ index }) => book.stations.had(index, name)),
  });
  if (station !== undefined) return [at(stationKnown(station, book, screening))];
  const known = book.stations.all();
  return known.length === 0 ? [{ name: undefined, measures: taken }] : known.map(at);
}

const CURE = 'Name what is measured there, as in --measure height,body_mass';

function stationKnown(station: string, book: AttendanceBook, { sheets }: Screening): string {
  const isIt = (name: string): boolean => foldKey(name) === foldKey(station);
  const read = book.stations.all();
  const found = read.find(isIt);
  if (found !== undefined) return found;
  const named = [...new Set(sheets.flatMap((entry) => entry.station ?? []))].sort();
  const listed = named.find(isIt);
  if (listed !== undefined) {
    throw new UsageError(
      `--station: no reading of station ${listed} was read yet, so nobody knows what it measures. ${CURE}`,
    );
  }
  const known = [...new Set([...read, ...named])].sort();
  const hint =
    known.length === 0 ? 'No sheet names a station; station: in screening.yaml does.' : didYouMean(station, known);
  throw new UsageError(`--station: there is no station ${station}. ${hint} ${CURE}`);
}

/** Measures by name; a derived one or a compound stands for its parts. */
function measuresNamed(names: readonly string[], protocol: Protocol): readonly Measure[] {
  const wanted = new Set<number>();
  for (const name of names) {
    const compound = protocol.compounds.find((one) => one.name === name);
    const measure = protocol.byName.get(name);
    const found = compound?.parts ?? (measure && [measure]);
    if (found === undefined) {
      const known = [...protocol.measures, ...protocol.compounds].map((one) => one.name);
      throw new UsageError(`--measure: there is no measure ${name}. ${didYouMean(name, known)}`);
    }
    for (const index of found.flatMap(measuredFor)) wanted.add(index);
  }
  return protocol.measures.filter(({ index }) => wanted.has(index));
}
