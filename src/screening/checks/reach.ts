import type { Problem } from '../../problems/problem.ts';
import type { Measure, Protocol, Rule } from '../../protocol/types.ts';
import { foldKey } from '../../units/keys.ts';
import { many, namedAll } from './wording.ts';
import type { YamlPlaces } from './yaml_places.ts';

/** Folded teams whose athletes are meant; undefined: everybody. */
type Teams = ReadonlySet<string> | undefined;

function both(one: Teams, other: Teams): Teams {
  if (one === undefined || other === undefined) return one ?? other;
  return new Set([...one].filter((team) => other.has(team)));
}

const folded = (teams: readonly string[]): Teams => new Set(teams.map(foldKey));

/** Whether a protocol names no battery at all, so that everybody is given everything. */
const isForAll = ({ sportGroups, everyone }: Protocol): boolean => sportGroups.length === 0 && everyone.length === 0;

/** Teams that are given a measure. */
function givenTo(measure: Measure, protocol: Protocol): Teams {
  if (isForAll(protocol) || protocol.everyone.includes(measure.name)) return undefined;
  const groups = protocol.sportGroups.filter((group) => group.measures.includes(measure.name));
  return folded(groups.flatMap((group) => group.teams));
}

/** Teams that a rule is narrowed to. */
function narrowedTo({ teams, sportGroups }: Rule, protocol: Protocol): Teams {
  const groups = protocol.sportGroups.filter((group) => sportGroups?.includes(group.name));
  return both(teams && folded(teams), sportGroups && folded(groups.flatMap((group) => group.teams)));
}

/** Rules that no athlete can break, since nobody is given what they judge, or not together with what they ask for. */
export function checkReach(protocol: Protocol, places: YamlPlaces): Problem[] {
  const given = new Map(protocol.measures.map((measure) => [measure, givenTo(measure, protocol)]));
  const reach = new Map(
    protocol.rules.map((rule) => [rule, both(given.get(rule.measure), narrowedTo(rule, protocol))]),
  );
  const byName = new Map(protocol.rules.map((rule) => [rule.name, rule]));
  return protocol.rules.flatMap((rule) => {
    if (given.get(rule.measure)?.size === 0) {
      return places.problem(
        'warning',
        'rule_without_battery',
        ['rules', rule.name, 'measure'],
        `rule ${rule.name} judges ${rule.measure.name}, which is in no sport group and not in everyone: it applies to nobody`,
        'Add the measure to a sport group or to everyone.',
      );
    }
    if (reach.get(rule)?.size === 0) {
      return places.problem(
        'warning',
        'rule_without_team',
        ['rules', rule.name],
        `rule ${rule.name} is narrowed to teams that are not given ${rule.measure.name}: it applies to nobody of a single team`,
        'Widen teams or sport_groups of the rule, or add the measure to their sport group.',
        'key',
      );
    }
    return rule.also.flatMap((name, at) => {
      const other = byName.get(name);
      const why = other && apart(rule, other, reach);
      if (why === undefined) return [];
      return places.problem(
        'warning',
        'also_never_met',
        ['rules', rule.name, 'also', at],
        `rule ${rule.name} asks for ${name} as well, and ${why}: it is hardly ever broken`,
        'Put both measures into one sport group, or take the name out of also.',
      );
    });
  });
}

function apart(rule: Rule, other: Rule, reach: ReadonlyMap<Rule, Teams>): string | undefined {
  if (rule.sex !== undefined && other.sex !== undefined && foldKey(rule.sex) !== foldKey(other.sex)) {
    return `one is for sex ${rule.sex}, the other for ${other.sex}`;
  }
  const [mine, others] = [reach.get(rule), reach.get(other)];
  if (others?.size === 0) return `${other.name} applies to nobody`;
  return both(mine, others)?.size === 0 ? 'no team is given both' : undefined;
}

/** Measures that are in no battery, are judged by no rule and go into nothing that is used. */
export function checkUnused(protocol: Protocol, places: YamlPlaces): Problem[] {
  return [...unusedMeasures(protocol, places), ...unusedProgrammes(protocol, places)];
}

function unusedMeasures(protocol: Protocol, places: YamlPlaces): Problem[] {
  if (isForAll(protocol)) return [];
  const used = new Set<string>([
    ...protocol.everyone,
    ...protocol.sportGroups.flatMap((group) => group.measures),
    ...protocol.rules.map((rule) => rule.measure.name),
    ...protocol.compounds.flatMap((compound) => compound.parts.map((part) => part.name)),
  ]);
  // Parts stand before what is worked out from them.
  for (const { name, derivation } of protocol.measures.toReversed()) {
    if (derivation === undefined || !used.has(name)) continue;
    for (const part of derivation.parts) used.add(part.name);
    if ('asPercentOf' in derivation && derivation.asPercentOf) used.add(derivation.asPercentOf.name);
  }
  const unused = protocol.measures.filter(({ name }) => !used.has(name));
  if (unused.length === 0) return [];
  const [first] = unused;
  return [
    places.problem(
      'note',
      'measure_unused',
      [first.derivation ? 'derived' : 'measures', first.name],
      `${many(unused.length, 'measure')} that no sport group, rule or other measure uses: ${namedAll(unused.map(({ name }) => name))}`,
      'Add them to a sport group or to everyone, or take them out.',
      'key',
    ),
  ];
}

function unusedProgrammes({ programmes, rules }: Protocol, places: YamlPlaces): Problem[] {
  const named = new Set(rules.map((rule) => rule.programme));
  const unused = [...programmes.keys()].filter((name) => !named.has(name));
  if (unused.length === 0) return [];
  return [
    places.problem(
      'note',
      'programme_unused',
      ['programmes', unused[0]],
      `${many(unused.length, 'programme')} that no rule prescribes: ${namedAll(unused)}`,
      'Name them in a rule with programme:, or take them out.',
      'key',
    ),
  ];
}
