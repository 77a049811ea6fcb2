import { naturalUnit } from '../../protocol/derived_defaults.ts';
import type { Derivation, Field, Measure } from '../../protocol/types.ts';
import { multiplier, type Unit } from '../../units/unit.ts';

/** Lowest and highest number; infinite where nothing is said. */
export type Range = readonly [number, number];

const ANYTHING: Range = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
/** Statistics, section 3: no group under ten is read. */
const SMALLEST_GROUP = 10;

/** No z in a sample of n lies beyond (n − 1)/√n, and no mean of several does (Am Stat 1988;42:79-80). */
export function largestZ(n: number): number {
  return (n - 1) / Math.sqrt(n);
}

/** The group in which z_mean of a measure, or of what it is made of, is taken at the least; undefined without one. */
export function groupOfZ({ derivation }: Measure): number | undefined {
  if (derivation === undefined) return undefined;
  if (derivation.operator === 'z_mean') return Math.max(derivation.minGroup, SMALLEST_GROUP);
  const groups = derivation.parts.flatMap((part) => groupOfZ(part) ?? []);
  return groups.length > 0 ? Math.min(...groups) : undefined;
}

/** The readings that a side, or a measure without sides, can have, in its unit: declared, and worked out from its parts. */
export function readingRange(measure: Measure): Range {
  const { levels, plausible, derivation } = measure;
  const declared: Range = levels ? [levels[0], levels.at(-1)!] : (plausible ?? ANYTHING);
  if (derivation === undefined) return declared;
  const made = madeRange(derivation, measure);
  return [Math.max(declared[0], made[0]), Math.min(declared[1], made[1])];
}

/** The numbers that a field can have while all readings are plausible; undefined where nobody can say. */
export function fieldRange(measure: Measure, field: Field): Range | undefined {
  const [low, high] = readingRange(measure);
  const width = high - low;
  switch (field) {
    case 'value':
    case 'worse':
      return [low, high];
    case 'gap':
      return [0, width];
    case 'difference':
    case 'dominance_gap':
      return [-width, width];
    case 'deficit_pct':
    case 'direction_pct':
    case 'dominance_pct': {
      // Sides are compared in percent only where neither is below 0.
      const least = Math.max(low, 0);
      const most = high === Number.POSITIVE_INFINITY || !(high > 0) ? 100 : (100 * (high - least)) / high;
      return [field === 'deficit_pct' ? 0 : -most, most];
    }
    default:
      return undefined;
  }
}

const factorTo = (from: Unit, to: Unit): number => (from.dimension === to.dimension ? multiplier(from, to) : 1);

const times = ([low, high]: Range, factor: number): Range => [low * factor, high * factor];

function sumOf(ranges: readonly Range[]): Range {
  return [ranges.reduce((sum, [low]) => sum + low, 0), ranges.reduce((sum, [, high]) => sum + high, 0)];
}

/** Quotients of readings; unknown where one may be below zero. */
function quotient([a, b]: Range, [c, d]: Range): Range {
  if (a < 0 || c < 0) return ANYTHING;
  // What reaches infinity says nothing: ∞/∞ is no number.
  const low = d === Number.POSITIVE_INFINITY ? 0 : a / d;
  return [low, c === 0 || b === Number.POSITIVE_INFINITY ? Number.POSITIVE_INFINITY : b / c];
}

function madeRange(derivation: Derivation, measure: Measure): Range {
  const { operator, parts } = derivation;
  const ranges = parts.map(readingRange);
  switch (operator) {
    case 'ratio':
    case 'percent_of':
    case 'per': {
      const [above, below] = parts;
      const made = quotient(times(ranges[0], factorTo(above.unit, below.unit)), ranges[1]);
      return inOwnUnit(times(made, operator === 'percent_of' ? 100 : 1), derivation, measure);
    }
    case 'difference': {
      const [low, high] = times(ranges[1], factorTo(parts[1].unit, parts[0].unit));
      return inOwnUnit([ranges[0][0] - high, ranges[0][1] - low], derivation, measure);
    }
    case 'sum':
    case 'mean': {
      const { asPercentOf } = derivation;
      const common = asPercentOf?.unit ?? parts[0].unit;
      const sum = sumOf(ranges.map((range, at) => times(range, factorTo(parts[at].unit, common))));
      const made = times(sum, operator === 'mean' ? 1 / parts.length : 1);
      if (asPercentOf) return times(quotient(made, readingRange(asPercentOf)), 100);
      return inOwnUnit(made, derivation, measure);
    }
    case 'total': {
      const both = derivation.side === 'both';
      const given = ranges.map((range, at) =>
        times(range, factorTo(parts[at].unit, measure.unit) * (both && parts[at].sides === 'each' ? 2 : 1)),
      );
      return derivation.needs === parts.length ? sumOf(given) : totalOfSome(given);
    }
    case 'z_mean': {
      const most = largestZ(Math.max(derivation.minGroup, SMALLEST_GROUP));
      return [-most, most];
    }
  }
}

/** A total that may lack parts: each part that is missing counts as nothing. */
function totalOfSome(ranges: readonly Range[]): Range {
  return sumOf(ranges.map(([low, high]) => [Math.min(low, 0), Math.max(high, 0)]));
}

function inOwnUnit(range: Range, derivation: Derivation, measure: Measure): Range {
  const natural = naturalUnit(derivation.operator, derivation.parts, undefined) ?? measure.unit;
  return times(range, factorTo(natural, measure.unit));
}
