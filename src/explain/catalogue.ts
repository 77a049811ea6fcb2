import type { Protocol } from '../protocol/types.ts';
import { ignoredTopics, rejectTopics } from './code_topics.ts';
import { foldName } from './find.ts';
import { GLOSSARY } from './glossary.ts';
import { groupTopics } from './group_topics.ts';
import { measureTopics } from './measure_topics.ts';
import { ruleTopics } from './rule_topics.ts';
import { columnTopics, dominanceTopics, tableTopics } from './table_topics.ts';
import { TOPIC_KINDS, type Topic, type TopicKind } from './topic.ts';

/** Kinds whose topics come from the protocol. */
export const PROTOCOL_KINDS: ReadonlySet<TopicKind> = new Set(['measure', 'rule', 'programme', 'sport group']);

const keyOf = ({ kind, name }: Topic): string => `${kind}\n${name}`;

/** The same topic told twice: the glossary says more than the data it comes from, which says where it stands. */
function joined(data: Topic, words: Topic): Topic {
  const known = Object.fromEntries(Object.entries(words).filter(([, value]) => value !== undefined));
  const see = [...new Set([...(words.see ?? []), ...(data.see ?? [])])];
  return { ...data, ...known, see, also: [...(words.also ?? []), ...(data.also ?? [])] };
}

/** `see` names only what can be explained, and not the topic itself. */
function withKnownNames(topics: readonly Topic[]): readonly Topic[] {
  const names = new Set(topics.map(({ name }) => foldName(name)));
  return topics.map((topic) => {
    const see = topic.see?.filter((name) => names.has(foldName(name)) && name !== topic.name);
    return { ...topic, see: see && see.length > 0 ? [...new Set(see)] : undefined };
  });
}

/**
 * Everything that can be explained, by kind in the order of `TOPIC_KINDS`.
 * @param protocol undefined where none can be read: its measures, rules, programmes and sport groups are then missing
 * @param commands topics of the commands, which only the command line knows
 */
export function catalogue(protocol: Protocol | undefined, commands: readonly Topic[] = []): readonly Topic[] {
  const fromProtocol = protocol
    ? [measureTopics, ruleTopics, groupTopics, dominanceTopics].flatMap((topicsOf) => topicsOf(protocol))
    : [];
  const all = new Map<string, Topic>();
  const fromData = [...fromProtocol, ...tableTopics(), ...columnTopics(), ...rejectTopics(), ...ignoredTopics()];
  for (const topic of [...fromData, ...commands]) all.set(keyOf(topic), topic);
  for (const topic of GLOSSARY) {
    const data = all.get(keyOf(topic));
    all.set(keyOf(topic), data ? joined(data, topic) : topic);
  }
  const topics = [...all.values()];
  return withKnownNames(TOPIC_KINDS.flatMap((kind) => topics.filter((topic) => topic.kind === kind)));
}
