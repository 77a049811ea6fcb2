import { parseUnit, type Unit } from '../units/unit.ts';
import type { Operator } from './operators.ts';
import { perCode } from './per_code.ts';
import type { Better, Compare, Measure } from './types.ts';

/** The unit that an operator gives by itself. */
export function naturalUnit(
  operator: Operator,
  parts: readonly Measure[],
  asPercentOf: Measure | undefined,
): Unit | undefined {
  const [first, second] = parts;
  switch (operator) {
    case 'ratio':
    case 'z_mean':
      return parseUnit('1');
    case 'percent_of':
      return parseUnit('%');
    case 'per':
      return parseUnit(perCode(first.unit.code, second.unit.code));
    default:
      return asPercentOf ? parseUnit('%') : first.unit;
  }
}

export function betterOf(operator: Operator, parts: readonly Measure[]): Better {
  if (operator === 'per' || operator === 'percent_of') return parts[0].better;
  if (operator === 'sum' || operator === 'mean' || operator === 'total') {
    return common(parts.map((part) => part.better)) ?? 'higher';
  }
  return 'higher';
}

export function compareOf(operator: Operator, sided: readonly Measure[]): Compare {
  if (operator === 'ratio' || operator === 'per' || operator === 'percent_of') return 'percent';
  if (operator !== 'sum' && operator !== 'mean') return 'gap';
  if (sided.some((part) => part.compare === 'gap')) return 'gap';
  return sided.some((part) => part.compare === 'none') ? 'none' : 'percent';
}

/** What all values are, if they are all the same. */
export function common<T>(values: readonly T[]): T | undefined {
  return values.every((value) => value === values[0]) ? values[0] : undefined;
}
