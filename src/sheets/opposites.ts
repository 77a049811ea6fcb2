import { distance } from 'fastest-levenshtein';

/** Abbreviations that differ in a letter name different things: PM and PL, IR and ER, add and abd, sys and dia. */
const LONGEST_ABBREVIATION = 3;
const LONGER_ABBREVIATIONS: ReadonlySet<string> = new Set(['post', 'flex']);

/** Stems of words that name the opposite direction, motion or pressure, and stand a slip or two apart. */
const OPPOSITES: readonly (readonly [string, string])[] = [
  ['adduct', 'abduct'],
  ['intern', 'extern'],
  ['invers', 'evers'],
  ['flex', 'extens'],
  ['medial', 'lateral'],
  ['anterior', 'posterior'],
  ['systol', 'diastol'],
  ['dorsi', 'plantar'],
  ['supinat', 'pronat'],
  ['inner', 'outer'],
  ['upper', 'lower'],
  ['left', 'right'],
];

const isAbbreviation = (word: string): boolean => word.length <= LONGEST_ABBREVIATION || LONGER_ABBREVIATIONS.has(word);

/**
 * Whether a heading may mean something else than a known one of nearly the same letters: they differ in an abbreviation, or
 * the heading is as near to the opposite direction.
 * @param heading folded, words parted by blanks; so is `known`
 */
export function mayBeOpposite(heading: string, known: string): boolean {
  const [own, others] = [heading.split(' '), known.split(' ')];
  const written = own.filter((word) => !others.includes(word));
  const meant = others.filter((word) => !own.includes(word));
  return meant.some((word) => {
    const isApart = (other: string): boolean => isAbbreviation(other) || distance(other, word) > 1;
    if (isAbbreviation(word) && written.some(isApart)) return true;
    const opposite = oppositeOf(word);
    return opposite !== undefined && written.some((other) => distance(other, opposite) <= distance(other, word));
  });
}

function oppositeOf(word: string): string | undefined {
  for (const [one, other] of OPPOSITES) {
    if (word.includes(one)) return word.replace(one, other);
    if (word.includes(other)) return word.replace(other, one);
  }
  return undefined;
}
