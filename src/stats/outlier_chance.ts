/** Share beyond a robust z of 3.5 among n normal values, simulated; n ascending. */
const SIMULATED: readonly (readonly [n: number, share: number])[] = [
  [10, 0.0168],
  [15, 0.011],
  [20, 0.0068],
  [30, 0.0039],
  [50, 0.0022],
  [100, 0.0011],
  [200, 0.0008],
];
/** Of endlessly many: P(|Z| > 3.5) of the standard normal distribution. */
const LIMIT = 0.00047;

/**
 * Share of n normal values that lie beyond a robust z of 3.5 by chance, as median and MAD are estimated from the same n.
 * Simulated in R 4.2.2 for n of 10 to 200; log-log between, and beyond 200 along the last of these lines down to .00047.
 * Needs 10.
 * @returns 0 to 1; undefined below 10
 */
export function outlierChance(n: number): number | undefined {
  if (!(n >= SIMULATED[0][0])) return undefined;
  const after = SIMULATED.findIndex(([size]) => size > n);
  const upper = after < 0 ? SIMULATED.length - 1 : after;
  const [n0, share0] = SIMULATED[upper - 1];
  const [n1, share1] = SIMULATED[upper];
  const slope = Math.log(share1 / share0) / Math.log(n1 / n0);
  return Math.max(LIMIT, share0 * (n / n0) ** slope);
}
