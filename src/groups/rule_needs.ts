import type { Measure, Rule } from '../protocol/types.ts';

/** Indices of the rules that must be broken too, and of those that these need in turn. */
export function companionsOf(rule: Rule, rules: readonly Rule[]): readonly number[] {
  const found = new Set<Rule>();
  const add = ({ also }: Rule): void => {
    for (const other of rules) {
      if (!also.includes(other.name) || found.has(other)) continue;
      found.add(other);
      add(other);
    }
  };
  add(rule);
  return [...found].map(({ index }) => index);
}

/** Indices of the measures that are measured for one: itself, or its parts, and theirs in turn. */
export function measuredFor(measure: Measure): readonly number[] {
  const { derivation } = measure;
  if (derivation === undefined) return [measure.index];
  const reference = 'asPercentOf' in derivation ? derivation.asPercentOf : undefined;
  return [...derivation.parts, ...(reference ? [reference] : [])].flatMap(measuredFor);
}
