import { foldQuotes } from '../units/characters.ts';

/** Longer texts are no headings, and are cut off before anything else looks at them. */
export const LONGEST_HEADING = 200;
export const MOST_TOKENS = 24;

/** A word, number or sign of a heading, with its place in the folded heading. */
export interface Token {
  readonly text: string;
  readonly start: number;
  readonly end: number;
}

/** A heading, or a part of it, with its words. */
export interface Phrase {
  readonly text: string;
  readonly tokens: readonly Token[];
}

/** Stands where a heading falls apart without a space: HipAddL. No folded heading holds one of its own. */
const SEAM = '\u200b';
const DEGREE_SIGNS = /[º˚]/g;
/** Raised figures are exponents or footnotes, never the trial that plain folding would make of them. */
const NOT_RAISED = /[^⁰¹²³⁴-⁹]+/g;
const INVISIBLE = /\p{Cf}/gu;
const MARKS_OF_TRADE = /[™®©℠]/g;
const QUOTED = /"([^"]{1,200})"/g;

const LEFT = '(?:left|lft|lt|lle|lue|l)';
const RIGHT = '(?:right|rgt|rt|rle|rue|r)';
/** L/R and L-R hold both sides; L - R, L:R, L+R and L&R say something else, or nobody knows what. */
const BETWEEN_SIDES = '(?: {0,2}[/|] {0,2}|[-‐‑–])';
const PAIR = String.raw`(?<!\p{L})(?:${LEFT}${BETWEEN_SIDES}${RIGHT}|${RIGHT}${BETWEEN_SIDES}${LEFT})(?!\p{L})`;
const ORDINAL = String.raw`\d{1,2}(?:st|nd|rd|th)(?!\p{L})`;
const WORD = String.raw`[\p{L}\p{M}]+`;
const NUMBER = String.raw`\d+(?:\.\d+)?`;
/** Signs that mean something: units, raised figures, and comparisons, which no heading of a reading holds. */
const SIGN = `[#%°"'′″⁰¹²³⁴-⁹<>=≤≥±]`;
const TOKEN = new RegExp([PAIR, ORDINAL, WORD, NUMBER, SIGN].join('|'), 'giu');

const BRACKETED_SIDES = new RegExp(String.raw`\((${LEFT}|${RIGHT})\) ?/ ?\((${LEFT}|${RIGHT})\)`, 'giu');

/** A heading with one kind of space, quote, degree sign and letter width, as words and signs are looked for in it. */
export function foldHeading(heading: string): string {
  return foldQuotes(heading.replace(DEGREE_SIGNS, '°').replace(MARKS_OF_TRADE, ' '))
    .replace(NOT_RAISED, (part) => part.normalize('NFKC'))
    .replace(INVISIBLE, '')
    .replace(/\s/g, ' ')
    .replace(QUOTED, ' $1 ')
    .replace(BRACKETED_SIDES, '($1/$2)')
    .replace(/mm ?\[hg\]/gi, ' mmHg ')
    .trim();
}

/**
 * Words, numbers and signs of a folded heading; HipAddL, LHipAdd and T2 fall apart at the seams, `L/R`, `R-L` and `2nd`
 * are one word each.
 */
export function phrase(folded: string): Phrase {
  const text = folded.replace(/(\p{Ll})(\p{Lu})/gu, `$1${SEAM}$2`).replace(/(\p{Lu})(\p{Lu}\p{Ll})/gu, `$1${SEAM}$2`);
  const tokens = [...text.matchAll(TOKEN)].map(
    ({ 0: word, index }): Token => ({ text: word, start: index, end: index + word.length }),
  );
  return { text, tokens };
}

/** What stands from one word to another, as written. */
export function writtenFrom({ text }: Phrase, first: Token, last: Token): string {
  return text.slice(first.start, last.end).replaceAll(SEAM, '').replace(/ {2,}/g, ' ');
}

/** The last character before a word that is no space, or nothing. */
export function before({ text }: Phrase, token: Token): string {
  return text.slice(0, token.start).trimEnd().at(-1) ?? '';
}

/** Splits off what stands in brackets: "(kg)", "[lbf_av]", "(L)". Square brackets stay around their text. */
export function brackets(folded: string): { outside: string; groups: string[] } {
  const groups: string[] = [];
  const outside = folded.replace(
    /\(([^()]*)\)|(?<![a-z])((?:\[[^[\]]*\][./]?)+)/g,
    (_, round?: string, square?: string) => {
      groups.push((round ?? square ?? '').trim());
      return ' ';
    },
  );
  return { outside, groups };
}
