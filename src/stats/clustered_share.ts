import { type Interval, wilson } from './wilson.ts';

/** One athlete: x of n readings are beyond the limit. */
export interface Cluster {
  readonly x: number;
  readonly n: number;
}

export interface ClusteredShare extends Interval {
  readonly share: number;
  /** how many independent readings the clusters are worth */
  readonly effective: number;
}

/**
 * Share of readings of which several are of one athlete, p = Σx/Σn, with a 95 % interval that allows for that: the
 * variance between athletes v = m/(m−1) Σ(x_j − p n_j)² / (Σn_j)² gives the effective number min(Σn, p(1−p)/v), which is
 * m if v is 0 (m athletes); Wilson's interval is taken at that number. Needs one athlete with a reading. Source of the
 * variance, a ratio of cluster totals: Biometrics 1992;48:577-585.
 * @param clusters athletes without a reading count for nothing
 * @returns shares from 0 to 1; undefined without a reading
 */
export function clusteredShare(clusters: readonly Cluster[]): ClusteredShare | undefined {
  const counted = clusters.filter(({ n }) => n > 0);
  const m = counted.length;
  if (m === 0) return undefined;
  const x = counted.reduce((sum, cluster) => sum + cluster.x, 0);
  const n = counted.reduce((sum, cluster) => sum + cluster.n, 0);
  const share = x / n;
  // Whole numbers throughout, so that equal shares of all athletes give exactly 0.
  const squares = counted.reduce((sum, cluster) => sum + (cluster.x * n - x * cluster.n) ** 2, 0);
  const variance = squares === 0 ? 0 : ((m / (m - 1)) * squares) / n ** 4;
  const effective = variance === 0 ? m : Math.min(n, (share * (1 - share)) / variance);
  const interval = wilson(share * effective, effective)!;
  return {
    share,
    low: x === 0 ? 0 : interval.low,
    high: x === n ? 1 : interval.high,
    effective,
  };
}
