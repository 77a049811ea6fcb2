import { MARK, type Results } from '../tables/schemas.ts';

/** What was read of one measure of an athlete on one occasion. */
interface Reading {
  /** days since 1970-01-01: the first of the occasion */
  readonly day: number;
  readonly left: boolean;
  readonly right: boolean;
  /** both limbs at once, or a measure without sides */
  readonly whole: boolean;
}

/** What has to be read again: one side, each of them, or the measure as a whole. */
export type ReadPart = 'left' | 'right' | 'each' | 'whole';

/** A measure of an athlete in a season. */
export interface ReadWhat {
  readonly athleteId: string;
  readonly season: number;
  /** name */
  readonly measure: string;
}

/** The last day after another one, in days since 1970-01-01, on which a part was read; undefined: it was not. */
export type LastReadReader = (what: ReadWhat, part: ReadPart, after: number) => number | undefined;

/**
 * Finds out what was read again on a later occasion of the season. A mark without a number is no reading: who was not
 * tested again is not better.
 * @param asked what may be asked for; nothing else of the results, which are many more, is kept
 */
export function lastReadReader(results: Results, asked: Iterable<ReadWhat>): LastReadReader {
  const readings = new Map<string, Reading[]>();
  for (const what of asked) readings.set(keyOf(what), []);
  const { athlete_id, season, measure, date, left, right, both, value } = results.columns;
  const isThere = (column: typeof left, row: number): boolean => !Number.isNaN(column.values[row]);
  for (let row = 0; readings.size > 0 && row < results.length; row++) {
    const what = { athleteId: athlete_id.get(row) ?? '', season: season.values[row], measure: measure.get(row) ?? '' };
    readings.get(keyOf(what))?.push({
      day: date.days[row],
      left: isThere(left, row),
      right: isThere(right, row),
      whole: isThere(both, row) || isThere(value, row),
    });
  }
  return (what, part, after) => {
    let last = after;
    for (const reading of readings.get(keyOf(what)) ?? []) {
      if (reading.day > last && TELLS[part](reading)) last = reading.day;
    }
    return last > after ? last : undefined;
  };
}

const keyOf = ({ athleteId, season, measure }: ReadWhat): string => `${season} ${measure} ${athleteId}`;

const TELLS: Record<ReadPart, (reading: Reading) => boolean> = {
  left: ({ left }) => left,
  right: ({ right }) => right,
  each: ({ left, right }) => left && right,
  whole: ({ left, right, whole }) => whole || (left && right),
};

const PAINS: readonly (readonly [number, ReadPart])[] = [
  [MARK.painLeft, 'left'],
  [MARK.painRight, 'right'],
  [MARK.painOther, 'whole'],
];

/**
 * Finds out whose pain at a measure is over: what hurt was read again on a later occasion of the season without pain.
 * Where the results tell of no pain nothing is over.
 */
export function painOverReader(results: Results, season: number): (athleteId: string, measure: string) => boolean {
  const { columns, length } = results;
  const pains = new Map<string, { readonly what: ReadWhat; readonly days: (number | undefined)[] }>();
  for (let row = 0; row < length; row++) {
    if (columns.season.values[row] !== season) continue;
    const marks = columns.marks.values[row];
    if (PAINS.every(([mark]) => (marks & mark) === 0)) continue;
    const what = { athleteId: columns.athlete_id.get(row) ?? '', season, measure: columns.measure.get(row) ?? '' };
    const pain = pains.get(keyOf(what)) ?? { what, days: [] };
    pains.set(keyOf(what), pain);
    for (const [at, [mark]] of PAINS.entries()) {
      if ((marks & mark) !== 0) pain.days[at] = Math.max(pain.days[at] ?? 0, columns.date.days[row]);
    }
  }
  const lastRead = lastReadReader(
    results,
    [...pains.values()].map(({ what }) => what),
  );
  return (athleteId, measure) => {
    const pain = pains.get(keyOf({ athleteId, season, measure }));
    if (pain === undefined) return false;
    return PAINS.every(([, part], at) => {
      const day = pain.days[at];
      return day === undefined || lastRead(pain.what, part, day) !== undefined;
    });
  };
}
