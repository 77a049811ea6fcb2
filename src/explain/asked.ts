import { findTopics, foldName, isLittleWord, nearestNames } from './find.ts';
import { TOPIC_KINDS, type Topic, type TopicKind } from './topic.ts';

/** What a command line asked for. */
export interface Asked {
  /** topics in the order of the question, each once */
  readonly topics: readonly Topic[];
  /** kinds of which only the names were asked for */
  readonly kinds: readonly TopicKind[];
  readonly unknown: readonly Unknown[];
}

export interface Unknown {
  readonly name: string;
  readonly kind?: TopicKind;
  readonly near: readonly string[];
}

/** Longer names than that, in words, there are none. */
const MOST_WORDS = 8;

const plural = (kind: string): string => {
  if (kind.endsWith('y')) return `${kind.slice(0, -1)}ies`;
  return kind.endsWith('s') ? `${kind}es` : `${kind}s`;
};

/** Heading of a kind in a list. */
export function kindTitle(kind: TopicKind): string {
  const text = plural(kind);
  return text[0].toUpperCase() + text.slice(1);
}

const SINGULAR = new Map<string, TopicKind>([
  ...TOPIC_KINDS.map((kind) => [foldName(kind), kind] as const),
  ['program', 'programme'],
  ['group', 'sport group'],
  ['code', 'reject code'],
  ['problem', 'problem code'],
  ['reason', 'ignored reason'],
  ['state', 'coverage state'],
  ['scope', 'plan scope'],
]);
const PLURAL = new Map<string, TopicKind>([
  ...TOPIC_KINDS.map((kind) => [foldName(plural(kind)), kind] as const),
  ['programs', 'programme'],
  ['groups', 'sport group'],
  ['codes', 'reject code'],
  ['problems', 'problem code'],
  ['reasons', 'ignored reason'],
  ['states', 'coverage state'],
  ['scopes', 'plan scope'],
]);

/** The longest run of words from `start` that names topics, in words and topics. */
function longest(words: readonly string[], start: number, topics: readonly Topic[], kind?: TopicKind) {
  for (let end = Math.min(words.length, start + MOST_WORDS); end > start; end--) {
    const found = findTopics(words.slice(start, end).join(' '), topics, kind);
    if (found.length > 0) return { end, found };
  }
  return undefined;
}

/** A kind at `start`, of one word or two. */
function kindAt(words: readonly string[], start: number, kinds: ReadonlyMap<string, TopicKind>) {
  for (const end of [start + 2, start + 1]) {
    const kind = end <= words.length ? kinds.get(foldName(words.slice(start, end).join(' '))) : undefined;
    if (kind !== undefined) return { end, kind };
  }
  return undefined;
}

/** Whether there is a word at `at`, and it says nothing at all. */
function isUnknown(words: readonly string[], at: number, topics: readonly Topic[]): boolean {
  if (at >= words.length || kindAt(words, at, SINGULAR) || kindAt(words, at, PLURAL)) return false;
  return longest(words, at, topics) === undefined;
}

/**
 * What the words of a command line ask for: names, each in turn, names of several words too (`within error`); a kind
 * before a name narrows it (`column share`); a kind alone asks for the names of that kind. Little words around them
 * say nothing (`what is priority`).
 */
export function asked(args: readonly string[], topics: readonly Topic[]): Asked {
  // A question in quotes is one argument.
  const words = args.flatMap((arg) => arg.trim().split(/\s+/));
  const found = new Set<Topic>();
  const kinds = new Set<TopicKind>();
  const unknown: Unknown[] = [];
  /** words in a row that say nothing; together they may be one misspelt name */
  let lost: string[] = [];
  const tellLost = (): void => {
    if (lost.length > 0) unknown.push(...lostNames(lost, topics));
    lost = [];
  };
  for (let at = 0; at < words.length; ) {
    const name = longest(words, at, topics);
    const kind = kindAt(words, at, SINGULAR);
    const narrowed = kind && longest(words, kind.end, topics, kind.kind);
    const isLongName = name !== undefined && name.end > at + 1;
    const list = kindAt(words, at, PLURAL) ?? kind;
    const isLostKind = kind !== undefined && !isLongName && !narrowed && isUnknown(words, kind.end, topics);
    if (!isLongName && narrowed) {
      tellLost();
      for (const topic of narrowed.found) found.add(topic);
      at = narrowed.end;
    } else if (isLostKind) {
      tellLost();
      const rest = words.slice(kind.end).join(' ');
      const near = nearestNames(rest, topics, kind.kind);
      unknown.push({ name: rest, kind: kind.kind, near: near.length > 0 ? near : nearestNames(rest, topics) });
      at = words.length;
    } else if (name && !(list && list.end > name.end)) {
      tellLost();
      for (const topic of name.found) found.add(topic);
      // `rules` is a key of the protocol, and all rules.
      const several = kindAt(words, at, PLURAL);
      if (several?.end === name.end) kinds.add(several.kind);
      at = name.end;
    } else if (list) {
      tellLost();
      kinds.add(list.kind);
      at = list.end;
    } else {
      lost.push(words[at]);
      at++;
    }
  }
  tellLost();
  const told = unknown.filter(({ name }) => !name.split(' ').every(isLittleWord));
  const isOnlyLittle = found.size + kinds.size + told.length === 0;
  return { topics: [...found], kinds: [...kinds], unknown: isOnlyLittle ? unknown : told };
}

/** One misspelt name of several words, or several of one word each. */
function lostNames(lost: readonly string[], topics: readonly Topic[]): Unknown[] {
  const whole = lost.join(' ');
  const near = nearestNames(whole, topics);
  if (near.length > 0 || lost.length === 1) return [{ name: whole, near }];
  return lost.map((name) => ({ name, near: nearestNames(name, topics) }));
}
