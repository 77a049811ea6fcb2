/** Two-sided 95 % and 90 % points of the standard normal distribution, as the contract rounds them. */
export const Z95 = 1.959963985;
export const Z90 = 1.644854;

const SERIES_BELOW = 2.5;
const TINY = 1e-300;

/** erf by its Maclaurin series in the form with positive terms (Abramowitz and Stegun 7.1.6). */
function erfSeries(x: number): number {
  let term = x;
  let sum = x;
  for (let n = 1; Math.abs(term) > Math.abs(sum) * 1e-17; n++) {
    term *= (2 * x * x) / (2 * n + 1);
    sum += term;
  }
  return (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
}

/** erfc by its continued fraction (Abramowitz and Stegun 7.1.14), modified Lentz method; x ≥ 2.5. */
function erfcFraction(x: number): number {
  let f = x;
  let c = x;
  let d = 0;
  for (let n = 1; n < 200; n++) {
    const a = n / 2;
    d = x + a * d || TINY;
    c = x + a / c || TINY;
    d = 1 / d;
    const step = c * d;
    f *= step;
    if (Math.abs(step - 1) < 1e-16) break;
  }
  return Math.exp(-x * x) / (f * Math.sqrt(Math.PI));
}

/**
 * Distribution function of the standard normal, P(Z ≤ z). Relative error below 1e-13 in both tails.
 * @param z any finite number
 */
export function normalCdf(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const upper = x < SERIES_BELOW ? (1 - erfSeries(x)) / 2 : erfcFraction(x) / 2;
  return z < 0 ? upper : 1 - upper;
}
