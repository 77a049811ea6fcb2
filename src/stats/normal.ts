/** Two-sided 95 % and 90 % points of the standard normal distribution, as the contract rounds them. */
export const Z95 = 1.959963985;
export const Z90 = 1.644854;

/** From here on 1 − erf loses digits. */
const SERIES_BELOW = 1;

/** erf by its Maclaurin series in the form with positive terms (NIST Digital Library of Mathematical Functions 7.6.2). */
function erfSeries(x: number): number {
  let term = x;
  let sum = x;
  for (let n = 1; Math.abs(term) > Math.abs(sum) * 1e-17; n++) {
    term *= (2 * x * x) / (2 * n + 1);
    sum += term;
  }
  return (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
}

/** exp(x²)·erfc(x) by its continued fraction (same library, 7.9.1), modified Lentz method; x ≥ 1. */
function scaledErfc(x: number): number {
  let f = x;
  let c = x;
  let d = 0;
  for (let n = 1; n < 200; n++) {
    const a = n / 2;
    d = x + a * d;
    c = x + a / c;
    d = 1 / d;
    const step = c * d;
    f *= step;
    if (Math.abs(step - 1) < 1e-16) break;
  }
  return 1 / (f * Math.sqrt(Math.PI));
}

/**
 * Distribution function of the standard normal, P(Z ≤ z). Relative error below 1e-14 down to z = −8 and
 * 1e-13 down to −20.
 * @param z any finite number
 */
export function normalCdf(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const upper = x < SERIES_BELOW ? (1 - erfSeries(x)) / 2 : (Math.exp((-z * z) / 2) * scaledErfc(x)) / 2;
  return z < 0 ? upper : 1 - upper;
}
