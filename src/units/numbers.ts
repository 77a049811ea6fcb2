import { foldDashes, foldFractions, foldWide, isPlain } from './characters.ts';
import { readGrouped } from './grouping.ts';
import { plainNumber } from './plain.ts';

export { plainNumber } from './plain.ts';

export type NumberReading =
  | {
      readonly kind: 'number';
      readonly value: number;
      /** what follows the number, not yet resolved; may be empty */
      readonly unitText: string;
      /** a footnote's asterisk followed and was dropped */
      readonly starred: boolean;
    }
  | NumberProblem;

export interface NumberProblem {
  readonly kind: 'problem';
  readonly code:
    | 'number_unreadable'
    | 'number_ambiguous'
    | 'number_censored'
    | 'number_approximate'
    | 'spreadsheet_error';
  /** what the text may mean, if that can be said */
  readonly readings?: string[];
}

/** Longer cells hold no number. */
const LONGEST_NUMBER = 400;

const SPREADSHEET_ERROR = /^(?:#(?:DIV\/0|VALUE|REF|NAME|NUM|NULL|SPILL|CALC)[!?]|#N\/A|#{2,}|Err:\d{3})$/i;
const COMPARED = /^[<>≤≥]=? ?[-+]?[.,]?\d/;
const OPEN_ENDED = /\d\D*\+$/;
const ABOUT = /^(?:[~≈∼≃]|(?:ca|c|circa|approx|about)\b\.?) ?[-+]?[.,]?\d/i;
const QUESTIONED = /\d\D*\?\)?$/;

/** What a spreadsheet shows for a number that is too wide for its column. */
const SCIENTIFIC = /^-?\d(?:[.,]\d+)?E[+-]\d\d$/;
const MIXED_FRACTION = /^([-+]?)(\d+)(?: {1,3}|-)(\d{1,2})\/(\d{1,2})(?!\d)/;
/** The parts of a ruler, so that `30 28/31` is no fraction. */
const DENOMINATORS: ReadonlySet<string> = new Set(['2', '3', '4', '8', '16']);
const BODY = /^[-+]?[.,]?\d+(?:[.,' \u00a0\u2009\u202f’]\d+)*[.,]?/;

/** A unit starts like one, and has no digit but a square or a cube. */
const UNIT_START = /^[\p{L}°˚'"′″’”%#/[{(]/u;
const UNIT_DIGITS = /^(?:\D|(?<=[A-Za-z\]^][-+]?)[23](?![\dA-Za-z]))*$/;
/** Letters that were meant as digits, and exponents or hexadecimals that nobody writes by hand. */
const NO_UNIT = /^(?:[OoIl|]+(?:[\d.,]|$)|[Ee][-+]?\d|[Xx][\dA-Fa-f])/;

/**
 * The number that a cell states, with its unit's text, or why there is none. Nothing is guessed: what two hands could
 * have meant differently is ambiguous, with the readings named.
 * @param decimal the decimal mark that the sheet declares or shows; without it a point is one and a comma is open
 */
export function readNumber(text: string, decimal: '.' | ',' | undefined): NumberReading {
  const plain = undisputedNumber(text, decimal);
  if (!Number.isNaN(plain)) return { kind: 'number', value: plain, unitText: '', starred: false };
  if (text.length > LONGEST_NUMBER) return problem('number_unreadable');
  const cell = (isPlain(text) ? text : foldDashes(foldFractions(foldWide(text)))).trim();
  if (SPREADSHEET_ERROR.test(cell)) return problem('spreadsheet_error');
  if (COMPARED.test(cell)) return problem('number_censored');
  if (ABOUT.test(cell)) return problem('number_approximate');
  const bare = withoutAsterisks(cell);
  if (OPEN_ENDED.test(bare)) return problem('number_censored');
  if (QUESTIONED.test(bare)) return problem('number_approximate');
  return readValue(bare, decimal, bare.length < cell.length);
}

function readValue(cell: string, decimal: '.' | ',' | undefined, starred: boolean): NumberReading {
  if (SCIENTIFIC.test(cell)) {
    return { kind: 'number', value: Number(cell.replace(',', '.')) + 0, unitText: '', starred };
  }
  const fraction = MIXED_FRACTION.exec(cell);
  const body = (fraction ?? BODY.exec(cell))?.[0];
  if (body === undefined || !couldBeUnit(cell.slice(body.length))) return problem('number_unreadable');
  const value = fraction === null ? bodyValue(body, decimal) : fractionValue(fraction);
  if (Array.isArray(value)) return { kind: 'problem', code: 'number_ambiguous', readings: value };
  if (value === undefined || !Number.isFinite(value)) return problem('number_unreadable');
  // Adding 0 turns −0 into 0.
  return { kind: 'number', value: value + 0, unitText: cell.slice(body.length).trim(), starred };
}

function bodyValue(body: string, decimal: '.' | ',' | undefined): number | string[] | undefined {
  const plain = undisputedNumber(body, decimal);
  return Number.isNaN(plain) ? readGrouped(body, decimal) : plain;
}

/** NaN if the text is not plain, or has a point where the decimal mark is a comma. */
function undisputedNumber(text: string, decimal: '.' | ',' | undefined): number {
  return decimal === ',' && text.includes('.') ? Number.NaN : plainNumber(text);
}

function fractionValue([, sign, whole, numerator, denominator]: RegExpExecArray): number | undefined {
  if (!DENOMINATORS.has(denominator!) || Number(numerator) >= Number(denominator)) return undefined;
  const size = Number(whole) + Number(numerator) / Number(denominator);
  return sign === '-' ? -size : size;
}

function couldBeUnit(rest: string): boolean {
  const unitText = rest.trim();
  return unitText === '' || (!NO_UNIT.test(rest) && UNIT_START.test(unitText) && UNIT_DIGITS.test(unitText));
}

function withoutAsterisks(cell: string): string {
  let end = cell.length;
  while (cell[end - 1] === '*' || cell[end - 1] === ' ') end--;
  return cell.slice(0, end);
}

function problem(code: NumberProblem['code']): NumberProblem {
  return { kind: 'problem', code };
}
