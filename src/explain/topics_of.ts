import type { Topic, TopicKind } from './topic.ts';
import { sentence } from './words.ts';

/** Topics by name: the compiler refuses a name that stands twice. */
export type TopicTexts = Readonly<Record<string, Omit<Topic, 'name' | 'kind'>>>;

/**
 * Topics of one kind, in the order of the texts; `where` and `source` get their full stop here.
 * @param shared what all of them have, unless a text says otherwise
 */
export function topicsOf(kind: TopicKind, texts: TopicTexts, shared: Partial<Topic> = {}): readonly Topic[] {
  return Object.entries(texts).map(([name, text]) => {
    const topic = { name, kind, ...shared, ...text };
    const { where, source } = topic;
    return { ...topic, ...(where && { where: sentence(where) }), ...(source && { source: sentence(source) }) };
  });
}
