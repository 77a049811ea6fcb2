import { Failure } from '../problems/failure.ts';
import type { Protocol, Rule } from '../protocol/types.ts';
import type { Results } from '../tables/schemas.ts';
import type { Check } from './check.ts';
import { limitCheck } from './limit_checks.ts';
import { builtInChecks, ruleStatusCheck } from './status_checks.ts';

function checkOf(rule: Rule, results: Results): Check {
  const { field, comparator, limit, status } = rule;
  if (status !== undefined) return ruleStatusCheck(rule, status, results);
  if (field === 'z' || field === 'change' || field === 'status' || comparator === undefined || limit === undefined) {
    throw new Failure(2, {
      message: `rule ${rule.name} on field ${field} cannot be judged by this version`,
      hint: 'Take the rule out of the protocol until then.',
    });
  }
  return limitCheck(rule, field, comparator, limit, results);
}

/**
 * Everything that is judged on a row of results, by code of its measure in the results: the protocol's rules, then the
 * built-in status findings.
 */
export function checksByMeasureCode(results: Results, protocol: Protocol): readonly (readonly Check[])[] {
  const byMeasure = new Map<string, Check[]>(
    protocol.measures.map((measure) => [measure.name, builtInChecks(measure, protocol, results)]),
  );
  // Rules come before the built-in checks of their measure.
  for (const rule of protocol.rules.toReversed()) byMeasure.get(rule.measure.name)?.unshift(checkOf(rule, results));
  return results.columns.measure.dictionary.texts.map((name) => byMeasure.get(name) ?? unknownMeasure(name, protocol));
}

function unknownMeasure(name: string, protocol: Protocol): never {
  throw new Failure(2, {
    file: protocol.file,
    message: `the results hold ${name}, which is not a measure of this protocol`,
    hint: 'Judge results by the protocol that they were worked out with.',
  });
}
