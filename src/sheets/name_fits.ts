import type { NameFact, NamePart } from './name_pattern.ts';

/** One way in which a name fits a pattern: what each fact is. */
export type NameFit = ReadonlyMap<NameFact, string>;

interface Tail {
  /** what the facts from here on are, as one text: two tails that say the same are one */
  readonly key: string;
  readonly fact?: NameFact;
  readonly text?: string;
  readonly rest?: Tail;
}

const END: Tail = { key: '' };
/** More than one is all that anybody asks. */
const MOST_FITS = 2;

/**
 * The first two ways, short facts first, in which a whole name fits; ways that say the same are one. The text between
 * facts is compared without case.
 * @param read what a stretch of the name says as a fact, or undefined if it cannot be one
 * Time is bounded by parts times the square of the name's length.
 */
export function nameFits(
  parts: readonly NamePart[],
  name: string,
  read: (fact: NameFact, text: string) => string | undefined,
): NameFit[] {
  const known = new Map<number, readonly Tail[]>();
  const tails = (part: number, at: number): readonly Tail[] => {
    const place = part * (name.length + 1) + at;
    const before = known.get(place);
    if (before !== undefined) return before;
    const found = findTails(part, at);
    known.set(place, found);
    return found;
  };
  const findTails = (index: number, at: number): readonly Tail[] => {
    if (index === parts.length) return at === name.length ? [END] : [];
    const part = parts[index];
    if (part.kind === 'text') {
      const end = at + part.text.length;
      return name.slice(at, end).toLowerCase() === part.text.toLowerCase() ? tails(index + 1, end) : [];
    }
    const found: Tail[] = [];
    for (let end = at + 1; end <= name.length && found.length < MOST_FITS; end++) {
      const rests = tails(index + 1, end);
      if (rests.length === 0) continue;
      const text = part.kind === 'any' ? '' : read(part.fact, name.slice(at, end));
      if (text === undefined) continue;
      for (const rest of rests) {
        const tail =
          part.kind === 'any' ? rest : { key: `${part.fact} ${text}\n${rest.key}`, fact: part.fact, text, rest };
        if (found.length < MOST_FITS && !found.some((other) => other.key === tail.key)) found.push(tail);
      }
    }
    return found;
  };
  return tails(0, 0).map(fitOf);
}

function fitOf(tail: Tail): NameFit {
  const fit = new Map<NameFact, string>();
  for (let at: Tail | undefined = tail; at?.fact !== undefined; at = at.rest) fit.set(at.fact, at.text!);
  return fit;
}
