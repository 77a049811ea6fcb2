import type { AthleteBook } from '../../athletes/book.ts';
import type { Measure } from '../../protocol/types.ts';
import { mean } from '../../stats/simple.ts';
import type { Results } from '../../tables/schemas.ts';
import type { Side } from '../../units/sides.ts';
import { sportGroupFinder } from '../sport_groups.ts';
import type { Readings } from '../suspects/readings.ts';
import { behindReader } from './behind.ts';
import { scoredMeasures } from './cells.ts';

/** What an athlete read at a measure on the first occasion of a season, both sides together, and who measured it. */
export interface FirstScore {
  readonly athlete: number;
  readonly season: number;
  /** sex and sport groups: athletes of the same are alike */
  readonly peers: string;
  /** mean of the sides, in the measure's unit */
  readonly size: number;
  /** mean of the logarithms of the sides; NaN if one is not above 0 */
  readonly logSize: number;
  /** codes of the readings' dictionaries; -1: not known, or not the same on both sides */
  readonly tester: number;
  readonly device: number;
  /** a row of the readings that is behind it */
  readonly at: number;
}

/** Scores that stand for an athlete, and the sides they are of. */
const SIDED = {
  each: [
    ['left', 'left'],
    ['right', 'right'],
  ],
  none: [['value', 'none']],
} as const satisfies Record<Measure['sides'], readonly (readonly [string, Side])[]>;

/** Who measured the rows of results that are of a first occasion; parallel to them, 12 bytes a row. */
interface Measured {
  /** by measure, by athlete and season */
  readonly rows: ReadonlyMap<Measure, readonly number[]>;
  readonly at: Int32Array;
  readonly tester: Int32Array;
  readonly device: Int32Array;
}

/**
 * First scores by athlete and season, measure after measure: those of one are held at a time. A measure that only one
 * tester measured with one device has none.
 */
export function* firstScores(
  results: Results,
  book: AthleteBook,
  readings: Readings,
): Generator<readonly [Measure, readonly FirstScore[]]> {
  const { rows, at, tester, device } = measuredBy(results, readings);
  const peersOf = peersReader(results, book, readings);
  const { athlete_id, season } = results.columns;
  for (const [measure, own] of rows) {
    if (!areSeveral(own, tester) && !areSeveral(own, device)) continue;
    const scores = own.map((row): FirstScore => {
      const known = scoresOf(results, row, measure);
      return {
        athlete: athlete_id.codes[row],
        season: season.values[row],
        peers: peersOf(row),
        size: mean(known)!,
        logSize: known.every((score) => score > 0) ? mean(known.map(Math.log))! : Number.NaN,
        tester: tester[row],
        device: device[row],
        at: at[row],
      };
    });
    yield [measure, scores];
  }
}

function areSeveral(rows: readonly number[], codes: Int32Array): boolean {
  const known = rows.find((row) => codes[row] >= 0);
  return known !== undefined && rows.some((row) => codes[row] >= 0 && codes[row] !== codes[known]);
}

/** Scores of the sides that an athlete was read on. */
function scoresOf({ columns }: Results, row: number, { sides }: Measure): number[] {
  return SIDED[sides].map(([column]) => columns[column].values[row]).filter((score) => !Number.isNaN(score));
}

function measuredBy(results: Results, readings: Readings): Measured {
  const scored = new Map(scoredMeasures(readings.protocol).map((measure) => [measure.name, measure]));
  const measureOf = results.columns.measure.dictionary.texts.map((name) => scored.get(name));
  const behind = behindReader(results, readings);
  const [at, tester, device] = [0, 1, 2].map(() => new Int32Array(results.length).fill(-1));
  const { athlete_id, measure, season } = results.columns;
  const rows = new Map<Measure, number[]>();
  for (let row = 0; row < results.length; row++) {
    const own = measureOf[measure.codes[row]];
    if (own === undefined) continue;
    const list = rows.get(own) ?? [];
    rows.set(own, list);
    const last = list.at(-1);
    const isSeen =
      last !== undefined &&
      athlete_id.codes[last] === athlete_id.codes[row] &&
      season.values[last] === season.values[row];
    if (isSeen) continue;
    for (const [column, side] of SIDED[own.sides]) {
      if (Number.isNaN(results.columns[column].values[row])) continue;
      const place = behind(row, side);
      if (place < 0) continue;
      const isFirst = at[row] < 0;
      tester[row] = isFirst || tester[row] === readings.tester[place] ? readings.tester[place] : -1;
      device[row] = isFirst || device[row] === readings.device[place] ? readings.device[place] : -1;
      if (isFirst) at[row] = place;
    }
    if (at[row] >= 0) list.push(row);
  }
  return { rows, at, tester, device };
}

/** Tells athletes who are alike by sex and sport groups; equal texts are one. */
function peersReader(results: Results, book: AthleteBook, { protocol }: Readings): (row: number) => string {
  const groupsOf = sportGroupFinder(protocol);
  const { athlete_id, season, team } = results.columns;
  const known = new Map<string, string>();
  return (row) => {
    const facts = book.find(athlete_id.get(row) ?? '', season.values[row]);
    const peers = `${facts?.sex ?? ''}\n${groupsOf(facts?.team ?? team.get(row)).join(';')}`;
    const same = known.get(peers) ?? peers;
    known.set(same, same);
    return same;
  };
}
