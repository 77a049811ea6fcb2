import { distance } from 'fastest-levenshtein';
import { foldKey } from '../../units/keys.ts';

const SHORTEST_NAME = 4;
const FARTHEST = 2;

/** Whole teams differ by these alone: the men's and the women's are no misspelling of each other. */
const OF_WHOM: ReadonlySet<string> = new Set(
  'm w f s men women man woman mens womens male female males females boys girls mixed varsity jv'.split(' '),
);
/** Sports that are near to each other as words. */
const LIKE_WORDS: ReadonlySet<string> = new Set(
  'baseball basketball football softball handball netball korfball squash'.split(' '),
);

/** Whether one name of a team holds all the words of the other: Men's swimming and Swimming. */
export function isWider(one: string, other: string): boolean {
  const words = foldKey(one).split(' ');
  const others = foldKey(other).split(' ');
  const holds = (all: readonly string[], some: readonly string[]): boolean =>
    some.join('').length >= SHORTEST_NAME && some.every((word) => all.includes(word));
  return holds(words, others) || holds(others, words);
}

/** Whether one name of a team is the other with a slip of one or two letters in a word. */
export function isMisspelling(one: string, other: string): boolean {
  const words = foldKey(one.slice(0, 80)).split(' ');
  const others = foldKey(other.slice(0, 80)).split(' ');
  if (words.join('') === others.join('')) return true;
  return words.length === others.length && words.every((word, at) => isSlip(word, others[at]));
}

function isSlip(word: string, other: string): boolean {
  if (word === other) return true;
  const shortest = Math.min(word.length, other.length);
  if (shortest < SHORTEST_NAME || OF_WHOM.has(word) || OF_WHOM.has(other)) return false;
  if (LIKE_WORDS.has(word) && LIKE_WORDS.has(other)) return false;
  // Judo and Polo are two letters apart as well.
  return distance(word, other) <= (shortest < 2 * FARTHEST + 2 ? 1 : FARTHEST) || isTurned(word, other);
}

/** Two neighbouring letters changed over: Jduo. */
function isTurned(word: string, other: string): boolean {
  if (word.length !== other.length) return false;
  const differing = [...word].flatMap((letter, at) => (letter === other[at] ? [] : [at]));
  const [first, second] = differing;
  return (
    differing.length === 2 && second === first + 1 && word[first] === other[second] && word[second] === other[first]
  );
}

/** The team that a mistyped or longer name may mean: Women's soccer is near to Soccer. */
export function nearestTeam(team: string, known: Iterable<string>): string | undefined {
  const teams = [...known];
  return teams.find((other) => isMisspelling(team, other)) ?? teams.find((other) => isWider(team, other));
}
