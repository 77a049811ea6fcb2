import type { Problem } from '../../problems/problem.ts';
import type { Protocol } from '../../protocol/types.ts';
import { many, namedAll } from './wording.ts';
import type { YamlPlaces } from './yaml_places.ts';

const WITHOUT_STUDY: ReadonlySet<string> = new Set(['common practice', 'from memory']);

/** What the limits rest on: rules without source, without strength of evidence, and with nothing but custom behind them. */
export function checkSources({ rules }: Protocol, places: YamlPlaces): Problem[] {
  const limits = rules.filter((rule) => rule.limit !== undefined);
  const found = rules
    .filter((rule) => rule.source === undefined)
    .map((rule) =>
      places.problem(
        'warning',
        'rule_without_source',
        ['rules', rule.name],
        `rule ${rule.name} says no source, so nobody can tell what it rests on`,
        'Add source: the study, "common practice" or "from memory".',
        'key',
      ),
    );
  const silent = limits.filter((rule) => rule.strength === undefined);
  if (silent.length > 0) {
    found.push(
      places.problem(
        'note',
        'rule_without_strength',
        ['rules', silent[0].name],
        `${many(silent.length, 'rule')} without strength of evidence: ${namedAll(silent.map(({ name }) => name))}`,
        'Add strength: in whom the limit was found, and how many.',
        'key',
      ),
    );
  }
  const custom = rules.filter(({ source }) => WITHOUT_STUDY.has((source ?? '').trim().toLowerCase()));
  if (custom.length > 0) {
    found.push(
      places.problem(
        'note',
        'source_is_custom',
        ['rules', custom[0].name, 'source'],
        `${custom.length} of ${many(rules.length, 'rule')} rest${custom.length === 1 ? 's' : ''} on common practice or memory alone, no study: ${namedAll(custom.map(({ name }) => name))}`,
        'Confirm them with your team physician before they decide anything.',
      ),
    );
  }
  return found;
}
