import { foldDashes, foldSpaces, foldWide, isPlain } from './characters.ts';
import { dayOf, isoDay, parseIsoDay } from './days.ts';

export type DateOrder = 'dmy' | 'mdy' | 'ymd';

export type DateReading =
  | { readonly kind: 'day'; readonly day: number }
  | { readonly kind: 'problem'; readonly code: 'date_invalid' | 'date_ambiguous'; readonly readings?: string[] };

const FIRST_YEAR = 1900;
const LAST_YEAR = 2100;
/** Two-digit years below it are of this century, the others of the last. */
const CENTURY_TURN = 70;
const LONGEST_DATE = 60;

/** Days from the spreadsheet epoch 1899-12-30 to 1970-01-01. */
const SPREADSHEET_EPOCH = 25_569;
const FIRST_SERIAL = 30_000;
const LAST_SERIAL = 60_000;

const WEEKDAY = /^(?:mon|tues?|wed(?:nes)?|thu(?:rs)?|fri|sat(?:ur)?|sun)(?:day)?[.,]? /i;
const TIME_OF_DAY = /(?:T|,? )\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d{1,9})?)?(?: ?[ap]\.?m\.?|Z|[+-]\d{2}:?\d{2})?$/i;
const NUMERIC = /^(\d{1,4})([-/.]) ?(\d{1,2})\2 ?(\d{1,4})$/;
const DAY_MONTH_YEAR = /^(\d{1,2})(?:st|nd|rd|th)?[-/. ,]{0,2}([a-z]{3,9})[-/. ,]{0,2}(\d{4}|\d{2})$/i;
const MONTH_DAY_YEAR = /^([a-z]{3,9})[-/. ]{0,2}(\d{1,2})(?:st|nd|rd|th)?[-/ ,]{1,2}(\d{4}|\d{2})$/i;
const YEAR_MONTH_DAY = /^(\d{4})[-/. ]([a-z]{3,9})[-/. ](\d{1,2})$/i;
const COMPACT = /^(\d{4})(\d{2})(\d{2})$/;
const SERIAL = /^\d{5}$/;

const MONTHS = [
  'january',
  'february',
  'march',
  'april',
  'may',
  'june',
  'july',
  'august',
  'september',
  'october',
  'november',
  'december',
];

/**
 * The day that a cell names, as days since 1970-01-01: ISO 8601, numeric dates, dates with an English month and the
 * serial numbers of spreadsheets; a time of day is dropped. Years from 1900 to 2100.
 * @param order settles numeric dates that leave it open; a date that it makes impossible is invalid, with the
 *   other reading named
 */
export function readDate(text: string, order: DateOrder | undefined): DateReading {
  const iso = parseIsoDay(text);
  if (iso !== undefined) return dayOrInvalid(inRange(iso));
  const cell = cleanDate(text);
  const numeric = numericReadings(cell);
  return numeric === undefined ? dayOrInvalid(namedOrCountedDay(cell)) : settle(numeric, order);
}

/** The order that a numeric date gives away because only one is possible (`14/8/2026` is dmy), or undefined. */
export function dateEvidence(text: string): DateOrder | undefined {
  const readings = numericReadings(cleanDate(text));
  if (readings === undefined || readings.yearFirst) return undefined;
  if (readings.maybeYearFirst && readings.ymd !== undefined) return undefined;
  if (readings.dmy !== undefined && readings.mdy === undefined) return 'dmy';
  return readings.mdy !== undefined && readings.dmy === undefined ? 'mdy' : undefined;
}

/** The month, 1 to 12, that an English name or its start of at least three letters means, or undefined. */
export function monthNumber(name: string): number | undefined {
  const start = name.toLowerCase();
  const index = start.length < 3 ? -1 : MONTHS.findIndex((month) => month.startsWith(start));
  return index < 0 ? undefined : index + 1;
}

