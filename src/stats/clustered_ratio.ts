import { quantile } from './quantile.ts';
import { seededDraw } from './random.ts';
import { logRelativeRisk, type TwoGroups } from './relative_risk.ts';

/** Over this share of draws that tell nothing there is no interval. */
const MOST_LOST = 0.05;

export interface ClusteredRatio {
  readonly ratio: number;
  /** undefined: too many draws told nothing */
  readonly low: number | undefined;
  readonly high: number | undefined;
}

const NOTHING: TwoGroups = { flagged: 0, tested: 0, othersFlagged: 0, othersTested: 0 };

function added(a: TwoGroups, b: TwoGroups): TwoGroups {
  return {
    flagged: a.flagged + b.flagged,
    tested: a.tested + b.tested,
    othersFlagged: a.othersFlagged + b.othersFlagged,
    othersTested: a.othersTested + b.othersTested,
  };
}

/**
 * Ratio of two shares where an athlete has several readings, perhaps in both groups. 95 % interval by bootstrap: athletes
 * are drawn with replacement, each with all readings, and the limits are the 2.5 % and 97.5 % quantiles of the ratio (0.5
 * in all four cells where one is 0). A draw with an empty group, or with nobody or everybody flagged in both, is made anew;
 * if that is more than 5 % of the draws there are no limits. Source: An Introduction to the Bootstrap, Chapman & Hall 1993,
 * chapter 13.
 * @param athletes the readings of each athlete
 * @param draws how many times athletes are drawn
 * @param seed the same seed gives the same limits
 * @returns undefined if a group is empty, or nobody or everybody is flagged in both
 */
export function clusteredRatio(
  athletes: readonly TwoGroups[],
  draws: number,
  seed: number,
): ClusteredRatio | undefined {
  const log = logRelativeRisk(athletes.reduce(added, NOTHING));
  if (log === undefined) return undefined;
  const counted = athletes.filter(({ tested, othersTested }) => tested + othersTested > 0);
  const draw = seededDraw(seed);
  const logs = new Float64Array(draws);
  const mostLost = Math.floor(draws * MOST_LOST);
  let lost = 0;
  for (let at = 0; at < draws; ) {
    const drawn = logRelativeRisk(resample(counted, draw));
    if (drawn !== undefined) logs[at++] = drawn;
    else if (++lost > mostLost) return { ratio: Math.exp(log), low: undefined, high: undefined };
  }
  logs.sort();
  return { ratio: Math.exp(log), low: Math.exp(quantile(logs, 0.025)!), high: Math.exp(quantile(logs, 0.975)!) };
}

function resample(athletes: readonly TwoGroups[], draw: (bound: number) => number): TwoGroups {
  let [flagged, tested, othersFlagged, othersTested] = [0, 0, 0, 0];
  for (let left = athletes.length; left > 0; left--) {
    const athlete = athletes[draw(athletes.length)];
    flagged += athlete.flagged;
    tested += athlete.tested;
    othersFlagged += athlete.othersFlagged;
    othersTested += athlete.othersTested;
  }
  return { flagged, tested, othersFlagged, othersTested };
}
