import type { Measure } from '../../protocol/types.ts';
import { semAt } from '../../results/errors.ts';
import { quantile } from '../../stats/quantile.ts';
import { median } from '../../stats/simple.ts';
import { FORCE, MASS, PRESSURE } from '../../units/unit.ts';

/** Middle and robust SD of a group. */
export interface Group {
  readonly centre: number;
  readonly spread: number;
}

/**
 * How readings of one kind usually lie to each other: robust SDs, on the logarithm where sides are compared in percent,
 * else in the unit. NaN: not known.
 */
export interface Scale {
  readonly isLog: boolean;
  /** of the difference between two attempts of a side on a day */
  readonly trial: number;
  /** of the difference between the middles of two sides on a day */
  readonly side: number;
  /** of the difference between the middles of a side on two days, one after the other */
  readonly time: number;
  /** by sex */
  readonly groups: ReadonlyMap<number, Group>;
}

/** What a scale is worked out from: differences, and the middle of each athlete on each day by sex. */
export interface Distances {
  readonly trial: number[];
  readonly side: number[];
  readonly time: number[];
  readonly middles: Map<number, number[]>;
}

/** The median of distances from a fixed middle, times this, is the SD of a normal distribution. */
const TO_SD = 1 / 0.6745;
const FEWEST_PAIRS = 8;
const FEWEST_IN_GROUP = 10;
/** Of the group's spread, where there are too few pairs: what strength tests usually show. */
const SHARE_OF_GROUP = { trial: 0.35, side: 0.45, time: 0.5 };

/** The first quartile of distances from a fixed middle, times this, is the SD of a normal distribution. */
const QUARTILE_TO_SD = 1 / 0.3186;
const MANY_PAIRS = 40;
/** The median says so many times more than the quartile: half of the distances are of another kind. */
const TORN = 1.5;

/** Seasons of an athlete lie no farther apart than so many times the two sides, unless sheets are wrong. */
const MOST_OF_SIDE = 3;

/** Robust SD about 0. One sheet of three that is wrong spoils half of the differences from one season to the next. */
function spreadAboutZero(differences: readonly number[]): number {
  const sizes = Float64Array.from(differences, Math.abs).sort();
  const byMedian = TO_SD * quantile(sizes, 0.5)!;
  const byQuartile = QUARTILE_TO_SD * quantile(sizes, 0.25)!;
  const isTorn = sizes.length >= MANY_PAIRS && byQuartile > 0 && byMedian > TORN * byQuartile;
  return isTorn ? byQuartile : byMedian;
}

/** A zero among hundreds of readings is one to look at, and no reason to compare the others otherwise. */
const FEW = 0.01;

/**
 * Whether readings of a measure lie to each other as ratios do.
 * @param notPositive share of its readings that are 0 or less
 */
export function isRatioScale(measure: Measure, notPositive: number): boolean {
  if (notPositive > FEW || measure.levels !== undefined) return false;
  if (measure.sides === 'each') return measure.compare === 'percent';
  const { dimension } = measure.unit;
  return (measure.plausible?.[0] ?? 0) > 0 || dimension === FORCE || dimension === MASS || dimension === PRESSURE;
}

function groupsOf(middles: ReadonlyMap<number, number[]>, floor: number): Map<number, Group> {
  const groups = new Map<number, Group>();
  const everybody = [...middles.values()].flat();
  for (const [sex, own] of middles) {
    const values = own.length >= FEWEST_IN_GROUP ? own : everybody;
    if (values.length < FEWEST_IN_GROUP) continue;
    const centre = median(values)!;
    const spread = TO_SD * median(values.map((value) => Math.abs(value - centre)))!;
    groups.set(sex, { centre, spread: Math.max(spread, floor) });
  }
  return groups;
}

/**
 * Robust SDs of a kind: 1.4826 times the median distance, at least the step of reading and half the declared error.
 * @param step of reading, in the unit
 */
export function scaleOf(measure: Measure, isLog: boolean, step: number, distances: Distances): Scale {
  const level = median([...distances.middles.values()].flat()) ?? Number.NaN;
  const value = isLog ? Math.exp(level) : level;
  const perUnit = isLog ? 1 / value : 1;
  const floor = Number.isFinite(perUnit) ? step * perUnit : 0;
  const groups = groupsOf(distances.middles, floor);
  const sem = measure.error === undefined ? Number.NaN : semAt(measure.error, value) * perUnit;
  const widths = [...groups.values()].map(({ spread }) => spread);
  const groupSpread = widths.length > 0 ? median(widths)! : Number.NaN;
  const spreadOf = (differences: readonly number[], share: number): number => {
    const isEnough = differences.length >= FEWEST_PAIRS;
    const found = isEnough ? spreadAboutZero(differences) : Math.max(share * groupSpread, 2 * (sem || 0));
    // Two readings of one athlete lie no farther apart than those of two athletes, unless sheets are wrong.
    const most = Math.SQRT2 * groupSpread || Number.POSITIVE_INFINITY;
    return Math.max(Math.min(found, most), floor, 0.5 * (sem || 0)) || Number.NaN;
  };
  const side = spreadOf(distances.side, SHARE_OF_GROUP.side);
  const time = spreadOf(distances.time, SHARE_OF_GROUP.time);
  return {
    isLog,
    trial: spreadOf(distances.trial, SHARE_OF_GROUP.trial),
    side,
    time: distances.side.length >= FEWEST_PAIRS ? Math.min(time, MOST_OF_SIDE * side) : time,
    groups,
  };
}
