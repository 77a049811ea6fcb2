import { looksLikeId } from '../athletes/directory.ts';
import { foldDashes, foldQuotes, foldWide } from '../units/characters.ts';
import { foldKey } from '../units/keys.ts';

/** What the text in place of the athlete says of its row. */
export interface RowLabel {
  /** summary: worked out from other rows; no_athlete: a test, demonstration or calibration */
  readonly kind: 'summary' | 'no_athlete';
  /** false: the text may as well be somebody's name or code */
  readonly sure: boolean;
}

const words = (text: string): ReadonlySet<string> => new Set(text.split(' '));

/** No ditto mark is longer. */
export const LONGEST_DITTO = 20;
const DITTO_MARK = /^[-\u2014]{0,3} ?(?:["„〃]|,,)(?: ?(?:["„〃]|,,)){0,2} ?[-\u2014]{0,3}$/;
const DITTO_WORDS: ReadonlySet<string> = new Set(['ditto', 'dto', 'same', 'same as above', 'as above', 'idem']);
/** Not "Do", which is a family name: its row would go to somebody else. */
const DITTO_SHORT: ReadonlySet<string> = new Set(['do', 'do.', 'Do.']);

const LONGEST_LABEL = 60;
const MOST_WORDS = 7;
const MOST_LABEL_WORDS = 4;
const MOST_WORDS_BEFORE = 3;

/** Signs that stand for an average or a sum all by themselves. */
const SUMMARY_SIGNS: ReadonlySet<string> = new Set(['Ø', '⌀', '∅', 'Σ', '∑', 'x̄', 'X̄']);
/** Nobody is called so: whatever stands before it is a team or whose average it is. */
const STRONG_SUMMARY = words('average averages avg avge median medians sd stdev stddev std');
const SUMMARY = words(
  'mean total totals subtotal count range quartile quartiles percentile percentiles ile iqr cv variance var stderr' +
    ' minimum maximum lowest highest',
);
/** Names of people too, or their initials. */
const SUMMARY_OR_NAME = words('min max sum best mode ave means dev se sem ci n q');
const GROUPS = words(
  'team squad group overall grand class cohort column row sport club college men mens women womens male males female' +
    ' females boys girls athletes players sample test tests trial trials day session station season',
);
/** No names: `Team max` is no person, `Day, Max` and `Max Field` may be. */
const GROUPS_ONLY = words('team squad group overall cohort column men mens women womens');
const SPORTS = words(
  'rowing crew soccer football basketball volleyball lacrosse hockey swimming swim diving tennis golf softball baseball' +
    ' wrestling track field cross country gymnastics rugby cricket netball handball water polo fencing skiing cycling' +
    ' triathlon athletics badminton',
);
const JOINING = words('of for the and all per');
const SEXES = words('m f w');
/** A colon, an equals sign, a per cent sign: what names are not written with. */
const LABEL_MARK = /[:=%±]/;
const LOWEST_TO_HIGHEST = /^min(?:imum)?\.? ?(?:[-/&+]|and) ?max|^max(?:imum)?\.? ?(?:[-/&+]|and) ?min/i;

const NO_ATHLETE = words(
  'test tests testing tester demo demonstration dummy sample example calib calibration calibrate calibrated' +
    ' recalibration practice practise zero zeroing tare blank placeholder familiarisation familiarization warmup',
);
const NO_ATHLETE_OR_NAME = words('cal staff coach trainer');
const BESIDE_NO_ATHLETE = words(
  'athlete athletes person subject participant player user name data entry line only station attempt run mass the for and',
);
/** No family names: beside one of them `cal` is no Cal. */
const BESIDE_DEVICE = words('check weight load cell device sensor row rows trial trials reading readings');
const UNITS_OF_WEIGHT = words('kg kgs kgf n lb lbs lbf g');
const CROSSED = /^x{3,}$/;
const DIGITS = /^\d+$/;

