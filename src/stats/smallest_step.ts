import { round9 } from './round9.ts';

/**
 * Smallest distance between two different values, in their unit: the step in which a device or a hand reads. Needs two
 * different ones. Source: common practice.
 */
export function smallestStep(values: readonly number[]): number | undefined {
  const sorted = Float64Array.from(values).sort();
  let step: number | undefined;
  for (let at = 1; at < sorted.length; at++) {
    const distance = round9(sorted[at] - sorted[at - 1]);
    if (distance > 0 && (step === undefined || distance < step)) step = distance;
  }
  return step;
}
