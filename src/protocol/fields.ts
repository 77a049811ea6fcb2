import type { Field, Measure } from './types.ts';

/** Why a measure has no such field in its results, or undefined if it has. */
export function fieldTrouble(measure: Measure, field: Field): string | undefined {
  const { name, sides, compare, dominance } = measure;
  if (field === 'value' || field === 'status') return undefined;
  if (sides === 'none') return `${name} has no sides, so it has no ${field}`;
  if (field === 'worse') return undefined;
  if (compare === 'none') return `${name} says compare: none, so it has no ${field}`;
  if (field.endsWith('_pct') && compare !== 'percent') {
    return `${name} compares its sides by compare: ${compare}, so it has no ${field}`;
  }
  if (field.startsWith('dominance_') && dominance === undefined) {
    return `${name} names no dominance column, so it has no ${field}`;
  }
  return undefined;
}