/** The day that a spreadsheet's serial number (30000 to 60000) stands for, or undefined. */
export function serialDay(text: string): number | undefined {
  if (!SERIAL.test(text)) return undefined;
  const serial = Number(text);
  return serial >= FIRST_SERIAL && serial <= LAST_SERIAL ? serial - SPREADSHEET_EPOCH : undefined;
}

interface NumericReadings {
  readonly yearFirst: boolean;
  /** 26-08-12: dashes as in ISO dates, and a year of two digits may stand in front */
  readonly maybeYearFirst: boolean;
  readonly dmy: number | undefined;
  readonly mdy: number | undefined;
  readonly ymd: number | undefined;
}

function numericReadings(cell: string): NumericReadings | undefined {
  const match = NUMERIC.exec(cell);
  if (match === null) return undefined;
  const [, first, mark, second, third] = match as unknown as [string, string, string, string, string];
  return {
    yearFirst: first.length === 4,
    maybeYearFirst: mark === '-' && first.length === 2 && third.length === 2,
    dmy: calendarDay(third, second, first),
    mdy: calendarDay(third, first, second),
    ymd: calendarDay(first, second, third),
  };
}

function settle(readings: NumericReadings, order: DateOrder | undefined): DateReading {
  const { dmy, mdy, ymd } = readings;
  if (readings.yearFirst || (order === 'ymd' && ymd !== undefined)) return dayOrInvalid(ymd);
  if (order === 'dmy' || order === 'mdy') return dayOrInvalid(readings[order], order === 'dmy' ? mdy : dmy);
  // 26-08-12 may be a day of 2012 or of 2026: two digits in front are a year as well as a day.
  const days = [...new Set([dmy, mdy, readings.maybeYearFirst ? ymd : undefined].filter((day) => day !== undefined))];
  if (days.length < 2) return dayOrInvalid(days[0]);
  return { kind: 'problem', code: 'date_ambiguous', readings: days.map(isoDay) };
}

function dayOrInvalid(day: number | undefined, otherwise?: number): DateReading {
  if (day !== undefined) return { kind: 'day', day };
  if (otherwise === undefined) return { kind: 'problem', code: 'date_invalid' };
  return { kind: 'problem', code: 'date_invalid', readings: [isoDay(otherwise)] };
}

function namedOrCountedDay(cell: string): number | undefined {
  let match = DAY_MONTH_YEAR.exec(cell);
  if (match !== null) return namedDay(match[3]!, match[2]!, match[1]!);
  match = MONTH_DAY_YEAR.exec(cell);
  if (match !== null) return namedDay(match[3]!, match[1]!, match[2]!);
  match = YEAR_MONTH_DAY.exec(cell);
  if (match !== null) return namedDay(match[1]!, match[2]!, match[3]!);
  match = COMPACT.exec(cell);
  if (match !== null) return calendarDay(match[1]!, match[2]!, match[3]!);
  return serialDay(cell);
}

function namedDay(year: string, month: string, day: string): number | undefined {
  const number = monthNumber(month);
  return number === undefined ? undefined : calendarDay(year, String(number), day);
}

function calendarDay(year: string, month: string, day: string): number | undefined {
  if (day.length > 2 || month.length > 2) return undefined;
  const fullYear = readYear(year);
  return fullYear === undefined ? undefined : dayOf(fullYear, Number(month), Number(day));
}

function readYear(text: string): number | undefined {
  const year = Number(text);
  if (text.length === 2) return year < CENTURY_TURN ? 2000 + year : 1900 + year;
  return text.length === 4 && year >= FIRST_YEAR && year <= LAST_YEAR ? year : undefined;
}

function inRange(day: number): number | undefined {
  return readYear(isoDay(day).slice(0, 4)) === undefined ? undefined : day;
}

function cleanDate(text: string): string {
  if (text.length > LONGEST_DATE) return '';
  const plain = isPlain(text) ? text : foldDashes(foldSpaces(foldWide(text)));
  return plain.trim().replace(WEEKDAY, '').replace(TIME_OF_DAY, '');
}
