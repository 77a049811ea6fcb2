import type { Compound } from '../protocol/types.ts';
import { foldDashes } from '../units/characters.ts';
import { readNumber } from '../units/numbers.ts';
import { splitPain, withoutPain } from '../units/statuses.ts';
import { PRESSURE } from '../units/unit.ts';
import { readUnit } from '../units/written.ts';
import { ARROW, foldCell, SLASH, STARTS_WITH_NUMBER } from './part_marks.ts';

type Decimal = '.' | ',' | undefined;

/** Longer cells hold no readings, and no more than so many are made of one cell. */
const LONGEST_CELL = 200;
const MOST_READINGS = 4;

/** What hands write for the solidus: 118-72, 118\72, 118|72, 118 over 72. */
const LIKE_SOLIDUS = /^([-+]?\d+(?:[.,]\d+)?) ?(?:[-\\|]|over) ?(\d+(?:[.,]\d+)?[^-\\|/\d]*)$/i;
/** Words that say that a reading was taken again. */
const AGAIN = '(?:re-?checked|re-?check|re-?test(?:ed)?|re-?taken|re-?take|repeated|repeat|rpt|again|then|re)\\b';
/** What stands between a reading and its recheck, the surest first. */
const BEFORE_RECHECK: readonly RegExp[] = [
  /[\r\n]+/,
  /;/,
  ARROW,
  new RegExp(`,? *\\b${AGAIN}[:.]? *`, 'i'),
  /, +/,
  /,/,
  /(?<=\d) +(?=\d{2,3}\/\d{2,3})/,
];
const BRACKETED = / *\(([^()]*)\)$/;
const RECHECK_WORD = new RegExp(`^${AGAIN}[:.]? *`, 'i');
const HALF_RECHECK = new RegExp(`[;\\r\\n]|, |\\([^\\d]*\\d|\\b${AGAIN}`, 'i');

/**
 * The readings in a cell of several measures, each as one text a part, such as `118/72`, `118-72` and
 * `148/92 → 132/84` (a reading and its recheck); undefined if the cell does not fall wholly apart. A pain mark or a unit
 * behind a whole reading goes to every part. A mark of the protocol other than the solidus is the only one between parts.
 * @param text trimmed, not empty; a word that holds for the whole cell (NT) is not for here
 */
export function compoundReadings(
  text: string,
  compound: Compound,
  decimal: Decimal,
): readonly (readonly string[])[] | undefined {
  if (text.length > LONGEST_CELL) return undefined;
  const folded = foldCell(text).trim();
  const cell = withoutPain(folded) ?? folded;
  const several = rechecked(cell, compound, decimal);
  if (several !== undefined) return several;
  const single = partsOf(cell, compound);
  if (single === undefined || single.some(isHalfRechecked)) return undefined;
  return withUnits([single], compound, decimal);
}

/** Whether a cell of these parts is a pressure at its highest and at its lowest, so that the first is the larger. */
export function isPressurePair({ parts }: Compound): boolean {
  return parts.length === 2 && parts.every(({ unit }) => unit.dimension === PRESSURE);
}

/** The two ways in which a pressure can be meant whose first number is not the larger. */
export function pressureWays(parts: readonly string[], isEqual: boolean): readonly string[] {
  const [first, second] = parts.map((part) => splitPain(part) ?? part);
  return isEqual
    ? [`${first} over a lower one`, `a higher one over ${first}`]
    : [`${first} over ${second}`, `${second} over ${first}`];
}

function rechecked(cell: string, compound: Compound, decimal: Decimal): readonly (readonly string[])[] | undefined {
  const bracketed = BRACKETED.exec(cell);
  if (bracketed !== null) {
    const found = wholly([cell.slice(0, bracketed.index), bracketed[1]], compound, decimal);
    if (found !== undefined) return found;
  }
  for (const mark of BEFORE_RECHECK) {
    const found = wholly(cell.split(mark), compound, decimal);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** Whether a part goes on with a recheck that is no whole reading: `92 → 132` of 148/92 → 132. */
function isHalfRechecked(part: string): boolean {
  return ARROW.test(part) || HALF_RECHECK.test(part);
}

/** The readings of pieces each of which holds every part. */
function wholly(
  pieces: readonly string[],
  compound: Compound,
  decimal: Decimal,
): readonly (readonly string[])[] | undefined {
  if (pieces.length < 2 || pieces.length > MOST_READINGS) return undefined;
  const readings: (readonly string[])[] = [];
  for (const piece of pieces) {
    const parts = partsOf(piece.trim().replace(RECHECK_WORD, ''), compound);
    if (parts === undefined) return undefined;
    readings.push(parts);
  }
  return withUnits(readings, compound, decimal);
}

function partsOf(piece: string, compound: Compound): readonly string[] | undefined {
  const painless = splitPain(piece);
  const parts = apart(painless ?? piece, compound);
  if (parts === undefined || parts.length !== compound.parts.length || parts.includes('')) return undefined;
  return painless === undefined ? parts : parts.map((part) => (STARTS_WITH_NUMBER.test(part) ? `${part} P` : part));
}

function apart(piece: string, { between, parts }: Compound): readonly string[] | undefined {
  const mark = foldDashes(between.trim());
  if (mark === '') return piece.split(/ +/);
  if (mark !== '/') return trimmedAll(foldDashes(piece).split(mark));
  if (SLASH.test(piece)) return trimmedAll(piece.split(SLASH));
  const pair = parts.length === 2 ? LIKE_SOLIDUS.exec(foldDashes(piece)) : null;
  return pair === null ? undefined : [pair[1], pair[2].trim()];
}

function trimmedAll(texts: readonly string[]): string[] {
  return texts.map((text) => text.trim());
}

/**
 * A unit behind a reading is that of its parts, and one behind the last reading alone that of all, if each part can
 * have it.
 */
function withUnits(
  readings: readonly (readonly string[])[],
  compound: Compound,
  decimal: Decimal,
): readonly (readonly string[])[] {
  const unitOf = (part: string): string => {
    const number = readNumber(splitPain(part) ?? part, decimal);
    return number.kind === 'number' ? number.unitText : '';
  };
  const unitBehind = (parts: readonly string[]): string => {
    const [last, ...others] = parts.toReversed().map(unitOf);
    return others.every((unit) => unit === '') && fitsAll(last, compound) ? last : '';
  };
  const ofLast = unitBehind(readings.at(-1)!);
  return readings.map((parts) => {
    const unit = parts.every((part) => unitOf(part) === '') ? ofLast : unitBehind(parts);
    return unit === '' ? parts : parts.map((part) => (unitOf(part) === '' ? withUnit(part, unit) : part));
  });
}

function fitsAll(unitText: string, { parts }: Compound): boolean {
  return parts.every(({ unit }) => {
    const read = readUnit(unitText, unit);
    return read !== 'unknown' && read.dimension === unit.dimension;
  });
}

function withUnit(part: string, unit: string): string {
  if (!STARTS_WITH_NUMBER.test(part)) return part;
  const painless = splitPain(part);
  return painless === undefined ? `${part} ${unit}` : `${painless} ${unit} P`;
}
