import { ATOMS, type Atom, PREFIXES } from './atoms.ts';
import { type Exact, ONE, over, power, times, toDouble } from './exact.ts';

/** A UCUM unit: value · factor is the same quantity in coherent SI units of its dimension. */
export interface Unit {
  /** UCUM code as given */
  readonly code: string;
  readonly factor: number;
  /** canonical key; two units convert into each other if and only if these are equal */
  readonly dimension: string;
}

export const NONE = '1';
export const LENGTH = 'L';
export const MASS = 'M';
export const TIME = 'T';
/** A base dimension of its own, as in UCUM: degrees are not a plain number. */
export const ANGLE = 'A';
export const FORCE = 'L.M.T-2';
export const PRESSURE = 'L-1.M.T-2';
export const TORQUE = 'L2.M.T-2';

const BASES = ['L', 'M', 'T', 'A'] as const;
/** Longer codes are refused: no unit of the trade needs them, and exact factors grow with every part. */
const LONGEST_CODE = 64;
const SEPARATOR = /([./])/;
/** atom, exponent, annotation */
const COMPONENT = /^([A-Za-z%]+(?:\[[A-Za-z_]+\])?|\[[A-Za-z_]+\]|1)?([+-]?[1-9])?(\{[^{}]*\})?$/;

interface ExactUnit extends Unit {
  readonly size: Exact;
}

/** value · times / over, both exact where a double can hold them. */
interface Scale {
  readonly times: number;
  readonly over: number;
}

const units = new Map<string, ExactUnit>();
const scales = new Map<string, Map<string, Scale>>();

/**
 * The unit of a UCUM code (case sensitive), or undefined if it is none of the subset that screening uses:
 * atoms of length, mass, time, angle, force, pressure, energy, power and frequency, `%`, `1` and annotations `{…}`,
 * with prefixes k d c m u, products `.`, quotients `/` and whole exponents.
 */
export function parseUnit(code: string): Unit | undefined {
  return exactUnit(code);
}

/**
 * A value in another unit of the same dimension; the very same number if the codes are equal.
 * @throws RangeError if the dimensions differ
 */
export function convert(value: number, from: Unit, to: Unit): number {
  return converter(from, to)(value);
}

/**
 * `convert` for many values of one pair of units.
 * @throws RangeError if the dimensions differ
 */
export function converter(from: Unit, to: Unit): (value: number) => number {
  if (from.code === to.code) return (value) => value;
  const { times, over } = scaleBetween(from, to);
  return (value) => (value * times) / over;
}

/**
 * How many of `to` one of `from` is, correctly rounded. `convert` is the more exact way to turn a reading:
 * it rounds once less.
 * @throws RangeError if the dimensions differ
 */
export function multiplier(from: Unit, to: Unit): number {
  const scale = scaleBetween(from, to);
  return scale.times / scale.over;
}

function exactUnit(code: string): ExactUnit | undefined {
  let unit = units.get(code);
  if (unit === undefined) {
    unit = parseCode(code);
    if (unit !== undefined) units.set(code, unit);
  }
  return unit;
}

function parseCode(code: string): ExactUnit | undefined {
  if (code === '' || code.length > LONGEST_CODE) return undefined;
  const parts = code.split(SEPARATOR);
  let size = ONE;
  const exponents = [0, 0, 0, 0];
  for (let index = 0; index < parts.length; index += 2) {
    // A leading solidus is the one place where UCUM has nothing before an operator: `/min`.
    if (index === 0 && parts[0] === '' && parts[1] === '/') continue;
    const component = readComponent(parts[index]!);
    if (component === undefined) return undefined;
    const exponent = parts[index - 1] === '/' ? -component.exponent : component.exponent;
    size = times(size, power(component.atom.size, exponent));
    component.atom.exponents.forEach((part, base) => {
      exponents[base]! += part * exponent;
    });
  }
  return { code, size, factor: toDouble(size), dimension: dimensionKey(exponents) };
}

function readComponent(text: string): { atom: Atom; exponent: number } | undefined {
  const match = COMPONENT.exec(text);
  if (match === null) return undefined;
  const [, symbol, exponent, annotation] = match;
  if (symbol === undefined && (annotation === undefined || exponent !== undefined)) return undefined;
  if (symbol === '1' && exponent !== undefined) return undefined;
  const atom = readAtom(symbol ?? '1');
  return atom && { atom, exponent: exponent === undefined ? 1 : Number(exponent) };
}

function readAtom(symbol: string): Atom | undefined {
  const whole = ATOMS.get(symbol);
  if (whole !== undefined) return whole;
  const prefix = PREFIXES.get(symbol.charAt(0));
  const atom = ATOMS.get(symbol.slice(1));
  if (prefix === undefined || atom === undefined || !atom.metric) return undefined;
  return { ...atom, size: times(prefix, atom.size) };
}

function dimensionKey(exponents: readonly number[]): string {
  const parts = BASES.map((base, index) => {
    const exponent = exponents[index]!;
    return exponent === 0 ? '' : exponent === 1 ? base : `${base}${exponent}`;
  });
  return parts.filter((part) => part !== '').join('.') || NONE;
}

function scaleBetween(from: Unit, to: Unit): Scale {
  let known = scales.get(from.code);
  if (known === undefined) {
    known = new Map();
    scales.set(from.code, known);
  }
  let scale = known.get(to.code);
  if (scale === undefined) {
    scale = makeScale(from, to);
    known.set(to.code, scale);
  }
  return scale;
}

function makeScale(from: Unit, to: Unit): Scale {
  const source = exactUnit(from.code);
  const target = exactUnit(to.code);
  if (source === undefined || target === undefined || source.dimension !== target.dimension) {
    throw new RangeError(`${from.code} does not convert into ${to.code}: they measure different things.`);
  }
  const ratio = over(source.size, target.size);
  const fits = ratio.numerator <= Number.MAX_SAFE_INTEGER && ratio.denominator <= Number.MAX_SAFE_INTEGER;
  return fits
    ? { times: Number(ratio.numerator), over: Number(ratio.denominator) }
    : { times: toDouble(ratio), over: 1 };
}
