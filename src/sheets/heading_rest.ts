import type { Better } from '../protocol/types.ts';
import { readSide, type SideOrder, type WrittenSide } from '../units/sides.ts';
import { FORCE, LENGTH, MASS, NONE, parseUnit, TIME, TORQUE, type Unit } from '../units/unit.ts';
import { readUnit } from '../units/written.ts';
import { before, foldHeading, type Phrase, phrase, type Token, writtenFrom } from './heading_tokens.ts';
import { addKind, kindOfWord, type WorkedOutKind } from './worked_out_words.ts';

/** What the words of a heading say that name no measure. */
export interface Draft {
  side?: WrittenSide;
  sides?: SideOrder;
  trial?: number;
  unit?: Unit;
  unitText?: string;
  workedOut?: WorkedOutKind;
}

/** What is known of the measure that a heading names, and with it of the other words. */
export interface Wanted {
  /** its dimension decides what kg means; without it no unit is read */
  readonly unit?: Unit;
  readonly better?: Better;
  /** whether feet taken for inches would show: below "ft/in" a bare number is inches */
  readonly isFeetAndInches?: boolean;
}

const TRIAL_WORDS = new Set('t tr trial try att attempt rep run test no nr #'.split(' '));
const SEVERAL_TRIALS = new Set(['trials', 'tries', 'attempts', 'reps', 'runs']);
const MOST_TRIALS = 20;
const NUMBER_WORDS = ['one', 'two', 'three', 'four', 'five', 'six'];
const ORDINAL_WORDS = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth'];
const ORDINAL = /^(\d{1,2})(st|nd|rd|th)$/i;
const FILLERS = new Set('side sides leg limb arm hand foot in of to value reading result raw'.split(' '));
/** Words of the longest unit: beats per minute. */
const MOST_UNIT_WORDS = 3;
const FEET_AND_INCHES = /^(?:(?:ft|feet|foot)\.?'?|')[ /,&+-]{0,3}(?:(?:in|ins|inch|inches)\.?"?|")$/i;
/** Stands in no word but L/R and its like. */
const PAIR_MARK = /[/|‐‑–-]/;

/** A unit where the dimension is known. @param fitting only one of that dimension; in brackets any unit is one */
function claimUnit(draft: Draft, text: string, { unit: wanted }: Wanted, fitting: boolean): boolean {
  if (draft.unit || wanted === undefined) return false;
  const inner = /^\[(.*)\]$/.exec(text)?.[1];
  // [lbf_av] is a unit with its brackets, [N] one in brackets.
  const written = inner === undefined || parseUnit(text) ? text : inner;
  const unit = readUnit(written, wanted);
  if (unit === 'unknown' || (fitting && unit.dimension !== wanted.dimension)) return false;
  draft.unit = unit;
  draft.unitText = written;
  return true;
}

function claimFeetAndInches(draft: Draft, text: string, { unit: wanted, isFeetAndInches }: Wanted): boolean {
  if (draft.unit || wanted?.dimension !== LENGTH || !isFeetAndInches || !FEET_AND_INCHES.test(text)) return false;
  draft.unit = parseUnit('[in_i]');
  draft.unitText = text;
  return true;
}

/** How many of these words are one unit of the wanted dimension, as written or with the marks between them lost. */
function unitWords(source: Phrase, words: readonly Token[], wanted: Wanted, draft: Draft): number {
  for (let count = words.length; count > 0; count--) {
    const part = words.slice(0, count);
    const written = writtenFrom(source, part[0], part[count - 1]);
    const glued = ['', '/', ' ', '.'].map((glue) => part.map(({ text }) => text).join(glue));
    if (count === 2 && claimFeetAndInches(draft, written, wanted)) return count;
    if ([written, ...glued].some((text) => claimUnit(draft, text, wanted, true))) return count;
    // N/kg is one unit, though not the one that is wanted.
    if (count > 1 && written.includes('/') && claimUnit(draft, written, wanted, false)) return count;
  }
  return 0;
}

