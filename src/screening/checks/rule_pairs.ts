import { lowBreaks } from '../../findings/comparators.ts';
import type { Problem } from '../../problems/problem.ts';
import type { Protocol, Rule } from '../../protocol/types.ts';
import { GRADES } from '../../tables/schemas.ts';
import { limitText } from './limits.ts';
import type { YamlPlaces } from './yaml_places.ts';

/** Rules that judge the same number of the same athletes from the same side share a key. */
function sameThing(rule: Rule): string {
  const { name, index, measure, field, comparator, limit, grade, share, region, programme, source, strength, ...who } =
    rule;
  const direction = comparator === undefined ? '' : lowBreaks(comparator) ? 'low' : 'high';
  return JSON.stringify([measure.name, field, direction, who]);
}

/** Whether one rule is broken sooner than another of the same direction. */
function isSofter(one: Rule, other: Rule): boolean {
  if (one.limit === other.limit) {
    const inclusive = ({ comparator }: Rule): boolean => comparator === 'at_most' || comparator === 'at_least';
    return inclusive(one) && !inclusive(other);
  }
  return lowBreaks(one.comparator!) ? one.limit! > other.limit! : one.limit! < other.limit!;
}

/** Rules that say the same thing twice, and grades whose limits are out of order. */
export function checkRulePairs({ rules }: Protocol, places: YamlPlaces): Problem[] {
  const kinds = new Map<string, Rule[]>();
  for (const rule of rules) {
    const key = sameThing(rule);
    const kind = kinds.get(key);
    if (kind) kind.push(rule);
    else kinds.set(key, [rule]);
  }
  return [...kinds.values()].flatMap((kind) => [...repeated(kind, places), ...outOfOrder(kind, places)]);
}

function repeated(kind: readonly Rule[], places: YamlPlaces): Problem[] {
  const firsts = new Map<string, Rule>();
  return kind.flatMap((rule) => {
    const test = `${rule.comparator} ${rule.limit}`;
    const first = firsts.get(test);
    if (first === undefined) {
      firsts.set(test, rule);
      return [];
    }
    const said = rule.status === undefined ? limitText(rule) : `status ${rule.status}`;
    return places.problem(
      'warning',
      'rule_repeated',
      ['rules', rule.name],
      `rule ${rule.name} judges ${rule.measure.name} ${said}, as ${first.name} does in line ${places.lineOf(['rules', first.name])}: the athlete is told twice`,
      'Take one of them out, or narrow them to different athletes.',
      'key',
    );
  });
}

function outOfOrder(kind: readonly Rule[], places: YamlPlaces): Problem[] {
  const limits = kind.filter((rule) => rule.limit !== undefined);
  /** the strictest rule of each grade: it is the one that a stronger grade may undercut */
  const strictest = new Map<string, Rule>();
  for (const rule of limits) {
    const known = strictest.get(rule.grade);
    if (known === undefined || isSofter(known, rule)) strictest.set(rule.grade, rule);
  }
  return limits.flatMap((rule) => {
    const weaker = GRADES.slice(0, GRADES.indexOf(rule.grade)).map((grade) => strictest.get(grade));
    const undercut = weaker.find((other) => other !== undefined && isSofter(rule, other));
    if (undercut === undefined) return [];
    return places.problem(
      'warning',
      'grades_out_of_order',
      ['rules', rule.name, rule.comparator!],
      `rule ${rule.name} (${rule.grade}, ${limitText(rule)}) is broken sooner than ${undercut.name} (${undercut.grade}, ${limitText(undercut)}), which has the weaker grade`,
      'Change the two limits over, or their grades.',
    );
  });
}
