import type { Programme, Protocol, SportGroup } from '../protocol/types.ts';
import type { Topic } from './topic.ts';
import { listed, sentence, sentences } from './words.ts';

function programmeTopic(programme: Programme, { rules }: Protocol): Topic {
  const { name, label, owner, shared, individual, retestDays, source } = programme;
  const by = rules.filter((rule) => rule.programme === name).map((rule) => rule.name);
  return {
    name,
    kind: 'programme',
    title: label,
    definition: sentences(
      `Prescribed by ${owner} staff.`,
      shared && `For a whole group: ${sentence(shared)}`,
      individual && `For one athlete: ${sentence(individual)}`,
      shared === undefined && individual === undefined && 'The protocol does not say what it consists of.',
      retestDays !== undefined && `Tested again after ${retestDays === 1 ? '1 day' : `${retestDays} days`}.`,
    ),
    source: source === undefined ? 'None is given in the protocol.' : sentence(source),
    caution:
      owner === 'medical'
        ? 'It is what this protocol says, not medical advice: local rules and your team physician go first.'
        : 'It is general work for a finding, no treatment: an athlete in pain is seen by medical staff before starting it.',
    where: sentences(
      'The protocol, under programmes; findings and plan in the column programme.',
      by.length === 0 && 'No rule names it.',
    ),
    see: by,
    also: [label],
  };
}

function sportGroupTopic({ name, label, teams, measures }: SportGroup, protocol: Protocol): Topic {
  const isOfGroup = new Set(measures);
  const rules = protocol.rules.filter(({ measure }) => isOfGroup.has(measure.name)).map((rule) => rule.name);
  return {
    name,
    kind: 'sport group',
    title: label,
    definition: sentences(
      teams.length === 0 ? 'No team is in it yet.' : `Teams: ${listed(teams)}.`,
      measures.length === 0 ? 'It has no battery of its own.' : `Battery: ${listed(measures)}.`,
      protocol.everyone.length > 0 && `With it goes what everyone is given: ${listed(protocol.everyone)}.`,
    ),
    caution:
      'A team belongs to it by its name alone: write it as on the roster. An athlete of two groups is given both batteries, each measure once.',
    where: 'The protocol, under sport_groups; findings in the column sport_group, cohort in the column group.',
    see: rules,
    also: [label],
  };
}

/** Topics of the programmes and sport groups of a protocol. */
export function groupTopics(protocol: Protocol): readonly Topic[] {
  return [
    ...[...protocol.programmes.values()].map((programme) => programmeTopic(programme, protocol)),
    ...protocol.sportGroups.map((group) => sportGroupTopic(group, protocol)),
  ];
}
