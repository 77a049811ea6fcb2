import { foldDashes, foldQuotes, foldWide } from './characters.ts';
import { foldKey } from './keys.ts';

export const OBSERVATION_STATUSES = [
  'measured',
  'pain',
  'unable',
  'refused',
  'not_tested',
  'held',
  'not_applicable',
  'void',
] as const;
/** What became of an attempt. pain may keep a value, the others but measured have none. */
export type ObservationStatus = (typeof OBSERVATION_STATUSES)[number];

/** As foldKey leaves them: lower case, punctuation as single spaces. */
const WORDS: Readonly<Record<ObservationStatus, readonly string[]>> = {
  measured: ['measured', 'ok', 'done', 'valid', 'complete', 'completed'],
  pain: ['pain', 'p', 'painful'],
  unable: ['unable', 'dnp', 'dnf', 'cnt', 'utt', 'cant', 'can t', 'cannot'],
  refused: ['refused', 'ref', 'declined'],
  not_tested: ['not tested', 'nt', 'dnt', 'na', 'missing', 'abs', 'absent', 'no show', 'noshow'],
  held: ['held', 'hold', 'medical hold', 'med hold', 'inj', 'injured', 'out', 'inj out', 'injured out'],
  not_applicable: ['not applicable', 'n a'],
  void: ['void', 'foul', 'fault', 'scratch', 'dq', 'not counted'],
};

const STATUS_OF_WORD: ReadonlyMap<string, ObservationStatus> = new Map(
  Object.entries(WORDS).flatMap(([status, words]) => words.map((word) => [word, status as ObservationStatus])),
);

/** Marks and codes for a missing reading. 999 and -1 can be readings: they meet the plausible limits instead. */
const MISSING_MARKS: ReadonlySet<string> = new Set(['-', '--', '---', '—', '.', '-99', '-999']);

const QUALITATIVE: ReadonlySet<string> = new Set([
  'wnl',
  'wfl',
  'normal',
  'within normal limits',
  'within functional limits',
]);

