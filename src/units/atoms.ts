import { type Exact, exactDecimal, over, times } from './exact.ts';

/** Exponents of the base dimensions length, mass, time and plane angle. */
export type Exponents = readonly [length: number, mass: number, time: number, angle: number];

export interface Atom {
  /** exact size in coherent SI units (m, kg, s, rad) */
  readonly size: Exact;
  readonly exponents: Exponents;
  /** takes the prefixes of UCUM */
  readonly metric: boolean;
}

// 40 digits of π: enough for any quotient with it to round to the right double.
const PI = exactDecimal('3.141592653589793238462643383279502884197');
const GRAVITY = exactDecimal('9.80665');
const POUND = exactDecimal('0.45359237');
const INCH = exactDecimal('0.0254');

const LENGTH: Exponents = [1, 0, 0, 0];
const MASS: Exponents = [0, 1, 0, 0];
const TIME: Exponents = [0, 0, 1, 0];
const ANGLE: Exponents = [0, 0, 0, 1];
const FORCE: Exponents = [1, 1, -2, 0];
const PRESSURE: Exponents = [-1, 1, -2, 0];
const NONE: Exponents = [0, 0, 0, 0];

const metric = (size: Exact, exponents: Exponents): Atom => ({ size, exponents, metric: true });
const plain = (size: Exact, exponents: Exponents): Atom => ({ size, exponents, metric: false });

/**
 * The atoms of UCUM that screening uses, with the exact factors of NIST SP 811 (appendix B.8 and its footnotes).
 * The metre of mercury is the conventional one, 13595.1 kg/m3 × 9.80665 m/s2.
 */
export const ATOMS: ReadonlyMap<string, Atom> = new Map([
  ['m', metric(exactDecimal('1'), LENGTH)],
  ['g', metric(exactDecimal('0.001'), MASS)],
  ['s', metric(exactDecimal('1'), TIME)],
  ['min', plain(exactDecimal('60'), TIME)],
  ['h', plain(exactDecimal('3600'), TIME)],
  ['rad', metric(exactDecimal('1'), ANGLE)],
  ['deg', plain(over(PI, exactDecimal('180')), ANGLE)],
  ['N', metric(exactDecimal('1'), FORCE)],
  ['gf', metric(times(exactDecimal('0.001'), GRAVITY), FORCE)],
  ['[lbf_av]', plain(times(POUND, GRAVITY), FORCE)],
  ['[lb_av]', plain(POUND, MASS)],
  ['[oz_av]', plain(over(POUND, exactDecimal('16')), MASS)],
  ['[in_i]', plain(INCH, LENGTH)],
  ['[ft_i]', plain(times(INCH, exactDecimal('12')), LENGTH)],
  ['[yd_i]', plain(times(INCH, exactDecimal('36')), LENGTH)],
  ['Pa', metric(exactDecimal('1'), PRESSURE)],
  ['m[Hg]', metric(times(exactDecimal('13595.1'), GRAVITY), PRESSURE)],
  ['J', metric(exactDecimal('1'), [2, 1, -2, 0])],
  ['W', metric(exactDecimal('1'), [2, 1, -3, 0])],
  ['Hz', metric(exactDecimal('1'), [0, 0, -1, 0])],
  ['%', plain(exactDecimal('0.01'), NONE)],
  ['1', plain(exactDecimal('1'), NONE)],
]);

export const PREFIXES: ReadonlyMap<string, Exact> = new Map([
  ['k', exactDecimal('1000')],
  ['d', exactDecimal('0.1')],
  ['c', exactDecimal('0.01')],
  ['m', exactDecimal('0.001')],
  ['u', exactDecimal('0.000001')],
]);
