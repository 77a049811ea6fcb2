import type { AthleteBook } from '../../athletes/book.ts';
import type { Measure, Protocol } from '../../protocol/types.ts';
import type { NumberColumn } from '../../tables/columns.ts';
import type { Results } from '../../tables/schemas.ts';
import type { Side } from '../../units/sides.ts';
import { sportGroupFinder } from '../sport_groups.ts';

/** Athletes of one season, sex and sport group. */
export interface Peers {
  readonly season: number;
  /** '' where it is not known */
  readonly sex: string;
  /** '' for those in none */
  readonly sportGroup: string;
}

/** Kept scores of one measure and side of athletes who are alike. */
export interface Cell extends Peers {
  readonly measure: Measure;
  readonly side: Side;
  /** rows of results with such a score, in their order */
  readonly rows: readonly number[];
  /** their scores on each athlete's first occasion of the season: a retest is no second athlete */
  readonly firstScores: readonly number[];
}

/** Where a kept score stands in results, and the side it is of. */
export const SCORE_COLUMNS = [
  ['left', 'left'],
  ['right', 'right'],
  ['both', 'both'],
  ['value', 'none'],
] as const satisfies readonly (readonly [string, Side])[];

export function scoresOf(results: Results, side: Side): NumberColumn {
  return results.columns[SCORE_COLUMNS.find(([, own]) => own === side)![0]];
}

interface OpenCell extends Cell {
  readonly rows: number[];
  readonly firstScores: number[];
  lastAthlete: number;
}

/** Measures whose scores have a spread: those that are measured, and not in a few levels. */
export function scoredMeasures({ measures }: Protocol): Measure[] {
  return measures.filter(({ derivation, levels }) => derivation === undefined && levels === undefined);
}

/**
 * Parts kept scores by measure, side, season, sex and sport group. An athlete of two sport groups is in a cell of each,
 * one of none in the cells of those in none.
 * @param results by athlete and date, as derive gives them
 * @returns by measure, then in order of appearance
 */
export function cellsOf(results: Results, book: AthleteBook, protocol: Protocol): Cell[] {
  const measures = new Map(scoredMeasures(protocol).map((measure) => [measure.name, measure]));
  const measureOf = results.columns.measure.dictionary.texts.map((name) => measures.get(name));
  const peersOf = peersReader(results, book, protocol);
  const scores = SCORE_COLUMNS.map(([column, side]) => ({ side, values: results.columns[column].values }));
  const { athlete_id, measure } = results.columns;
  const open = new Map<Peers, Map<number, OpenCell>>();
  for (let row = 0; row < results.length; row++) {
    const own = measureOf[measure.codes[row]];
    if (own === undefined) continue;
    for (const [at, { side, values }] of scores.entries()) {
      const score = values[row];
      if (Number.isNaN(score)) continue;
      for (const peers of peersOf(row)) {
        const cell = cellOf(open, peers, own, side, at);
        cell.rows.push(row);
        // Rows of one athlete stand together, by date.
        if (cell.lastAthlete !== athlete_id.codes[row]) cell.firstScores.push(score);
        cell.lastAthlete = athlete_id.codes[row];
      }
    }
  }
  return [...open.values()].flatMap((cells) => [...cells.values()]).sort((a, b) => a.measure.index - b.measure.index);
}

function cellOf(
  open: Map<Peers, Map<number, OpenCell>>,
  peers: Peers,
  measure: Measure,
  side: Side,
  place: number,
): OpenCell {
  const cells = open.get(peers) ?? new Map<number, OpenCell>();
  open.set(peers, cells);
  const key = measure.index * SCORE_COLUMNS.length + place;
  const known = cells.get(key);
  if (known !== undefined) return known;
  const cell: OpenCell = { ...peers, measure, side, rows: [], firstScores: [], lastAthlete: -1 };
  cells.set(key, cell);
  return cell;
}

/** Reads whom the athlete of a row is compared with; equal peers are the same object. */
function peersReader(results: Results, book: AthleteBook, protocol: Protocol): (row: number) => readonly Peers[] {
  const groupsOf = sportGroupFinder(protocol);
  const { athlete_id, season, team } = results.columns;
  const known = new Map<string, Peers>();
  const peersOf = (year: number, sex: string, sportGroup: string): Peers => {
    const key = `${year}\n${sex}\n${sportGroup}`;
    const peers = known.get(key) ?? { season: year, sex, sportGroup };
    known.set(key, peers);
    return peers;
  };
  let last = -1;
  let lastSeason = Number.NaN;
  let peers: readonly Peers[] = [];
  return (row) => {
    const year = season.values[row];
    if (athlete_id.codes[row] === last && year === lastSeason) return peers;
    last = athlete_id.codes[row];
    lastSeason = year;
    const facts = book.find(athlete_id.get(row) ?? '', year);
    const groups = groupsOf(facts?.team ?? team.get(row));
    peers = (groups.length > 0 ? groups : ['']).map((group) => peersOf(year, facts?.sex ?? '', group));
    return peers;
  };
}
