/**
 * 100·(max − min)/max in percent: 100 minus the limb symmetry index, whichever way is better.
 * Strength Cond J 2016;38(6):27-32. Needs max > 0 and min ≥ 0.
 */
export function deficitPct(left: number, right: number): number {
  const most = Math.max(left, right);
  return (100 * (most - Math.min(left, right))) / most;
}

/** 100·(a − b)/max(a, b) in percent; positive if a is larger. Needs max > 0 and min ≥ 0. */
export function signedPct(a: number, b: number): number {
  return (100 * (a - b)) / Math.max(a, b);
}

/** 100·(45° − atan(left/right))/90°; positive if right is larger. Gait Posture 2008;27:622-627. */
export function symmetryAngle(left: number, right: number): number {
  return ((45 - (Math.atan(left / right) * 180) / Math.PI) / 90) * 100;
}

/** 100·both/(left + right) − 100 in percent; below zero is a bilateral deficit. J Appl Physiol 1991;70:306-316. */
export function bilateralIndexPct(both: number, left: number, right: number): number {
  return (100 * both) / (left + right) - 100;
}