/** "/kg" after a force may be the unit of the column or say that the force is told per kilogram. */
function isPerMass(source: Phrase, first: Token, { unit: wanted }: Wanted, draft: Draft): boolean {
  if (wanted === undefined || (wanted.dimension !== FORCE && wanted.dimension !== TORQUE)) return false;
  if (before(source, first) !== '/') return false;
  const plain = readUnit(draft.unitText!, parseUnit('kg')!);
  return plain !== 'unknown' && plain.dimension === MASS;
}

/** The number that a word writes out or is; undefined if it is none. */
function numberOf(word: Token | undefined): number | undefined {
  if (word === undefined) return undefined;
  if (/^\d+$/.test(word.text)) return Number(word.text);
  const at = NUMBER_WORDS.indexOf(word.text.toLowerCase());
  return at < 0 ? undefined : at + 1;
}

/** 1st, 2nd, 3rd, 11th; not 1nd. */
function ordinalOf(word: Token): number | undefined {
  const match = ORDINAL.exec(word.text);
  if (match === null) return undefined;
  const number = Number(match[1]);
  const teens = number > 10 && number < 14;
  const suffix = teens ? 'th' : (['th', 'st', 'nd', 'rd'][number % 10] ?? 'th');
  return match[2].toLowerCase() === suffix ? number : undefined;
}

const isTrialWord = (word: Token | undefined): boolean =>
  word !== undefined && TRIAL_WORDS.has(word.text.toLowerCase());

/** A trial and how many words say it. */
function trialAt(words: readonly Token[], at: number): { trial: number; count: number } | undefined {
  const [word, next] = [words[at], words[at + 1]];
  const ordinal = ordinalOf(word);
  if (ordinal !== undefined) return { trial: ordinal, count: isTrialWord(next) ? 2 : 1 };
  // "second" alone is a unit.
  const spelled = ORDINAL_WORDS.indexOf(word.text.toLowerCase());
  if (spelled >= 0 && isTrialWord(next)) return { trial: spelled + 1, count: 2 };
  if (isTrialWord(word) && next !== undefined) {
    const trial = numberOf(next) ?? ordinalOf(next);
    if (trial !== undefined) return { trial, count: 2 };
  }
  return /^\d+$/.test(word.text) ? { trial: Number(word.text), count: 1 } : undefined;
}

/** How many words after a best or mean tell what it was taken of: "of 3 trials", "trial". */
function takenOf(words: readonly Token[], from: number): number {
  let at = from;
  if (words[at]?.text.toLowerCase() === 'of' && numberOf(words[at + 1]) !== undefined) at += 2;
  const word = words[at];
  if (word === undefined) return at - from;
  const isTrials = SEVERAL_TRIALS.has(word.text.toLowerCase()) || (isTrialWord(word) && word.text.length > 2);
  return at - from + (isTrials && numberOf(words[at + 1]) === undefined ? 1 : 0);
}

/** The two ways to take words that have two senses: "2ND" is second or 2 non-dominant, "min" minutes or minimum. */
function senses(words: readonly Token[], wanted: Wanted): Token[][] {
  const isOpen = (word: Token, at: number): boolean => {
    if (word.text === '2ND') return !isTrialWord(words[at + 1]);
    return wanted.unit?.dimension === TIME && word.text.toLowerCase() === 'min';
  };
  if (!words.some(isOpen)) return [[...words]];
  const other = words.flatMap((word, at): Token[] => {
    if (!isOpen(word, at)) return [word];
    const { start, end } = word;
    if (word.text !== '2ND') return [{ ...word, text: 'minimum' }];
    return [
      { text: '2', start, end: start + 1 },
      { text: 'ND', start: start + 1, end },
    ];
  });
  return [
    words.map((word, at) => (isOpen(word, at) && word.text !== '2ND' ? { ...word, text: 'minutes' } : word)),
    other,
  ];
}

