import { foldDashes, foldFractions, foldQuotes, foldSpaces, foldWide, isPlain } from './characters.ts';
import { monthNumber, serialDay } from './dates.ts';
import { isoDay } from './days.ts';

export type FeetReading = { readonly kind: 'inches'; readonly value: number } | HeightProblem;
export type MetresReading = { readonly kind: 'metres'; readonly value: number } | HeightProblem;

export interface HeightProblem {
  readonly kind: 'problem';
  readonly code: 'height_ambiguous' | 'height_as_date';
  /** what may have been meant */
  readonly readings: string[];
}

const INCHES_A_FOOT = 12;
/** Feet that a person's height can have. */
const FEWEST_FEET = 3;
const MOST_FEET = 8;
const LONGEST_HEIGHT = 40;

const INCHES = String.raw`(\d{1,2}(?:[.,]\d{1,3})?)(?: (\d{1,2})\/(\d{1,2}))? ?(?:"|in\.?|ins\.?|inch|inches)?`;
/** 5'11", 6', 5 ft 11 in */
const WITH_FOOT_MARK = new RegExp(String.raw`^([1-9]) ?(?:'|ft\.?|foot|feet)(?:[ ,-]{0,2}${INCHES})?$`);
/** 5-11, 5 11 */
const WITHOUT_FOOT_MARK = new RegExp(`^([3-8])(?: ?- ?| )${INCHES}$`);
/** 1m80, 1 m 80 cm */
const WITH_METRE_MARK = /^(\d) ?(?:m|met(?:re|er)s?)\.?[ ,]{0,2}(\d{1,2}(?:[.,]\d)?) ?(cms?|centimet(?:re|er)s?)?\.?$/;
/** 5.11 */
const WITH_POINT = /^([3-8])[.,](\d{1,2}) ?(?:ft\.?|foot|feet|')?$/;
/** 511 */
const RUN_TOGETHER = /^([3-8])(0\d|1[01])$/;

const DAY_AND_MONTH = /^(\d{1,2})[- /]([a-z]{3,9})(?:[- /](?:\d{4}|\d{2}))?$/;
const MONTH_AND_DAY = /^([a-z]{3,9})[- /](\d{1,2})(?:,?[- /](?:\d{4}|\d{2}))?$/;
const NUMERIC_DATE = /^(\d{1,2})(?:\/(\d{1,2})(?:\/(?:\d{4}|\d{2}))?|[-.](\d{1,2})[-.]\d{4})$/;
const ISO_DATE = /^\d{4}[-/](\d{1,2})[-/](\d{1,2})$/;
const TIME_OF_DAY = /[t ]\d{1,2}:\d{2}(?::\d{2})?$/;

/**
 * A body height in feet and inches, in inches; or that its notation is ambiguous or was turned into a date by a
 * spreadsheet, with the heights that may have been meant; undefined if the text is in no such notation (`71`, `180`,
 * `1.80`). Only for measures of body height: elsewhere `5-11` means other things.
 */
export function readFeetAndInches(text: string): FeetReading | undefined {
  if (text.length > LONGEST_HEIGHT) return undefined;
  const cell = foldHeight(text);
  const match = WITH_FOOT_MARK.exec(cell) ?? WITHOUT_FOOT_MARK.exec(cell);
  return match === null ? (readPointed(cell) ?? readAsDate(cell)) : readMatch(match);
}

/**
 * A length in metres and centimetres (`1m80`, `1 m 80 cm`), in metres; or that it is ambiguous (`1m8`), with the lengths
 * that may have been meant; undefined if the text is in no such notation (`1.80 m`).
 */
export function readMetresAndCentimetres(text: string): MetresReading | undefined {
  if (text.length > LONGEST_HEIGHT) return undefined;
  const match = WITH_METRE_MARK.exec(foldHeight(text));
  if (match === null) return undefined;
  const [, metres, written, mark] = match;
  const centimetres = written!.replace(',', '.');
  const [whole, tenths = ''] = centimetres.split('.');
  if (whole!.length === 1 && mark === undefined)
    return ambiguous(`${metres} m ${centimetres} cm`, `${metres}.${whole} m`);
  return { kind: 'metres', value: Number(`${metres}.${whole!.padStart(2, '0')}${tenths}`) };
}

function foldHeight(text: string): string {
  const folded = foldQuotes(isPlain(text) ? text : foldDashes(foldFractions(foldSpaces(foldWide(text)))));
  return folded.toLowerCase().replace(/ {2,}/g, ' ').trim();
}

function readMatch([, feet, written = '0', numerator = '0', denominator = '1']: RegExpExecArray):
  | FeetReading
  | undefined {
  const whole = written.replace(',', '.');
  const fraction = Number(numerator) / Number(denominator);
  if (!(fraction < 1)) return undefined;
  const inches = Number(whole) + fraction;
  if (inches < INCHES_A_FOOT) return { kind: 'inches', value: Number(feet) * INCHES_A_FOOT + inches };
  const decimal = inches === Number(whole) && Number.isInteger(inches) ? [`${feet}.${whole} ft`] : [];
  return ambiguous(`${feet} ft ${inches} in`, ...decimal);
}

function readPointed(cell: string): FeetReading | undefined {
  const point = WITH_POINT.exec(cell);
  if (point !== null) {
    const [, feet, decimals] = point;
    const inches = Number(decimals);
    // 5.0 is the same height either way, 5.75 can only be a decimal.
    if (inches === 0 || inches >= INCHES_A_FOOT) return undefined;
    // A spreadsheet takes the last zero off 5.10.
    const longer = decimals === '1' ? [`${feet} ft 10 in`] : [];
    return ambiguous(`${feet} ft ${inches} in`, ...longer, `${feet}.${decimals} ft`);
  }
  const together = RUN_TOGETHER.exec(cell);
  return together === null ? undefined : ambiguous(`${together[1]} ft ${Number(together[2])} in`, cell);
}

function ambiguous(...readings: string[]): HeightProblem {
  return { kind: 'problem', code: 'height_ambiguous', readings };
}

function readAsDate(cell: string): FeetReading | undefined {
  const pair = dayAndMonth(cell.replace(TIME_OF_DAY, ''));
  if (pair === undefined) return undefined;
  const [first, second] = pair;
  const readings = new Set([heightText(first, second), heightText(second, first)]);
  return { kind: 'problem', code: 'height_as_date', readings: [...readings].filter((height) => height !== undefined) };
}

/** Day and month of a date, in the order in which a height would more often have been typed. */
function dayAndMonth(cell: string): [number, number] | undefined {
  const numeric = NUMERIC_DATE.exec(cell);
  if (numeric !== null) return [Number(numeric[1]), Number(numeric[2] ?? numeric[3])];
  const named = DAY_AND_MONTH.exec(cell);
  if (named !== null) return monthFirst(monthNumber(named[2]!), named[1]!);
  const monthNamed = MONTH_AND_DAY.exec(cell);
  if (monthNamed !== null) return monthFirst(monthNumber(monthNamed[1]!), monthNamed[2]!);
  const serial = serialDay(cell);
  const iso = ISO_DATE.exec(serial === undefined ? cell : isoDay(serial));
  return iso === null ? undefined : monthFirst(Number(iso[1]), iso[2]!);
}

function monthFirst(month: number | undefined, day: string): [number, number] | undefined {
  return month === undefined ? undefined : [month, Number(day)];
}

function heightText(feet: number, inches: number): string | undefined {
  const possible = feet >= FEWEST_FEET && feet <= MOST_FEET && inches < INCHES_A_FOOT;
  return possible ? `${feet}'${inches}"` : undefined;
}
