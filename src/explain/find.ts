import { distance } from 'fastest-levenshtein';
import { foldKey } from '../units/keys.ts';
import type { Topic, TopicKind } from './topic.ts';

const LONGEST_NAME = 80;
const MOST_SUGGESTED = 6;
/** So many slips of the hand are a near miss in any spelling, in a name up to a third of its letters. */
const FEW_SLIPS = 2;
/** Abbreviations lie near to each other by chance: of three letters one may differ, of fewer none. */
const SHORT = 3;
/** Words that stand in many names and ask for none of them. */
const LITTLE_WORDS: ReadonlySet<string> = new Set(
  'a an and are at by can do does for from how i in is it means my no not of on or the this to was what when where who with'.split(
    ' ',
  ),
);

const words = (name: string): string[] => foldKey(name.slice(0, LONGEST_NAME)).split(' ');

/** Whether a word stands in many names and asks for none of them. */
export const isLittleWord = (word: string): boolean => LITTLE_WORDS.has(foldKey(word));

/** What spellings of one name share: case, spaces, hyphens and underscores count for nothing. */
export function foldName(name: string): string {
  return name.length > LONGEST_NAME ? '' : words(name).join('');
}

/**
 * Topics of exactly this name, of all kinds or of one: `pain` can be a status and a word. Where no name fits, those that
 * know it as another spelling.
 */
export function findTopics(name: string, topics: readonly Topic[], kind?: TopicKind): readonly Topic[] {
  const wanted = foldName(name);
  if (wanted === '') return [];
  const asked = kind === undefined ? topics : topics.filter((topic) => topic.kind === kind);
  const named = asked.filter((topic) => foldName(topic.name) === wanted);
  return named.length > 0 ? named : asked.filter(({ also }) => also?.some((other) => foldName(other) === wanted));
}

/** Whether two letters beside each other have changed their places, which counts as two slips otherwise. */
function isSwapped(one: string, other: string): boolean {
  if (one.length !== other.length) return false;
  let at = 0;
  while (at < one.length && one[at] === other[at]) at++;
  return one.slice(at) === `${other[at + 1]}${other[at]}${other.slice(at + 2)}`;
}

/** How far a name is from the one that was meant, the nearest first; undefined: too far. */
function rank(wanted: readonly string[], candidate: string, isName: boolean): number | undefined {
  const parts = words(candidate);
  // Among those that hold all its words the one that says the least else is the nearest.
  if (wanted.every((word) => parts.includes(word))) return 1 - 1 / parts.length;
  const asked = wanted.join('');
  const whole = parts.join('');
  if (asked.length <= SHORT) {
    const isMissed = asked.length === SHORT && whole.length === SHORT && distance(asked, whole) === 1;
    return isMissed ? 1 : undefined;
  }
  const slips = distance(asked, whole);
  if (slips <= Math.min(FEW_SLIPS, Math.max(1, Math.floor(asked.length / 3)))) return slips;
  if (isSwapped(asked, whole)) return 1;
  if (wanted.every((word) => word.length > 2 && parts.some((part) => part.startsWith(word)))) return FEW_SLIPS + 1;
  return isName && slips <= Math.floor(asked.length / 3) && slips < whole.length ? slips + 2 : undefined;
}

/** Names that may have been meant by one that is not known: those that hold its words, then the nearest in spelling. */
export function nearestNames(name: string, topics: readonly Topic[], kind?: TopicKind): readonly string[] {
  const wanted = words(name);
  if (wanted.join('').length < 2 || wanted.every((word) => LITTLE_WORDS.has(word))) return [];
  const ranks = new Map<string, number>();
  for (const topic of topics) {
    if (kind !== undefined && topic.kind !== kind) continue;
    for (const spelling of [topic.name, ...(topic.also ?? [])]) {
      const found = rank(wanted, spelling, spelling === topic.name);
      if (found !== undefined) ranks.set(topic.name, Math.min(found, ranks.get(topic.name) ?? found));
    }
  }
  const sorted = [...ranks].sort(([, first], [, second]) => first - second);
  return sorted.slice(0, MOST_SUGGESTED).map(([near]) => near);
}
