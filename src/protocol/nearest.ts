import { closest, distance } from 'fastest-levenshtein';

const LONGEST_WORD = 80;
const MOST_NAMED = 16;

/** The known word that a mistyped one stands for, if one is near enough to be meant. */
export function nearest(word: string, known: Iterable<string>): string | undefined {
  const candidates = [...known];
  if (candidates.length === 0 || word.length > LONGEST_WORD) return undefined;
  const folded = word.toLowerCase();
  const lowered = candidates.map((candidate) => candidate.toLowerCase());
  const best = closest(folded, lowered);
  const near = distance(folded, best) <= Math.max(2, Math.floor(word.length / 3)) && best.length > 1;
  return near ? candidates[lowered.indexOf(best)] : undefined;
}

/** A hint that names the nearest known word, or the known ones, of many the first. */
export function didYouMean(word: string, known: Iterable<string>): string {
  const candidates = [...known];
  const near = nearest(word, candidates);
  if (near !== undefined) return `Did you mean ${near}?`;
  if (candidates.length === 0) return 'There is none to choose from yet.';
  const more = candidates.length - MOST_NAMED;
  return `Known: ${candidates.slice(0, MOST_NAMED).join(', ')}${more > 0 ? ` and ${more} more` : ''}.`;
}
