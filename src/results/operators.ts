import { naturalUnit } from '../protocol/derived_defaults.ts';
import type { Derivation, Measure } from '../protocol/types.ts';
import { multiplier, type Unit } from '../units/unit.ts';
import { semAt } from './errors.ts';
import type { Numbers } from './result_row.ts';
import { STATUS_BIT } from './statuses.ts';

/** A number with its standard error; NaN where unknown. */
export interface Scored {
  readonly value: number;
  readonly sem: number;
}

/** Reads a part of a derived measure on the same occasion; a part without sides serves both. */
export type PartReader = (part: Measure, side: 'left' | 'right' | 'none') => Scored;

const MISSING: Scored = { value: Number.NaN, sem: Number.NaN };

/** A derived measure ready to be worked out: its parts' factors into a common unit are known. */
export interface Operator {
  readonly measure: Measure;
  readonly parts: readonly Measure[];
  work(read: PartReader, into: Numbers): void;
}

function scaled({ value, sem }: Scored, factor: number): Scored {
  return factor === 1 ? { value, sem } : { value: value * factor, sem: sem * Math.abs(factor) };
}

const factorTo = (from: Unit, to: Unit): number => (from.dimension === to.dimension ? multiplier(from, to) : 1);

/** a/b with |a/b|·√((s(a)/a)² + (s(b)/b)²); undefined at b = 0. */
function quotient(a: Scored, b: Scored, times: number): Scored {
  if (b.value === 0) return MISSING;
  const value = (times * a.value) / b.value;
  const sem = Math.abs(times / b.value) * Math.hypot(a.sem, (a.value * b.sem) / b.value);
  return { value, sem };
}

/** Σ of the parts with √Σs². */
function total(parts: readonly Scored[]): Scored {
  let value = 0;
  for (const part of parts) value += part.value;
  return { value, sem: Math.hypot(...parts.map((part) => part.sem)) };
}

type Formula = (read: (part: Measure) => Scored) => Scored;

/** What an operator makes of its parts, in the unit that it gives by itself. */
function naturalFormula(derivation: Derivation): Formula | undefined {
  switch (derivation.operator) {
    case 'ratio':
    case 'percent_of': {
      const [above, below] = derivation.parts;
      const factor = factorTo(above.unit, below.unit);
      const times = derivation.operator === 'percent_of' ? 100 : 1;
      return (read) => quotient(scaled(read(above), factor), read(below), times);
    }
    case 'per': {
      const [above, below] = derivation.parts;
      return (read) => quotient(read(above), read(below), 1);
    }
    case 'difference': {
      const [first, second] = derivation.parts;
      const factor = factorTo(second.unit, first.unit);
      return (read) => {
        const minuend = read(first);
        const subtrahend = scaled(read(second), factor);
        return { value: minuend.value - subtrahend.value, sem: Math.hypot(minuend.sem, subtrahend.sem) };
      };
    }
    case 'sum':
    case 'mean': {
      const { parts, asPercentOf } = derivation;
      const common = asPercentOf?.unit ?? parts[0].unit;
      const factors = parts.map((part) => factorTo(part.unit, common));
      const count = derivation.operator === 'mean' ? parts.length : 1;
      return (read) => {
        const sum = total(parts.map((part, at) => scaled(read(part), factors[at])));
        const value = { value: sum.value / count, sem: sum.sem / count };
        return asPercentOf ? quotient(value, read(asPercentOf), 100) : value;
      };
    }
    default:
      return undefined;
  }
}

/** The same in the unit of the derived measure. */
function formulaOf(measure: Measure, derivation: Derivation): Formula | undefined {
  const formula = naturalFormula(derivation);
  if (formula === undefined) return undefined;
  const divisor = 'asPercentOf' in derivation ? derivation.asPercentOf : undefined;
  const natural = naturalUnit(derivation.operator, derivation.parts, divisor) ?? measure.unit;
  const factor = factorTo(natural, measure.unit);
  return factor === 1 ? formula : (read) => scaled(formula(read), factor);
}

/** The derived measure's own declared error wins over the one of its parts. */
function ownSem({ error }: Measure, { value, sem }: Scored): number {
  return error === undefined ? sem : semAt(error, value);
}

function bySides(measure: Measure, parts: readonly Measure[], formula: Formula): Operator {
  return {
    measure,
    parts,
    work(read, into) {
      if (measure.sides === 'each') {
        const left = formula((part) => read(part, 'left'));
        const right = formula((part) => read(part, 'right'));
        into.left = left.value;
        into.right = right.value;
        into.semLeft = ownSem(measure, left);
        into.semRight = ownSem(measure, right);
        if (Number.isNaN(left.value) || Number.isNaN(right.value)) into.statuses |= STATUS_BIT.missing_part;
      } else {
        const value = formula((part) => read(part, 'none'));
        into.value = value.value;
        into.semValue = ownSem(measure, value);
        if (Number.isNaN(value.value)) into.statuses |= STATUS_BIT.missing_part;
      }
    },
  };
}

/** One number of a part: its value, or of its sides the worse, the better, the mean or both together. */
function oneOf(part: Measure, side: 'worse' | 'better' | 'mean' | 'both', read: PartReader): number {
  if (part.sides === 'none') return read(part, 'none').value;
  const left = read(part, 'left').value;
  const right = read(part, 'right').value;
  if (side === 'mean') return (left + right) / 2;
  if (side === 'both') return left + right;
  const wantsMost = (side === 'better') === (part.better !== 'lower');
  return wantsMost ? Math.max(left, right) : Math.min(left, right);
}

function totalOf(measure: Measure, derivation: Extract<Derivation, { operator: 'total' }>): Operator {
  const { parts, side, needs } = derivation;
  const factors = parts.map((part) => factorTo(part.unit, measure.unit));
  return {
    measure,
    parts,
    work(read, into) {
      let sum = 0;
      let count = 0;
      for (const [at, part] of parts.entries()) {
        const value = oneOf(part, side, read) * factors[at];
        if (Number.isNaN(value)) continue;
        sum += value;
        count++;
      }
      if (count < parts.length) into.statuses |= count >= needs ? STATUS_BIT.partial_total : STATUS_BIT.missing_part;
      if (count < needs) return;
      into.value = sum;
      // Parts of a total are rarely independent: its error is known only if it is declared.
      into.semValue = measure.error === undefined ? Number.NaN : semAt(measure.error, sum);
    },
  };
}

/** The operator of a derived measure; undefined for z_mean, which needs the whole group. */
export function operatorOf(measure: Measure): Operator | undefined {
  const derivation = measure.derivation!;
  if (derivation.operator === 'total') return totalOf(measure, derivation);
  const formula = formulaOf(measure, derivation);
  if (formula === undefined) return undefined;
  const divisor = derivation.operator === 'mean' && derivation.asPercentOf ? [derivation.asPercentOf] : [];
  return bySides(measure, [...derivation.parts, ...divisor], formula);
}
