import type { AthleteBook } from '../../athletes/book.ts';
import type { Measure } from '../../protocol/types.ts';
import { semAt } from '../../results/errors.ts';
import { type MedianDifference, medianDifference } from '../../stats/median_difference.ts';
import { round9 } from '../../stats/round9.ts';
import { median } from '../../stats/simple.ts';
import { smallestStep } from '../../stats/smallest_step.ts';
import { grouped } from '../../tables/grouped.ts';
import type { Results } from '../../tables/schemas.ts';
import type { Readings } from '../suspects/readings.ts';
import {
  changeDeviations,
  type Deviation,
  type Deviations,
  SOURCES,
  type Source,
  scoreDeviations,
} from './deviations.ts';
import { type FirstScore, firstScores } from './first_scores.ts';

/** A tester or a device whose readings lie apart from those of all others at the same measure in a season. */
export interface Apart {
  readonly source: Source;
  /** code into the testers or devices of the readings */
  readonly code: number;
  /** the other one, if there is just one: nobody knows which of the two is right */
  readonly onlyOther: number | undefined;
  readonly measure: Measure;
  readonly season: number;
  /** against earlier readings of the same athletes, else against athletes who are alike */
  readonly against: 'own_earlier' | 'peers';
  readonly athletes: number;
  readonly others: number;
  readonly isPercent: boolean;
  /** in %, or in the measure's unit */
  readonly difference: number;
  readonly low: number;
  readonly high: number;
  /** difference in standard errors */
  readonly score: number;
  /** most that is expected between testers: the 95 % error of the difference, or the measurement error where it is larger */
  readonly expected: number;
  /** rows of the readings behind it */
  readonly readings: readonly number[];
  /** what the changes of athletes say where only their scores lie apart, told in the same unit */
  readonly changes: Told | undefined;
}

/** A difference with its 95 % interval. */
type Told = Pick<MedianDifference, 'difference' | 'low' | 'high'>;

/** How many differences of a measure were looked at. */
export interface ComparedTally {
  readonly season: number;
  readonly measure: string;
  readonly comparisons: number;
}

/** Fewer athletes of a tester, or of the others, are not compared. */
const LEAST_ATHLETES = 10;

/**
 * Finds testers and devices who read apart, by measure and season. An athlete counts once, on the first occasion, with the
 * mean of the sides, if one tester (or device) measured both. Two comparisons each: the changes of athletes since an
 * earlier season, and their scores, both after the middle of their sex and sport groups is taken off. Apart is a
 * difference of medians whose 95 % interval leaves out 0, and which is beyond the standard error of measurement.
 */
export function readApart(
  results: Results,
  book: AthleteBook,
  readings: Readings,
): { apart: Apart[]; tallies: ComparedTally[] } {
  const apart: Apart[] = [];
  const tallies: ComparedTally[] = [];
  for (const [measure, scores] of firstScores(results, book, readings)) {
    const isPercent =
      measure.sides === 'each' &&
      measure.compare === 'percent' &&
      scores.every(({ logSize }) => !Number.isNaN(logSize));
    const seasons = [...new Set(scores.map(({ season }) => season))].sort((a, b) => a - b);
    for (const season of seasons) {
      const scale = scaleOf(measure, scores, season, isPercent);
      let comparisons = 0;
      for (const source of SOURCES) {
        const changes = compare(changeDeviations(scores, season, source, scale.number), scale);
        const levels = compare(scoreDeviations(scores, season, source, scale.number), scale);
        comparisons += changes.length + levels.length;
        const known = { source, measure, season, isPercent };
        for (const { isApart, ...one } of changes) {
          if (isApart) apart.push({ ...known, ...one, against: 'own_earlier', changes: undefined });
        }
        for (const { isApart, ...one } of levels) {
          const other = changes.find(({ code }) => code === one.code);
          if (isApart && !other?.isApart) apart.push({ ...known, ...one, against: 'peers', changes: other });
        }
      }
      if (comparisons > 0) tallies.push({ season, measure: measure.name, comparisons });
    }
  }
  return { apart, tallies };
}

/** How numbers of a measure are compared: by their logarithms, told in percent, or as they are. */
interface Scale {
  readonly number: (score: FirstScore) => number;
  /** of a difference, as it is told */
  readonly told: (difference: number) => number;
  /** standard error of measurement as it is told; 0: not known */
  readonly sem: number;
  /** step of the readings, as numbers are compared */
  readonly step: number;
}

function scaleOf(measure: Measure, scores: readonly FirstScore[], season: number, isPercent: boolean): Scale {
  const sizes = scores.filter((score) => score.season === season).map(({ size }) => size);
  const middle = median(sizes)!;
  const sem = measure.error === undefined ? 0 : semAt(measure.error, middle);
  const step = smallestStep(sizes) ?? 0;
  if (!isPercent) return { number: ({ size }) => size, told: (difference) => difference, sem, step };
  return {
    number: ({ logSize }) => logSize,
    told: (difference) => 100 * Math.expm1(difference),
    sem: (100 * sem) / middle,
    step: step / middle,
  };
}

type Compared = Omit<Apart, 'source' | 'measure' | 'season' | 'isPercent' | 'against' | 'changes'> & {
  readonly isApart: boolean;
};

/** Each tester or device against all others; two of them against each other once. */
function compare({ all, centres }: Deviations, scale: Scale): Compared[] {
  const byCode = grouped(all, ({ code }) => code);
  const codes = [...byCode.keys()].sort((a, b) => a - b);
  return (codes.length === 2 ? codes.slice(0, 1) : codes).flatMap((code) => {
    const own = byCode.get(code)!;
    if (own.length < LEAST_ATHLETES || all.length - own.length < LEAST_ATHLETES) return [];
    const others = all.filter((deviation) => deviation.code !== code);
    const values = (list: readonly Deviation[]): number[] => list.map(({ value }) => value);
    const found = medianDifference(values(own), values(others), { leastIqr: scale.step, centres })!;
    const { difference, low, high, error } = found;
    return {
      isApart: isApart(found, scale),
      code,
      onlyOther: codes.length === 2 ? codes[1] : undefined,
      athletes: own.length,
      others: others.length,
      difference: scale.told(difference),
      low: scale.told(low),
      high: scale.told(high),
      score: difference / error,
      expected: Math.max(scale.sem, scale.told((high - low) / 2)),
      readings: own.map(({ at }) => at),
    };
  });
}

function isApart({ difference, low, high }: MedianDifference, { told, sem }: Scale): boolean {
  return (round9(low) > 0 || round9(high) < 0) && round9(Math.abs(told(difference))) > round9(sem);
}
