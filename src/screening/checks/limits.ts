import { breaksLimit, lowBreaks } from '../../findings/comparators.ts';
import type { Problem } from '../../problems/problem.ts';
import type { Comparator, Protocol, Rule } from '../../protocol/types.ts';
import { fieldRange, groupOfZ, largestZ, type Range } from './ranges.ts';
import { plainNumber } from './wording.ts';
import type { YamlPlaces } from './yaml_places.ts';

const WORDS: Readonly<Record<Comparator, string>> = {
  below: 'below',
  at_most: 'at most',
  above: 'above',
  at_least: 'at least',
};

/** The limit of a rule as messages name it: "deficit_pct at least 10". */
export function limitText({ field, comparator, limit }: Rule): string {
  return `${field} ${WORDS[comparator!]} ${plainNumber(limit!)}`;
}

/**
 * Limits that no reading can reach, so that the rule is silent for ever, and those that every reading breaks. A limit
 * beyond the largest z that the smallest group can hold is refused (statistics, section 3).
 */
export function checkLimits({ rules }: Protocol, places: YamlPlaces): Problem[] {
  return rules.flatMap((rule) => {
    if (rule.comparator === undefined || rule.limit === undefined) return [];
    const range = fieldRange(rule.measure, rule.field);
    return range === undefined ? [] : (checkLimit(rule, rule.comparator, rule.limit, range, places) ?? []);
  });
}

function checkLimit(
  rule: Rule,
  comparator: Comparator,
  limit: number,
  range: Range,
  places: YamlPlaces,
): Problem | undefined {
  const [low, high] = range;
  const path = ['rules', rule.name, comparator];
  const [last, first] = lowBreaks(comparator) ? [low, high] : [high, low];
  const group = groupOfZ(rule.measure);
  if (!breaksLimit(last, comparator, limit)) {
    const never = `rule ${rule.name}: no ${rule.measure.name} can be ${limitText(rule)}`;
    if (group !== undefined) {
      const most = plainNumber(largestZ(group));
      return places.problem(
        'error',
        'z_unreachable',
        path,
        `${never}, since among ${group} athletes no z lies beyond ±${most}, which is (n − 1)/√n`,
        'Choose a limit nearer to 0, or raise min_group.',
      );
    }
    return places.problem(
      'warning',
      'limit_unreachable',
      path,
      `${never}, since plausible readings give ${rangeText(range, rule)}: the rule is never broken`,
      'Check the limit, its direction and its unit, or the plausible range of the measure.',
    );
  }
  if (!breaksLimit(first, comparator, limit)) return undefined;
  return places.problem(
    'warning',
    'limit_always_broken',
    path,
    `rule ${rule.name}: every plausible ${rule.measure.name} is ${limitText(rule)} (they give ${rangeText(range, rule)}), so everybody is flagged`,
    'Check the limit, its direction and its unit.',
  );
}

function rangeText([low, high]: Range, { field, measure }: Rule): string {
  const unit = field.endsWith('_pct') ? '%' : measure.unit.code;
  const from = Number.isFinite(low) ? plainNumber(low) : undefined;
  const to = Number.isFinite(high) ? plainNumber(high) : undefined;
  const numbers = from === undefined ? `at most ${to}` : to === undefined ? `at least ${from}` : `${from} to ${to}`;
  return unit === '1' ? numbers : `${numbers} ${unit}`;
}
