import type { RobustScale } from './mad.ts';
import { round9 } from './round9.ts';

/** Beyond this |z| a value counts as an outlier. */
export const OUTLIER_Z = 3.5;

/** Makes the MAD of a normal distribution its SD. */
const MAD_FACTOR = 0.6745;
/** Makes the mean distance from the median of a normal distribution its SD. */
const MEAN_DISTANCE_FACTOR = 1.253314;

/** Whether z is taken from the mean distance: more than half of the values lie on the median. */
export function isFallback({ mad }: RobustScale): boolean {
  return round9(mad) === 0;
}

/** What one unit of robust z comes to, in the unit of the values; 0 if all of them are alike. */
function unitOf(scale: RobustScale): number {
  return isFallback(scale) ? MEAN_DISTANCE_FACTOR * scale.meanDistance : scale.mad / MAD_FACTOR;
}

/**
 * Robust z, 0.6745 (x − median) / MAD; where the MAD is 0 (x − median) / (1.253314 mean|x − median|). Without a unit.
 * The caller sees to it that the scale comes of enough values. Source: NIST/SEMATECH e-Handbook of Statistical Methods
 * 1.3.5.17.
 * @returns undefined if all values of the scale are alike
 */
export function robustZ(value: number, scale: RobustScale): number | undefined {
  const { median, mad, meanDistance } = scale;
  if (!isFallback(scale)) return (MAD_FACTOR * (value - median)) / mad;
  return round9(meanDistance) === 0 ? undefined : (value - median) / (MEAN_DISTANCE_FACTOR * meanDistance);
}

/** How far from the median a value lies whose robust z is OUTLIER_Z, in the unit of the values. */
export function outlierDistance(scale: RobustScale): number {
  return OUTLIER_Z * unitOf(scale);
}

/** Whether |z| is beyond OUTLIER_Z; exactly there is not. */
export function isOutlierZ(z: number): boolean {
  return round9(Math.abs(z)) > OUTLIER_Z;
}