const LONGEST_WORDS = 80;
const PAIN_AFTER = /(?:\((?:painful|pain|p)\)|(?<=[\s\d°"'%#*)])\+?(?:painful|pain|p))$/i;
const PAIN_BEFORE = /^(?:\(p\)|p)(?:[\s:]+(?=[-+\u2212]?\.?\d)|(?=\d))/i;
const JOINED_TO_PAIN = / (?:\+|&|and|with|w\/)$/i;
const LETTER = /\p{L}/u;

const LONGEST_NOTE = 2000;
const SPACES = /[ \t\u00a0]+/g;
const PAIN_WORDS = '(?:pains?|painful|sore|hurts?|hurting|aches?|aching|ouch)(?!\\p{L})';
const NOT =
  "(?:no|not|non|no longer|without|w/o|zero|nil|never|nothing|free (?:of|from)|denie[sd]|(?:does|did|is|was)n'?t)";
/** Between "no" and "pain": "not tested pain" and "no rep, pain" deny nothing. */
const OF_WHERE =
  '(?:(?:any|more|real|left|right|knee|hip|groin|ankle|foot|leg|back|neck|shoulder|elbow|wrist|arm|joint|muscle)[ -]){0,2}';
const DENIAL = [
  `(?<![\\p{L}\\d])${NOT}[ -]${OF_WHERE}(?:${PAIN_WORDS}(?:(?: or | nor |/)${PAIN_WORDS}){0,3}|p(?!\\p{L}))`,
  '(?<!\\p{L})(?:pain[ -]?free|painless)(?!\\p{L})',
  '(?<!\\p{L})pain(?: ?[:=-] ?| )(?:no|none|nil)(?= ?(?:$|[,;.)\\]]))',
].join('|');
/** 0 pain, pain 0/10: a number behind another may be a part of it, so it ends no reading. */
const SCORED_NOTHING = [
  '(?<![\\p{L}\\d.,/])0(?:[.,]0+)?(?:/10)? ?(?:pains?|painful|p)(?!\\p{L})',
  '(?<!\\p{L})pain(?: ?[:=-] ?| )0(?:/10)?(?![.,]?\\d)(?= ?(?:$|[,;.)\\]]))',
].join('|');
const DENIALS = new RegExp(`${DENIAL}|${SCORED_NOTHING}`, 'giu');
const DENIED_AT_END = new RegExp(`[ ,;:.-]{0,3}[([]?(?:${DENIAL})[)\\]]?[.!]?$`, 'iu');
/** A word of pain, or its letter beside a number. */
const SAYS_PAIN = new RegExp(`(?<!\\p{L})${PAIN_WORDS}|^\\(?p\\)? ?- ?\\.?\\d|\\d ?-? ?\\(?p(?![\\p{L}\\d.])`, 'iu');
const DIGIT = /\d/;

/**
 * The status that a cell states in place of a number, or undefined.
 * `N/A` says that the test does not apply to the athlete (not_applicable); `NA` is the usual missing code (not_tested);
 * a spreadsheet's `#N/A` is an error and no status.
 */
export function readStatus(text: string): ObservationStatus | undefined {
  if (text.length > LONGEST_WORDS) return undefined;
  if (MISSING_MARKS.has(foldDashes(text.trim()))) return 'not_tested';
  if (text.includes('#')) return undefined;
  const key = foldKey(text);
  if (!key.startsWith('unable ')) return STATUS_OF_WORD.get(key);
  // Who is unable because it hurts is to be seen: pain is never hidden behind another word.
  if (saysPain(text)) return 'pain';
  return key.startsWith('unable to ') ? 'unable' : STATUS_OF_WORD.get(foldKey(text.replace(DENIED_AT_END, '')));
}

/** A dash or a point where a status could stand: nothing is said. */
export function isMissingMark(text: string): boolean {
  return /^[-.]+$/.test(foldDashes(text.trim()));
}

/** A word that judges without a number (`WNL`): neither a status nor a reading. */
export function isQualitative(text: string): boolean {
  return text.length <= LONGEST_WORDS && QUALITATIVE.has(foldKey(text));
}

/**
 * The reading in a cell that marks it as painful (`32 P`, `32 (pain)`, `P 32`), or undefined.
 * `pain 3` is left alone: it may be a pain score.
 */
export function splitPain(text: string): string | undefined {
  const cell = text.trim();
  if (cell.length > LONGEST_WORDS || deniesPain(cell)) return undefined;
  const after = PAIN_AFTER.exec(cell);
  if (after !== null) {
    const reading = cell.slice(0, after.index).trimEnd().replace(JOINED_TO_PAIN, '').trimEnd();
    return startsWithNumber(reading) ? reading : undefined;
  }
  const before = PAIN_BEFORE.exec(cell);
  return before === null ? undefined : cell.slice(before[0].length);
}

/**
 * Whether a text says that it hurts (`stopped - pain`, `15 sore`, `P-140`), whatever else it says; `no pain`,
 * `pain free` and `0 pain` do not. What cannot be told from a denial for certain counts as pain.
 */
export function saysPain(text: string): boolean {
  return SAYS_PAIN.test(folded(text).replace(DENIALS, ' ; '));
}

/** The reading in a cell that says behind it that it did not hurt (`18, no pain`, `18 (pain free)`), or undefined. */
export function withoutPain(text: string): string | undefined {
  const cell = text.trim();
  if (cell.length > LONGEST_WORDS) return undefined;
  const end = DENIED_AT_END.exec(cell);
  if (end === null) return undefined;
  const reading = cell.slice(0, end.index).trimEnd();
  return startsWithNumber(reading) && !saysPain(reading) ? reading : undefined;
}

function deniesPain(text: string): boolean {
  return folded(text).search(DENIALS) >= 0;
}

function folded(text: string): string {
  return foldDashes(foldQuotes(foldWide(text.slice(0, LONGEST_NOTE))))
    .replace(SPACES, ' ')
    .trim();
}

function startsWithNumber(text: string): boolean {
  const digit = text.search(DIGIT);
  return digit >= 0 && !LETTER.test(text.slice(0, digit));
}
