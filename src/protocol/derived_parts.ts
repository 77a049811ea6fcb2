import { type Context, named } from './context.ts';
import type { Operator } from './operators.ts';
import type { DerivedData } from './schema.ts';
import type { Measure } from './types.ts';

const MIXED_DIMENSIONS: ReadonlySet<Operator> = new Set(['per', 'z_mean']);

/** The parts of a derived measure, or undefined if they cannot be combined. */
export function partsOf(
  context: Context,
  name: string,
  names: readonly string[],
  operator: Operator,
  earlier: ReadonlyMap<string, Measure>,
  all: ReadonlySet<string>,
): readonly Measure[] | undefined {
  const parts: Measure[] = [];
  for (const [at, part] of names.entries()) {
    const place = ['derived', name, operator, at];
    if (names.indexOf(part) < at) context.report.add(place, `${name}.${operator} names ${part} twice`, 'Take one out.');
    if (all.has(part) && !earlier.has(part) && !context.broken.has(part)) {
      const where = part === name ? 'itself' : `${part}, which stands further down`;
      const hint = part === name ? 'Name what it is worked out from.' : `Move ${part} above ${name}.`;
      context.report.add(place, `${name}.${operator} names ${where}`, hint);
      continue;
    }
    const found = named(context, place, part, earlier, 'measure');
    if (found) parts.push(found);
  }
  if (parts.length < names.length) return undefined;
  const [first] = parts;
  const odd = MIXED_DIMENSIONS.has(operator)
    ? -1
    : parts.findIndex((part) => part.unit.dimension !== first.unit.dimension);
  if (odd < 0) return parts;
  context.report.add(
    ['derived', name, operator, odd],
    `${name}.${operator} takes ${first.name} in ${first.unit.code} and ${parts[odd].name} in ${parts[odd].unit.code}, which do not convert into each other`,
    operator === 'ratio' ? 'For a quotient of different kinds use per.' : 'Take measures of one kind.',
  );
  return undefined;
}

/** The measure that a mean is a percentage of. */
export function divisorOf(
  context: Context,
  name: string,
  data: DerivedData,
  parts: readonly Measure[],
  earlier: ReadonlyMap<string, Measure>,
): Measure | undefined {
  if (data.as_percent_of === undefined || data.mean === undefined) return undefined;
  const path = ['derived', name, 'as_percent_of'];
  const divisor = named(context, path, data.as_percent_of, earlier, 'measure');
  if (divisor && divisor.unit.dimension !== parts[0].unit.dimension) {
    context.report.add(
      path,
      `${name}.as_percent_of takes ${divisor.name} in ${divisor.unit.code}, and the mean is in ${parts[0].unit.code}`,
      'Take a measure of the same kind.',
    );
  }
  return divisor;
}
