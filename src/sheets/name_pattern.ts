import { didYouMean } from '../protocol/nearest.ts';

/** What a file name can say of its sheet. */
export const NAME_FACTS = ['team', 'station', 'date', 'season', 'tester', 'device'] as const;
export type NameFact = (typeof NAME_FACTS)[number];

/** A stretch of text that stands in every name, a fact, or {}: a part that says nothing. */
export type NamePart =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'fact'; readonly fact: NameFact }
  | { readonly kind: 'any' };

export interface NamePattern {
  readonly parts: readonly NamePart[];
  /** why the pattern cannot be used; its parts are of no use then */
  readonly problems: readonly { readonly message: string; readonly hint: string }[];
}

const LONGEST_PATTERN = 200;
const ENDING = /\.(?:csv|tsv|tab|txt|text)$/i;

/**
 * The parts of a pattern like `{team}_{station}_{date}`, case of the text between as written.
 * Refused: a brace without its other, an unknown or repeated fact, two parts with nothing between them (nobody could say
 * where one ends), folders, the ending of the file, and a pattern that says nothing.
 */
export function readNamePattern(written: string): NamePattern {
  const parts: NamePart[] = [];
  const problems: { message: string; hint: string }[] = [];
  const refuse = (message: string, hint: string): void => {
    problems.push({ message, hint });
  };
  const pattern = written.normalize('NFC').trim();
  if (pattern.length > LONGEST_PATTERN) {
    refuse(`has ${pattern.length} characters`, `Take at most ${LONGEST_PATTERN}.`);
    return { parts, problems };
  }
  for (const piece of pattern.split(/(\{[^{}]*\})/)) {
    if (piece === '') continue;
    if (!/^\{.*\}$/s.test(piece)) {
      if (/[{}]/.test(piece)) refuse('has a brace without its other', 'Write facts as in {team}.');
      else parts.push({ kind: 'text', text: piece });
      continue;
    }
    const part = partOf(piece.slice(1, -1).trim());
    if (part === undefined) {
      refuse(`knows no fact ${piece}`, didYouMean(piece.slice(1, -1).trim(), NAME_FACTS));
      continue;
    }
    const before = parts.at(-1);
    if (before !== undefined && before.kind !== 'text') {
      refuse(
        `has nothing between ${partText(before)} and ${partText(part)}, so that nobody can say where one ends`,
        'Write what parts them in the name, as in {team}_{date}.',
      );
    }
    if (part.kind === 'fact' && parts.some((other) => other.kind === 'fact' && other.fact === part.fact)) {
      refuse(`has ${piece} twice`, 'Write {} for a part that says nothing.');
    }
    parts.push(part);
  }
  if (pattern.includes('/') || pattern.includes('\\')) {
    refuse('has a folder in it', 'Write the name alone: folders are not looked at.');
  } else if (ENDING.test(pattern)) {
    refuse(`has the ending ${ENDING.exec(pattern)![0]}`, 'Take it out: the name is looked at without its ending.');
  }
  if (problems.length === 0 && !parts.some((part) => part.kind === 'fact')) {
    refuse('holds no fact', `Known: ${NAME_FACTS.map((fact) => `{${fact}}`).join(', ')}.`);
  }
  return { parts, problems };
}

function partOf(word: string): NamePart | undefined {
  if (word === '') return { kind: 'any' };
  const fact = NAME_FACTS.find((known) => known === word);
  return fact && { kind: 'fact', fact };
}

function partText(part: NamePart): string {
  return part.kind === 'text' ? part.text : part.kind === 'any' ? '{}' : `{${part.fact}}`;
}
