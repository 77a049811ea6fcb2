import type { AthleteBook } from '../../athletes/book.ts';
import type { Protocol } from '../../protocol/types.ts';
import { semAt } from '../../results/errors.ts';
import { type RobustScale, robustScale } from '../../stats/mad.ts';
import { Z95 } from '../../stats/normal.ts';
import { outlierChance } from '../../stats/outlier_chance.ts';
import { isFallback, isOutlierZ, outlierDistance, robustZ } from '../../stats/robust_z.ts';
import { round9 } from '../../stats/round9.ts';
import { smallestStep } from '../../stats/smallest_step.ts';
import type { Results } from '../../tables/schemas.ts';
import { type Cell, cellsOf, SCORE_COLUMNS, scoresOf } from './cells.ts';

/** A kept score far from those of athletes who are alike. */
export interface Outlier {
  /** of results */
  readonly row: number;
  /** the cell in which it stands out most */
  readonly cell: Cell;
  readonly value: number;
  /** robust z */
  readonly z: number;
  /** least and most that is no outlier, in the measure's unit */
  readonly low: number;
  readonly high: number;
}

/** How many scores of a measure were looked at, and how many of them would stand out if nothing were odd. */
export interface ScoredTally {
  readonly season: number;
  readonly measure: string;
  /** kept scores, each once */
  readonly scores: number;
  /** under normality; an athlete of two sport groups is looked at twice */
  readonly expected: number;
}

/** Fewer athletes give no scale. */
const LEAST_ATHLETES = 20;
/** Where no error is known: so many of the smallest steps between readings. */
const LEAST_STEPS = 3;

/**
 * Finds kept scores of measured measures beyond a robust z of 3.5 within measure, side, sex, sport group and season, of 20
 * athletes or more; none of a measure with levels. Centre and spread come of first occasions, retests are held against
 * them too. Where more than half of the scores are alike a score must also be off by more than the error.
 * @returns by row and side, each score once, by its larger |z|
 */
export function robustOutliers(
  results: Results,
  book: AthleteBook,
  protocol: Protocol,
): { outliers: Outlier[]; tallies: ScoredTally[] } {
  const found = new Map<number, Outlier>();
  const tallies = new Map<string, OpenTally>();
  const isCounted = new Uint8Array(results.length * SCORE_COLUMNS.length);
  for (const cell of cellsOf(results, book, protocol)) {
    const limits = limitsOf(cell);
    if (limits === undefined) continue;
    const { values } = scoresOf(results, cell.side);
    const side = SCORE_COLUMNS.findIndex(([, own]) => own === cell.side);
    const tally = tallyOf(tallies, cell);
    tally.expected += cell.rows.length * outlierChance(cell.firstScores.length)!;
    for (const row of cell.rows) {
      const place = row * SCORE_COLUMNS.length + side;
      tally.scores += 1 - isCounted[place];
      isCounted[place] = 1;
      const z = limits.zOf(values[row]);
      if (z === undefined) continue;
      const before = found.get(place);
      if (before === undefined || round9(Math.abs(before.z)) < round9(Math.abs(z))) {
        found.set(place, { row, cell, value: values[row], z, low: limits.low, high: limits.high });
      }
    }
  }
  const ordered = [...found].sort(([a], [b]) => a - b);
  return { outliers: ordered.map(([, outlier]) => outlier), tallies: [...tallies.values()] };
}

type OpenTally = { -readonly [K in keyof ScoredTally]: ScoredTally[K] };

function tallyOf(tallies: Map<string, OpenTally>, { season, measure: { name } }: Cell): OpenTally {
  const key = `${season} ${name}`;
  const tally = tallies.get(key) ?? { season, measure: name, scores: 0, expected: 0 };
  tallies.set(key, tally);
  return tally;
}

interface Limits {
  readonly low: number;
  readonly high: number;
  /** z of an outlier; undefined for a score that is none */
  zOf(value: number): number | undefined;
}

function limitsOf(cell: Cell): Limits | undefined {
  if (cell.firstScores.length < LEAST_ATHLETES) return undefined;
  const scale = robustScale(cell.firstScores)!;
  if (robustZ(scale.median, scale) === undefined) return undefined;
  const error = isFallback(scale) ? errorOf(cell, scale) : 0;
  const distance = Math.max(outlierDistance(scale), error);
  return {
    low: round9(scale.median - distance),
    high: round9(scale.median + distance),
    zOf(value) {
      const z = robustZ(value, scale)!;
      return isOutlierZ(z) && round9(Math.abs(value - scale.median)) > round9(error) ? z : undefined;
    },
  };
}

/** What a score must be off by where the spread is that of a few: its 95 % error at the median, else three steps. */
function errorOf({ measure, firstScores }: Cell, { median }: RobustScale): number {
  if (measure.error !== undefined) return Z95 * semAt(measure.error, median);
  return LEAST_STEPS * (smallestStep(firstScores) ?? 0);
}
