import type { Measure, Protocol } from '../../protocol/types.ts';
import { foldKey } from '../../units/keys.ts';
import { isForMedical, isHiddenFromCoach } from './private_measures.ts';

/** Never in what a coach reads, be it within a longer word. */
const STEMS = [
  'pain',
  'pressure',
  'mass',
  'weight',
  'injur',
  'bmi',
  'hurt',
  'sore',
  'surg',
  'rehab',
  'concuss',
  'hypertens',
  'diagnos',
] as const;
/** Never as a word of its own. */
const WORDS = ['bp'] as const;
/** Words of headings that tell nothing by themselves. */
const TELLING_NOTHING: ReadonlySet<string> = new Set(
  (
    'the and for per with from not one two left right both side mean best worst max min first last day date test ' +
    'trial reading value total rate index rest resting seated sitting standing lying body arm ' +
    'wrist upper lower minus before after now'
  ).split(' '),
);
const SHORTEST_WORD = 3;
/** Characters that show nothing and would break a word in two. */
const INVISIBLE = /[\u00ad\u200b-\u200f\u2060\ufeff]/g;

const fold = (text: string): string => foldKey(text.replace(INVISIBLE, ''));

/** Everything a measure is called, folded. */
function namesOf({ name, label, headings }: Pick<Measure, 'name' | 'label' | 'headings'>): string[] {
  return [name, label, ...headings].map(fold).filter((text) => text !== '');
}

const wordsIn = (names: readonly string[]): string[] =>
  names.flatMap((name) => name.split(' ')).filter((word) => word.length >= SHORTEST_WORD && !TELLING_NOTHING.has(word));

/**
 * Names of measures of a kind, and the words of these names that no other measure has: a heading of two words is told by
 * either of them.
 */
function toldBy({ measures, compounds }: Protocol, isOfKind: (measure: Measure) => boolean): ReadonlySet<string> {
  const names = measures.filter(isOfKind).flatMap(namesOf);
  for (const { name, headings, parts } of compounds) {
    if (parts.some(isOfKind)) names.push(...namesOf({ name, label: '', headings }));
  }
  const others = measures.filter((measure) => !isHiddenFromCoach(measure));
  const shared = new Set(wordsIn(others.flatMap(namesOf)));
  return new Set([...names, ...wordsIn(names).filter((word) => !shared.has(word))]);
}

/** Whether one of the texts stands in a text as whole words; both folded. A plural s is no other word. */
function holds(folded: string, told: ReadonlySet<string>): boolean {
  const bounded = ` ${folded} `;
  for (const one of told) if (bounded.includes(` ${one} `) || bounded.includes(` ${one}s `)) return true;
  return false;
}

/** Says of a text whether it speaks of a vital sign of the protocol. */
export function medicalWords(protocol: Protocol): (text: string) => boolean {
  const told = toldBy(protocol, isForMedical);
  return (text) => holds(fold(text), told);
}

/** Whether a text holds none of the words that no coach's output may hold, whatever the protocol. */
export function isPlainlyFit(text: string): boolean {
  const folded = fold(text);
  return !STEMS.some((stem) => folded.includes(stem)) && !holds(folded, new Set(WORDS));
}

/**
 * Says of a text whether a coach may read it: neither pain, pressure, mass, weight, injuries and the like nor what the
 * protocol calls a vital sign or body mass stands in it.
 */
export function coachGuard(protocol: Protocol): (text: string) => boolean {
  const told = toldBy(protocol, isHiddenFromCoach);
  return (text) => isPlainlyFit(text) && !holds(fold(text), told);
}