const PAGE = /^(?:page|pg\.?|p\.|sheet) ?(?:no\.? ?)?\d{1,4}(?: ?(?:of|\/) ?\d{1,4})?$/i;
const PRINTED = /^(?:printed|print date|printout|print-out)(?![a-z])/i;
const CONTINUED =
  /^\(?(?:continued|cont['’]?d|cont)[.:)]{0,3}(?: (?:on|from|overleaf)(?: [a-z0-9]{1,12}){0,4}[.)]{0,2})?$/i;
const CONFIDENTIAL = /^(?:strictly )?confidential[.!]?$/i;
const PAGE_PARTS = / ?[|;,] ?| +[-\u2010-\u2014] +| {2,}/;
const LONGEST_PAGE_TEXT = 120;

const LONGEST_START = 200;
const FOOTNOTE_MARK = /^[*†‡¹²³]+ ?[^\s*†‡¹²³]/;
const FOOTNOTE_WORD = /^(?:notes? ?[:.\-\u2010-\u2014]|notes?$|key ?:|legend(?:$| ?[:.\-\u2010-\u2014]))/i;
const FOOTNOTE_NB = /^n\.?b\.?(?: ?[:,\-\u2010-\u2014]|(?: [^ ]{1,40}){3})/i;
const EXPLAINED = /^[^\s=]{1,12}(?: [^\s=]{1,12})? ?= ?[^=]*\p{L}{2}/u;

/**
 * Whether a cell of a column that says who, when or what means "as above" (`"`, `-"-`, `do.`, `ditto`). A dash or a
 * point alone does not.
 */
export function isDitto(text: string): boolean {
  const cell = shortened(text, LONGEST_DITTO);
  if (cell === undefined || cell === '') return false;
  return (
    DITTO_MARK.test(foldDashes(foldQuotes(foldWide(cell)))) || DITTO_SHORT.has(cell) || DITTO_WORDS.has(foldKey(cell))
  );
}

/**
 * What the text in place of an athlete nobody knows says of its row (`Rowing average`, `cal 20 kg`), or undefined if it
 * may be a person. Every word has to be one of such labels: `Max Reed`, `Mean Joe` and `Demo Vale` are people.
 */
export function rowLabel(text: string): RowLabel | undefined {
  const cell = shortened(text, LONGEST_LABEL);
  if (cell === undefined || cell === '') return undefined;
  if (SUMMARY_SIGNS.has(cell.replace(/ ?[:=]$/, ''))) return { kind: 'summary', sure: true };
  const labels = labelWords(cell);
  if (labels.length === 0 || labels.length > MOST_WORDS) return undefined;
  return summaryLabel(labels, cell) ?? noAthleteLabel(labels, cell);
}

/** Whether a text is one that printing puts on each page: its number, the day of printing, `continued`. */
export function isPageText(text: string): boolean {
  const cell = shortened(text, LONGEST_PAGE_TEXT);
  if (cell === undefined) return false;
  const parts = cell.split(PAGE_PARTS).filter((part) => part !== '');
  // The date and the name after "Printed" are parts of their own, and belong to it.
  const printed = parts.findIndex((part) => PRINTED.test(part));
  const own = printed < 0 ? parts : parts.slice(0, printed);
  return parts.length > 0 && own.every((part) => PAGE.test(part) || CONTINUED.test(part) || CONFIDENTIAL.test(part));
}

/** Whether a text explains others: it starts with a footnote's mark, with `Note:` or `Key:`, or is `NT = not tested`. */
export function isFootnote(text: string): boolean {
  const start = text.slice(0, LONGEST_START).trim();
  return FOOTNOTE_MARK.test(start) || FOOTNOTE_WORD.test(start) || FOOTNOTE_NB.test(start) || EXPLAINED.test(start);
}

/** The text without blanks around it, or undefined if it is longer than any of its kind. */
function shortened(text: string, longest: number): string | undefined {
  if (text.length > 2 * longest) return undefined;
  const cell = text.trim();
  return cell.length > longest ? undefined : cell;
}

/** Folded words, numbers parted from letters (`20kg`, `TEST01`), what is written as two words and means one joined. */
function labelWords(cell: string): string[] {
  const folded = foldKey(cell.replace(/['’‘]/g, ''))
    .replace(/(?<=[a-z])(?=\d)|(?<=\d)(?=[a-z])/g, ' ')
    .replace(/\b(\d+) (?:st|nd|rd|th)\b/g, '$1')
    .replace(/\b(?:st|std|stand|standard) (?:dev|deviations?)\b/g, 'stdev')
    .replace(/\b(?:std|standard) error\b/g, 'stderr')
    .replace(/\bs d\b/g, 'sd')
    .replace(/\b(?:trial|dry) run\b/g, 'practice')
    .replace(/\bwarm up\b/g, 'warmup')
    .replace(/\b(?:known|check) weight\b/g, 'calibration')
    .replace(/\b(?:no|not an) athlete\b/g, 'dummy');
  return folded === '' ? [] : folded.split(' ');
}

function summaryLabel(labels: readonly string[], cell: string): RowLabel | undefined {
  const some = (kind: ReadonlySet<string>): boolean => labels.some((word) => kind.has(word));
  const isLabel = (word: string): boolean => STRONG_SUMMARY.has(word) || SUMMARY.has(word) || SUMMARY_OR_NAME.has(word);
  const isBeside = (word: string): boolean =>
    GROUPS.has(word) || SPORTS.has(word) || JOINING.has(word) || SEXES.has(word) || DIGITS.test(word);
  const first = labels.findIndex(isLabel);
  if (first < 0 || labels.filter(isLabel).length > MOST_LABEL_WORDS) return undefined;
  const others = labels.filter((word) => !isLabel(word) && !isBeside(word)).length;
  const before = labels.slice(0, first).filter((word) => !isBeside(word)).length;
  const [strong, group] = [some(STRONG_SUMMARY), some(GROUPS)];
  if (others > before || others > MOST_WORDS_BEFORE || (others > 0 && !strong)) return undefined;
  if (LABEL_MARK.test(cell) || LOWEST_TO_HIGHEST.test(foldDashes(cell))) return { kind: 'summary', sure: true };
  const [mayBeId, hasInitial] = [looksLikeId(cell), some(SEXES)];
  // "W Rowing mean" is a team's, "W Mean" may be a person.
  const named = strong || group || some(SPORTS) || !hasInitial;
  if (strong || some(SUMMARY)) return { kind: 'summary', sure: named && !mayBeId };
  const beside = labels.filter((word) => !isLabel(word) && !DIGITS.test(word));
  const isGroup = beside.length > 0 && labels.slice(0, first).some((word) => GROUPS_ONLY.has(word));
  return mayBeId || (beside.length > 0 && !isGroup) ? undefined : { kind: 'summary', sure: isGroup };
}

function noAthleteLabel(labels: readonly string[], cell: string): RowLabel | undefined {
  const isSure = (word: string): boolean => NO_ATHLETE.has(word) || CROSSED.test(word);
  let [sure, found] = [LABEL_MARK.test(cell), false];
  for (const [at, word] of labels.entries()) {
    const isUnit = UNITS_OF_WEIGHT.has(word) && at > 0 && DIGITS.test(labels[at - 1]);
    if (isSure(word)) [sure, found] = [true, true];
    else if (NO_ATHLETE_OR_NAME.has(word)) found = true;
    else if (BESIDE_DEVICE.has(word) || DIGITS.test(word)) sure = true;
    else if (!isUnit && !BESIDE_NO_ATHLETE.has(word)) return undefined;
  }
  return found ? { kind: 'no_athlete', sure } : undefined;
}
