/**
 * Quantile by linear interpolation between order statistics, type 7: the value at 1 + (n − 1) p. In the unit of the
 * values. Needs 1. Source: Am Stat 1996;50:361-365.
 * @param sorted ascending
 * @param p 0 to 1
 */
export function quantile(sorted: ArrayLike<number>, p: number): number | undefined {
  if (sorted.length === 0) return undefined;
  const place = (sorted.length - 1) * p;
  const below = Math.floor(place);
  const low = sorted[below];
  return low + (place - below) * ((sorted[below + 1] ?? low) - low);
}
