import type { RejectArgs, RejectCode } from '../problems/rejects.ts';
import { round9 } from '../stats/round9.ts';
import { readClock } from '../units/clock.ts';
import { readFeetAndInches, readMetresAndCentimetres } from '../units/heights.ts';
import { plainNumber, readNumber } from '../units/numbers.ts';
import { isQualitative, type ObservationStatus, readStatus, splitPain, withoutPain } from '../units/statuses.ts';
import { convert, parseUnit, TIME, type Unit } from '../units/unit.ts';
import { unitText, withUnit } from '../units/unit_text.ts';
import { readUnit } from '../units/written.ts';
import type { Target } from './targets.ts';
import { type SlipReading, unitSlips } from './unit_slip.ts';

/** A cell read: a value in the measure's unit (NaN: none) with its status, or the reason why not. */
export type CellReading =
  | {
      readonly kind: 'reading';
      readonly value: number;
      readonly status: ObservationStatus;
      /** the unit that the cell itself names */
      readonly cellUnit?: Unit;
    }
  | CellReject;

export interface CellReject {
  readonly kind: 'reject';
  readonly code: RejectCode;
  readonly args: RejectArgs;
}

/** Codes for "missing" that old data programs write into number columns. */
export const MISSING_NUMBERS: ReadonlySet<number> = new Set([-99, -999]);

const FEWEST_DIGITS = 4;
const MOST_DIGITS = 12;

