import type { Problem } from '../../problems/problem.ts';
import type { Protocol, Rule } from '../../protocol/types.ts';
import { namedAll } from './wording.ts';
import type { YamlPlaces } from './yaml_places.ts';

/** Programmes that rules prescribe and that say nothing in the form in which they would be given. */
export function checkProgrammes({ programmes, rules }: Protocol, places: YamlPlaces): Problem[] {
  const found: Problem[] = [];
  for (const { name, shared, individual } of programmes.values()) {
    const asking = rules.filter((rule) => rule.programme === name);
    const sharing = asking.filter((rule) => rule.share);
    const say = (code: string, message: string, hint: string): void => {
      found.push(places.problem('warning', code, ['programmes', name], message, hint, 'key'));
    };
    if (shared === undefined && sharing.length > 0) {
      say(
        'programme_without_shared',
        `programme ${name} has no shared text, and a whole group may be given it by ${byRules(sharing)}`,
        `Add shared: what the group does, or share: no to ${sharing.length === 1 ? 'the rule' : 'the rules'}.`,
      );
    }
    if (individual === undefined && asking.length > 0) {
      say(
        'programme_without_individual',
        `programme ${name} has no individual text, and single athletes are given it by ${byRules(asking)}`,
        'Add individual: what one athlete does.',
      );
    }
  }
  return found;
}

function byRules(rules: readonly Rule[]): string {
  return `${rules.length === 1 ? 'rule' : 'rules'} ${namedAll(
    rules.map(({ name }) => name),
    3,
  )}`;
}
