import { Z95 } from './normal.ts';

/** Two groups and how many of each are flagged. */
export interface TwoGroups {
  readonly flagged: number;
  readonly tested: number;
  readonly othersFlagged: number;
  readonly othersTested: number;
}

export interface RelativeRisk {
  readonly ratio: number;
  readonly low: number;
  readonly high: number;
}

/** Added to all four cells where one of them is empty. */
const HALF = 0.5;

/** Whether one of the four cells is 0, so that 0.5 is added to all of them. */
export function hasEmptyCell({ flagged, tested, othersFlagged, othersTested }: TwoGroups): boolean {
  return [flagged, tested - flagged, othersFlagged, othersTested - othersFlagged].includes(0);
}

/** Whether there is anything to compare: somebody in both groups, and neither nobody nor everybody flagged in both. */
function isComparable({ flagged, tested, othersFlagged, othersTested }: TwoGroups): boolean {
  if (!(tested > 0 && othersTested > 0)) return false;
  const all = flagged + othersFlagged;
  return all > 0 && all < tested + othersTested;
}

interface LogRatio {
  readonly log: number;
  /** standard error of the logarithm */
  readonly error: number;
}

function logRatio(groups: TwoGroups): LogRatio {
  const more = hasEmptyCell(groups) ? HALF : 0;
  const a = groups.flagged + more;
  const b = groups.othersFlagged + more;
  const n = groups.tested + 2 * more;
  const m = groups.othersTested + 2 * more;
  return { log: Math.log(a / n / (b / m)), error: Math.sqrt(1 / a - 1 / n + 1 / b - 1 / m) };
}

/**
 * Natural logarithm of the ratio of two shares, (a/n) / (b/m). If one of the four cells a, n − a, b, m − b is 0, 0.5 is
 * added to all of them. Source of the ratio: Biometrics 1978;34:469-474; of the 0.5: Ann Hum Genet 1956;20:309-311.
 * @returns undefined if a group is empty, or nobody or everybody is flagged in both
 */
export function logRelativeRisk(groups: TwoGroups): number | undefined {
  return isComparable(groups) ? logRatio(groups).log : undefined;
}

/**
 * Ratio of two shares with its 95 % interval, log method: exp(log ratio ± z √(1/a − 1/n + 1/b − 1/m)), with 0.5 in all
 * four cells if one is 0. Needs one tested in each group. Source: Biometrics 1978;34:469-474.
 * @returns undefined if a group is empty, or nobody or everybody is flagged in both
 */
export function relativeRisk(groups: TwoGroups): RelativeRisk | undefined {
  if (!isComparable(groups)) return undefined;
  const { log, error } = logRatio(groups);
  return { ratio: Math.exp(log), low: Math.exp(log - Z95 * error), high: Math.exp(log + Z95 * error) };
}