/** A side by one or two words, and how many. */
function sideAt(
  source: Phrase,
  words: readonly Token[],
  at: number,
  wanted: Wanted,
): { side: WrittenSide; count: number } | undefined | 'open' {
  const [word, next] = [words[at], words[at + 1]];
  // A sign would be lost in the pair: "L #" is a side and pounds.
  const pair = next !== undefined && /^\p{L}/u.test(next.text) ? readSide(`${word.text} ${next.text}`) : undefined;
  if (pair !== undefined) {
    const isTwoWords = /^n d$/i.test(writtenFrom(source, word, next));
    // Newtons of the dominant side, or the non-dominant side.
    if (isTwoWords && wanted.unit?.dimension === FORCE) return 'open';
    return { side: pair, count: 2 };
  }
  const side = readSide(word.text);
  return side === undefined ? undefined : { side, count: 1 };
}

/**
 * Reads words that are no measure: side, trial, unit, best or mean.
 * @returns how many words one of them takes at this place; 0: it says nothing known, or what another word denies
 */
function readOne(source: Phrase, words: readonly Token[], at: number, wanted: Wanted, draft: Draft): number {
  const word = words[at];
  const lower = word.text.toLowerCase();
  if (PAIR_MARK.test(word.text)) {
    const sides: SideOrder = lower.startsWith('l') ? 'left_right' : 'right_left';
    if (draft.side !== undefined || draft.sides !== undefined) return 0;
    draft.sides = sides;
    return 1;
  }
  const found = sideAt(source, words, at, wanted);
  if (found === 'open') return 0;
  if (found !== undefined) {
    if (draft.sides !== undefined || (draft.side !== undefined && draft.side !== found.side)) return 0;
    draft.side = found.side;
    return found.count;
  }
  const trial = trialAt(words, at);
  if (trial !== undefined) {
    if (draft.trial !== undefined || trial.trial < 1 || trial.trial > MOST_TRIALS) return 0;
    draft.trial = trial.trial;
    return trial.count;
  }
  const isPercent = lower === 'percent' || lower === 'pct';
  if (isPercent && wanted.unit?.dimension === NONE && claimUnit(draft, lower, wanted, true)) return 1;
  const kind = kindOfWord(lower, words[at + 1]?.text.toLowerCase(), wanted.better);
  if (kind !== undefined) {
    draft.workedOut = addKind(draft.workedOut, kind.kind);
    return kind.count + takenOf(words, at + kind.count);
  }
  const taken = unitWords(source, words.slice(at, at + MOST_UNIT_WORDS), wanted, draft);
  if (taken > 0) return isPerMass(source, word, wanted, draft) ? 0 : taken;
  if (FILLERS.has(lower) && !(lower === 'in' && draft.unit)) return 1;
  return claimUnit(draft, word.text, wanted, false) ? 1 : 0;
}

/** Every way in which these words say side, trial and unit, each added to what the draft has; none if one says nothing known. */
export function readRest(source: Phrase, words: readonly Token[], wanted: Wanted, begun: Draft): Draft[] {
  return senses(words, wanted).flatMap((sense) => {
    const draft = { ...begun };
    let at = 0;
    while (at < sense.length) {
      const count = readOne(source, sense, at, wanted, draft);
      if (count === 0) return [];
      at += count;
    }
    return [draft];
  });
}

function readGroup(group: string, wanted: Wanted, begun: Draft): Draft[] {
  const draft = { ...begun };
  if (group === '') return [draft];
  // (1) is a trial as (2) is; [1] is the unit of a count.
  const isTrial = /^\d+$/.test(group);
  const isLeast = group.toLowerCase() === 'min' && wanted.unit?.dimension !== TIME;
  const isWord = isTrial || isLeast || readSide(group) !== undefined;
  if (!isWord && (claimFeetAndInches(draft, group, wanted) || claimUnit(draft, group, wanted, false))) return [draft];
  const inside = phrase(foldHeading(group));
  return readRest(inside, inside.tokens, wanted, draft);
}

/** The same of what stands in brackets. */
export function readBrackets(groups: readonly string[], wanted: Wanted): Draft[] {
  return groups.reduce<Draft[]>((drafts, group) => drafts.flatMap((draft) => readGroup(group, wanted, draft)), [{}]);
}
