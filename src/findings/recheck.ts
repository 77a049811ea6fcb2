import type { AthleteBook } from '../athletes/book.ts';
import type { Protocol } from '../protocol/types.ts';
import { RECHECK, type Recheck, type RecheckKind, type Rejects, type Results } from '../tables/schemas.ts';
import { Table } from '../tables/table.ts';
import { readApart } from './outliers/apart.ts';
import { behindReader } from './outliers/behind.ts';
import { robustOutliers } from './outliers/robust_outliers.ts';
import { apartRow, orderIn, outlierRow, pushRow, type RecheckRow, suspectRow } from './recheck_rows.ts';
import { entrySuspects } from './suspects/entry_suspects.ts';
import type { Readings } from './suspects/readings.ts';
import type { Suspect } from './suspects/types.ts';

export interface RecheckInput {
  readonly readings: Readings;
  /** undefined: no sheets were read, so nobody knows what was left out */
  readonly rejects: Rejects | undefined;
  readonly results: Results;
  readonly book: AthleteBook;
  readonly protocol: Protocol;
  /** cells that are right however odd they look, as `file\nline\ncolumn`: never listed */
  readonly confirmed: ReadonlySet<string>;
}

/** How much of a measure was looked at in a season: what stands out by chance is read beside what was found. */
export interface RecheckTally {
  readonly season: number;
  readonly measure: string;
  /** where it was measured, by name */
  readonly stations: readonly string[];
  /** kept scores whose robust z was worked out */
  readonly scores: number;
  /** outliers to be expected among them by chance */
  readonly expected: number;
  /** comparisons of testers and of devices; 5 % of them look apart by chance */
  readonly comparisons: number;
}

export interface Rechecked {
  /** by file, line, column and trial; what belongs to no sheet comes last */
  readonly table: Recheck;
  /** by season, then in protocol order */
  readonly tallies: readonly RecheckTally[];
}

/** Lists the readings to look at again: likely entry errors, real outliers, and testers and devices who read apart. */
export function recheck(input: RecheckInput): Rechecked {
  const { readings, rejects, results, book, protocol, confirmed } = input;
  const suspects = entrySuspects(readings, rejects, { book, confirmed });
  const robust = robustOutliers(results, book, protocol);
  const { apart, tallies } = readApart(results, book, readings);
  const isExplained = explainedBy(suspects, readings);
  const rows: RecheckRow[] = suspects.map((suspect) => suspectRow(suspect, readings, rejects));
  const behind = behindReader(results, readings);
  for (const outlier of robust.outliers) {
    const at = behind(outlier.row, outlier.cell.side);
    if (at >= 0 && (isExplained(at) || confirmed.has(readings.cellKey(at)))) continue;
    rows.push(outlierRow(outlier, at, results, readings));
  }
  rows.push(...apart.map((one) => apartRow(one, readings)));
  const table: Recheck = new Table(RECHECK);
  for (const row of rows.sort(orderIn(protocol))) pushRow(table, row);
  return { table, tallies: talliesOf(readings, robust.tallies, tallies) };
}

/** Kinds that say why a whole column lies far off. */
const EXPLAINING: ReadonlySet<RecheckKind> = new Set(['column_unit_slip', 'columns_swapped']);

/**
 * Whether a suspect explains an outlier already: the reading behind it, another attempt of the same mean, or the whole
 * column or sheet that it stands in.
 */
function explainedBy(suspects: readonly Suspect[], readings: Readings): (at: number) => boolean {
  const { athlete, day, file, measure, column, side } = readings;
  const known = new Set<string>();
  const sheet = (at: number): string => `sheet ${file[at]} ${measure[at]}`;
  const whole = (at: number): string => `${sheet(at)} ${column[at]}`;
  const score = (at: number): string => `score ${athlete[at]} ${day[at]} ${measure[at]} ${side[at]}`;
  for (const { at, extent, kind } of suspects) {
    if (at < 0) continue;
    if (extent === 'reading') known.add(readings.measureOf(at).trials.keep === 'mean' ? score(at) : String(at));
    else if (EXPLAINING.has(kind)) known.add(extent === 'sheet' ? sheet(at) : whole(at));
  }
  return (at) => [String(at), score(at), sheet(at), whole(at)].some((key) => known.has(key));
}

type Counted = { readonly season: number; readonly measure: string } & Partial<RecheckTally>;

function talliesOf(readings: Readings, ...lists: readonly (readonly Counted[])[]): RecheckTally[] {
  const { byName } = readings.protocol;
  const found = new Map<string, RecheckTally>();
  const stationsOf = stationReader(readings);
  for (const counted of lists.flat()) {
    const { season, measure } = counted;
    const key = `${season} ${measure}`;
    const before = found.get(key) ?? { stations: stationsOf(season, measure), scores: 0, expected: 0, comparisons: 0 };
    found.set(key, { ...before, ...counted });
  }
  const index = (tally: RecheckTally): number => byName.get(tally.measure)!.index;
  return [...found.values()].sort((a, b) => a.season - b.season || index(a) - index(b));
}

/** Looks up where a measure was measured in a season. */
function stationReader(readings: Readings): (season: number, measure: string) => string[] {
  const { length, season, measure, station, stations, protocol } = readings;
  const found = new Map<number, Set<number>>();
  const key = (year: number, index: number): number => year * protocol.measures.length + index;
  for (let at = 0; at < length; at++) {
    if (station[at] < 0) continue;
    const place = key(season[at], measure[at]);
    const codes = found.get(place) ?? new Set();
    found.set(place, codes.add(station[at]));
  }
  return (year, name) =>
    [...(found.get(key(year, protocol.byName.get(name)!.index)) ?? [])].map((code) => stations.get(code)!).sort();
}
