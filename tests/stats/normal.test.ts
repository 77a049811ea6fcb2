import { describe, expect, it } from 'vitest';
import { normalCdf, Z90, Z95 } from '../../src/stats/normal.ts';

/** Fixed point with 300 decimals: room for the terms of 1e87 that cancel at z = -20. */
const ONE = 10n ** 300n;

/** Whole square root by halving steps from above, which never pass it. */
function squareRoot(x: bigint): bigint {
  let root = x;
  for (let next = (x + 1n) / 2n; next < root; next = (root + x / root) / 2n) root = next;
  return root;
}

/** atan(1/n) by its power series. */
function arctanOfOneOver(n: bigint): bigint {
  let power = ONE / n;
  let sum = power;
  for (let k = 3n; power !== 0n; k += 2n) {
    power /= -n * n;
    sum += power / k;
  }
  return sum;
}

const PI = 16n * arctanOfOneOver(5n) - 4n * arctanOfOneOver(239n);
const ROOT_OF_TWO_PI = squareRoot(2n * PI * ONE);

/** Φ(z) = 1/2 + 1/√(2π) · Σ (−1)ⁿ z²ⁿ⁺¹ / (2ⁿ n! (2n+1)), in exact integers, then to the nearest double. */
function exactCdf(hundredths: number): number {
  const z = (BigInt(hundredths) * ONE) / 100n;
  const square = (z * z) / ONE;
  let term = z;
  let sum = z;
  for (let n = 1n; term !== 0n; n++) {
    term = (-term * square) / (2n * n * ONE);
    sum += term / (2n * n + 1n);
  }
  const area = ONE / 2n + (sum * ONE) / ROOT_OF_TWO_PI;
  return Number(`${area}e-300`);
}

const steps = (from: number, to: number): number[] => Array.from({ length: to - from + 1 }, (_, at) => from + at);
const worst = (hundredths: readonly number[]): number =>
  Math.max(...hundredths.map((step) => Math.abs(normalCdf(step / 100) / exactCdf(step) - 1)));

describe('distribution function of the standard normal', () => {
  it('the exact series is right where tables are printed', () => {
    // NIST/SEMATECH e-Handbook 1.3.6.7.1, areas from 0 to z in five decimals.
    expect(exactCdf(0)).toBe(0.5);
    expect(exactCdf(100)).toBeCloseTo(0.84134, 5);
    expect(exactCdf(196)).toBeCloseTo(0.975, 5);
    expect(exactCdf(300)).toBeCloseTo(0.99865, 5);
  });

  it('agrees with the exact series from -8 to 8 in every hundredth', () => {
    expect(worst(steps(-800, 800))).toBeLessThan(1e-14);
  });

  it('agrees with it down to -20', () => {
    expect(worst(steps(-2000, -801).filter((step) => step % 25 === 0))).toBeLessThan(1e-13);
  });

  it('gives back the two-sided levels of the quantiles that the contract rounds', () => {
    expect(1 - 2 * normalCdf(-Z95)).toBeCloseTo(0.95, 9);
    expect(1 - 2 * normalCdf(-Z90)).toBeCloseTo(0.9, 6);
  });
});