const INCH = parseUnit('[in_i]')!;
const METRE = parseUnit('m')!;
const SECOND = parseUnit('s')!;
const WRITTEN_FEET = /['’′"″]|ft|feet|foot/i;
/** Units in which heights and lengths are written down, for the one that a number was meant in. */
const LENGTH_UNITS = ['cm', 'm', '[in_i]', '[ft_i]'].map((code) => parseUnit(code)!);
const UNIT_NAMES: Readonly<Record<string, string>> = {
  cm: 'centimetres',
  m: 'metres',
  '[in_i]': 'inches',
  '[ft_i]': 'feet',
};

const reject = (code: RejectCode, args: RejectArgs): CellReject => ({ kind: 'reject', code, args });

/** Whether a value may be: within `plausible`, and one of the levels if the measure has levels. */
export function isPlausible(target: Target, value: number, both: boolean): boolean {
  const { plausible, plausibleBoth, levels } = target.measure;
  if (levels !== undefined) return levels.includes(round9(value));
  const limits = both ? (plausibleBoth ?? plausible) : plausible;
  if (limits === undefined) return true;
  const rounded = round9(value);
  return rounded >= limits[0] && rounded <= limits[1];
}

/**
 * The reject of a value that cannot be, with what it may have been.
 * @param value in the measure's unit
 * @param cellUnit the unit that the cell itself names
 */
export function implausible(
  target: Target,
  raw: string,
  value: number,
  both: boolean,
  cellUnit: Unit = target.writtenIn,
): CellReject {
  const { measure } = target;
  const limits = both ? (measure.plausibleBoth ?? measure.plausible) : measure.plausible;
  const unit = measure.unit.code;
  const expected =
    measure.levels !== undefined
      ? `the levels ${measure.levels.join(', ')}`
      : `${limits![0]} to ${withUnit(String(limits![1]), unit)}`;
  const slips =
    limits === undefined ? [] : (heightSlips(target, raw, limits) ?? unitSlips(value, measure.unit, limits));
  const choices = slips.map((slip) => `${withUnit(String(Number(slip.value.toPrecision(4))), unit)} (${slip.between})`);
  const found = cellUnit.code === unit ? undefined : withUnit(roundedOutside(target, value, both), unit);
  return reject('implausible', { raw, measure: measure.label, found, expected, choices, value });
}

/** A value that cannot be, with as few digits as leave it one that cannot be, from four. */
function roundedOutside(target: Target, value: number, both: boolean): string {
  for (let digits = FEWEST_DIGITS; digits < MOST_DIGITS; digits++) {
    const rounded = Number(value.toPrecision(digits));
    if (!isPlausible(target, rounded, both)) return String(rounded);
  }
  return String(value);
}

/** A bare number of a body height in every other unit that makes it one, and with its decimal point moved. */
function heightSlips(target: Target, raw: string, limits: readonly [number, number]): SlipReading[] | undefined {
  const { measure, writtenIn, bodyHeight } = target;
  const number = bodyHeight ? plainNumber(raw) : Number.NaN;
  const own = UNIT_NAMES[writtenIn.code];
  if (Number.isNaN(number) || own === undefined) return undefined;
  const others = LENGTH_UNITS.filter(({ code }) => code !== writtenIn.code).map((unit) => ({
    value: convert(number, unit, measure.unit),
    between: `${own} and ${UNIT_NAMES[unit.code]}`,
  }));
  const moved = [number / 10, number * 10].map((other) => ({
    value: target.convert(other),
    between: 'a decimal point',
  }));
  return [...others, ...moved].filter(({ value }) => value >= limits[0] && value <= limits[1]);
}

/** Feet and inches, metres and centimetres, and heights that a spreadsheet turned into dates. */
function lengthNotation(text: string, target: Target): CellReading | undefined {
  if (!target.length) return undefined;
  const feet = target.bodyHeight || WRITTEN_FEET.test(text) ? readFeetAndInches(text) : undefined;
  const length = feet ?? readMetresAndCentimetres(text);
  if (length === undefined) return undefined;
  if (length.kind === 'problem') return reject(length.code, { raw: text, choices: length.readings });
  const cellUnit = length.kind === 'inches' ? INCH : METRE;
  return { kind: 'reading', value: convert(length.value, cellUnit, target.measure.unit), status: 'measured', cellUnit };
}

/**
 * Reads one cell of a measure, plausible limits aside.
 * @param text trimmed, not empty
 */
export function readCell(text: string, target: Target, decimal: '.' | ',' | undefined): CellReading {
  const plain = decimal === ',' && text.includes('.') ? Number.NaN : plainNumber(text);
  if (!Number.isNaN(plain)) {
    if (MISSING_NUMBERS.has(plain)) return { kind: 'reading', value: Number.NaN, status: 'not_tested' };
    if (target.bodyHeightInFeet || (target.bodyHeight && !isPlausible(target, target.convert(plain), false))) {
      const length = lengthNotation(text, target);
      if (length) return length;
    }
    return { kind: 'reading', value: target.convert(plain), status: 'measured' };
  }
  const status = readStatus(text);
  // "ok" in the place of a number says that there should be one.
  if (status !== undefined && status !== 'measured') return { kind: 'reading', value: Number.NaN, status };
  if (status === 'measured' || isQualitative(text)) return reject('number_unreadable', { raw: text });
  const painless = withoutPain(text);
  if (painless !== undefined) {
    const reading = readCell(painless, target, decimal);
    // "0 no pain" may be a score of the pain.
    return reading.kind === 'reading' && reading.value === 0 ? reject('number_unreadable', { raw: text }) : reading;
  }
  const painful = splitPain(text);
  if (painful !== undefined) {
    const reading = readCell(painful, target, decimal);
    // "0 pain", and under a score "p3", may speak of the pain itself: nobody can say.
    const isScore = target.measure.levels !== undefined && /^\(?p/i.test(text);
    if (isScore || (reading.kind === 'reading' && reading.value === 0)) {
      return reject('number_unreadable', { raw: text });
    }
    return reading.kind === 'reading' ? { ...reading, status: 'pain' } : reading;
  }
  return lengthNotation(text, target) ?? clockTime(text, target) ?? writtenNumber(text, target, decimal);
}

/** A time taken as 0:01.92. */
function clockTime(text: string, target: Target): CellReading | undefined {
  if (target.measure.unit.dimension !== TIME) return undefined;
  const seconds = readClock(text);
  if (seconds === undefined) return undefined;
  const value = convert(seconds, SECOND, target.measure.unit);
  return { kind: 'reading', value, status: 'measured', cellUnit: SECOND };
}

function writtenNumber(text: string, target: Target, decimal: '.' | ',' | undefined): CellReading {
  const { measure } = target;
  const number = readNumber(text, decimal);
  if (number.kind === 'problem') return reject(number.code, { raw: text, choices: number.readings });
  if (number.unitText === '') return { kind: 'reading', value: target.convert(number.value), status: 'measured' };
  const unit = readUnit(number.unitText, measure.unit);
  if (unit === 'unknown') return reject('number_unreadable', { raw: text });
  if (unit.dimension !== measure.unit.dimension) {
    return reject('unit_mismatch', {
      raw: number.unitText,
      measure: measure.label,
      expected: unitText(measure.unit.code),
    });
  }
  return { kind: 'reading', value: convert(number.value, unit, measure.unit), status: 'measured', cellUnit: unit };
}
