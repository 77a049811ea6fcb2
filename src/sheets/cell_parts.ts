import type { RejectArgs, RejectCode } from '../problems/rejects.ts';
import { readDate } from '../units/dates.ts';
import { readNumber } from '../units/numbers.ts';
import { readStatus, splitPain } from '../units/statuses.ts';
import { ANGLE, convert, NONE, parseUnit } from '../units/unit.ts';
import { neutralZeroReadings, readAngleRange } from './angle_ranges.ts';
import { type CellReading, isPlausible, readCell } from './cells.ts';
import { namedSides } from './named_sides.ts';
import { foldCell, type ListParts, listParts } from './part_marks.ts';
import { hurts } from './row_cells.ts';
import type { Target } from './targets.ts';

export interface PartsAsked {
  /** measure and unit */
  readonly target: Target;
  readonly decimal: '.' | ',' | undefined;
  /** the measure has sides, and neither column nor row says which: a pair may be left and right */
  readonly sideOpen: boolean;
  /** the heading or row numbers the trial: a list in such a cell contradicts it */
  readonly trialGiven: boolean;
  /** the column writes the reading with its sign turned */
  readonly reversed?: boolean;
}

export type CellParts =
  /** to be read as one reading; the text is the cell's but for the end of a range (`0-135`) */
  | { readonly kind: 'one'; readonly text: string }
  /** several trials, in order */
  | { readonly kind: 'trials'; readonly texts: readonly string[] }
  /** one reading a side, as written; named: the cell says which is which, and the left one is the first */
  | { readonly kind: 'sides'; readonly texts: readonly [string, string]; readonly named?: true }
  | PartsProblem;

export interface PartsProblem {
  readonly kind: 'problem';
  readonly code: RejectCode;
  /** choices: the readings; expected: what to write instead, to follow the word "Write" */
  readonly args: RejectArgs;
  /** the cell says that it hurt, which is to be seen whatever becomes of the readings */
  readonly hurts: boolean;
}

type Reading = Extract<CellReading, { kind: 'reading' }>;

/** Longer cells hold no list, and no more than so many trials are made. */
const LONGEST_LIST = 400;
const MOST_PARTS = 20;

const INCH = parseUnit('[in_i]')!;
const INCHES_A_FOOT = 12;
const GRADES = 5;
const SIGNED_GRADE = /^\d[-+–−](?!\d)/;
const FRACTION = /^(?:1\/2|[13]\/4|[1357]\/8|(?:[13579]|1[135])\/16)(?!\d)\D*$/;
const FEET_AND_INCHES = /^([3-9]) (\d|1[01])$/;
const NUMERIC_DATE = /^\d{1,4}\/\d{1,2}\/\d{1,4}$/;
const FULL_YEAR = /\d{4}/;
/** A run of one to three digits before one of exactly three: thousands, or two readings. */
const MAY_LEAD_THOUSANDS = /^[-+]?[1-9]\d{0,2}$/;
const MAY_END_THOUSANDS = /^\d{3}(?!\d)/;

/**
 * What a cell that is no plain number holds: one reading, several trials (`32, 34, 33`), both sides (`35/40`), or
 * something that can be read two ways. Only where every part reads by itself is it more than one reading, and what
 * reads as a whole is one.
 * @param text trimmed, not empty
 */
export function cellParts(text: string, asked: PartsAsked): CellParts {
  const one: CellParts = { kind: 'one', text };
  if (text.length > LONGEST_LIST) return one;
  const { target, decimal } = asked;
  const whole = readCell(text, target, decimal);
  if (whole.kind === 'reading' || whole.code !== 'number_unreadable') return one;
  const cell = foldCell(text);
  return (
    range(text, cell, asked) ??
    sidesByName(text, cell, asked) ??
    feetOrTrials(text, cell, asked) ??
    list(text, cell, asked) ??
    one
  );
}

/** 0-135 under an angle. */
function range(text: string, cell: string, { target, decimal }: PartsAsked): CellParts | undefined {
  if (target.measure.unit.dimension !== ANGLE) return undefined;
  const painless = splitPain(cell);
  const found = readAngleRange(painless ?? cell, target.writtenIn.code);
  if (found === undefined) return undefined;
  if (found.kind === 'open') return twoWays(text, found.readings, 'the one angle that is asked for');
  const end = painless === undefined ? found.text : `${found.text} P`;
  const reading = readCell(end, target, decimal);
  return reading.kind === 'reject' && reading.code === 'number_unreadable' ? undefined : { kind: 'one', text: end };
}

/** L35 R40 */
function sidesByName(text: string, cell: string, asked: PartsAsked): CellParts | undefined {
  const named = asked.sideOpen ? namedSides(cell) : undefined;
  const read = named && readParts(named, asked);
  if (read === undefined) return undefined;
  if (read.kind === 'open') return twoWays(text, read.readings, 'the decimal mark as a point');
  return { kind: 'sides', texts: read.texts as [string, string], named: true };
}

/** 5 11 under a length may be feet and inches. */
function feetOrTrials(text: string, cell: string, asked: PartsAsked): CellParts | undefined {
  const { target } = asked;
  const match = target.length ? FEET_AND_INCHES.exec(cell) : null;
  if (match === null) return undefined;
  const [, feet, inches] = match;
  const size = convert(Number(feet) * INCHES_A_FOOT + Number(inches), INCH, target.measure.unit);
  if (!isPlausible(target, size, false)) return undefined;
  const joined = canBe(feet + inches, asked) ? [feet + inches] : [];
  const choices = [`${feet} ft ${inches} in`, ...joined, `trials ${feet} and ${inches}`];
  return twoWays(text, choices, 'the unit, or one trial a cell');
}

function list(text: string, cell: string, asked: PartsAsked): CellParts | undefined {
  const { target, sideOpen, trialGiven } = asked;
  const found = listParts(cell, asked.decimal);
  if (found === undefined || found.parts.length < 2 || found.parts.length > MOST_PARTS) return undefined;
  const { mark, parts } = found;
  const isPair = parts.length === 2;
  if (mark === 'slash' && parts.some((part) => SIGNED_GRADE.test(part))) return undefined;
  const read = readParts(parts, asked);
  if (read === undefined) return undefined;
  if (read.kind === 'open') return twoWays(text, read.readings, 'the decimal mark as a point, or one trial a cell');
  const whole = mark === 'space' ? asOneNumber(parts, asked) : undefined;
  if (whole !== undefined) return twoWays(text, whole, 'the number without the space, or one trial a cell');
  const open = inAnotherWay(cell, found, asked);
  if (open !== undefined) return open === 'no list' ? undefined : twoWays(text, open, 'one reading a cell');

  if (mark === 'slash' && isPair && sideOpen) return { kind: 'sides', texts: read.texts as [string, string] };
  const trials = `trials ${parts.join(mark === 'semicolon' ? '; ' : ', ')}`;
  if (mark === 'slash' && isPair) {
    const other = target.measure.sides === 'each' ? `left ${parts[0]} and right ${parts[1]}` : 'one of the two';
    return twoWays(text, [trials, other], 'one trial a cell');
  }
  if (trialGiven) {
    return twoWays(
      text,
      [trials, 'the one trial that heading or row numbers'],
      'one trial a cell, each with its number',
    );
  }
  if (isPair && sideOpen && mark !== 'arrow') {
    return twoWays(text, [trials, `left ${parts[0]} and right ${parts[1]}`], 'L and R before the readings');
  }
  return { kind: 'trials', texts: read.texts };
}

/** 1 43 may be 143 with a space that slipped in, where 143 can be. */
function asOneNumber(parts: readonly string[], asked: PartsAsked): readonly string[] | undefined {
  const joined = parts.join('');
  if (!canBe(joined, asked)) return undefined;
  const sides = asked.sideOpen && parts.length === 2 ? [`left ${parts[0]} and right ${parts[1]}`] : [];
  return [joined, `trials ${parts.join(', ')}`, ...sides];
}

function canBe(text: string, { target, decimal, reversed }: PartsAsked): boolean {
  const read = readCell(text, target, decimal);
  if (read.kind !== 'reading' || Number.isNaN(read.value)) return false;
  const value = reversed ? -read.value : read.value;
  return isPlausible(target, value, false) || isPlausible(target, value, true);
}

/** What else a list whose parts can all be read may mean: no list at all, or the readings between which it is open. */
function inAnotherWay(
  cell: string,
  { mark, parts }: ListParts,
  asked: PartsAsked,
): readonly string[] | 'no list' | undefined {
  const { target, sideOpen } = asked;
  const joined = parts.join(', ');
  if (mark === 'slash' && parts.length === 2) {
    const [first, second] = parts.map((part) => Number.parseFloat(part));
    const pair = sideOpen ? `left ${parts[0]} and right ${parts[1]}` : `trials ${joined}`;
    if (target.length && FRACTION.test(cell)) return [String(first / second), pair];
    return second === GRADES && first <= GRADES && isGraded(target) ? [`grade ${first} of ${GRADES}`, pair] : undefined;
  }
  if (mark === 'slash' && parts.length === 3) {
    if (isNumericDate(cell)) return FULL_YEAR.test(cell) ? 'no list' : [`trials ${joined}`, 'a date'];
    const angles = parts.map((part) => Number.parseFloat(part));
    if (target.measure.unit.dimension === ANGLE && angles.includes(0) && angles.every((angle) => angle >= 0)) {
      return [`trials ${joined}`, ...neutralZeroReadings(angles, target.writtenIn.code)];
    }
    return undefined;
  }
  if (mark === 'bare_comma' || mark === 'space') return inThousands(mark, parts, asked.decimal);
  return painOfOne(parts);
}

/** 98,102,99 may be 98102 and 99; 32,34,33,35 may be 32.34 and 33.35. */
function inThousands(
  mark: 'bare_comma' | 'space',
  parts: readonly string[],
  decimal: '.' | ',' | undefined,
): readonly string[] | undefined {
  const trials = `trials ${parts.join(', ')}`;
  const joined: string[] = [];
  for (const part of parts) {
    const last = joined.at(-1) ?? '';
    if (MAY_LEAD_THOUSANDS.test(last) && MAY_END_THOUSANDS.test(part)) joined[joined.length - 1] = last + part;
    else joined.push(part);
  }
  if (joined.length < parts.length) return [trials, `trials ${joined.join(', ')}`];
  if (mark === 'space' || decimal !== undefined || parts.length % 2 === 1) return undefined;
  const broken = parts.flatMap((part, at) => (at % 2 === 0 ? [`${part}.${parts[at + 1]}`] : []));
  return [trials, `trials ${broken.join(', ')}`];
}

/** "32, pain" may be a painful 32, or a trial and one that was stopped for pain. */
function painOfOne(parts: readonly string[]): readonly string[] | undefined {
  if (parts.length !== 2) return undefined;
  const numbers = parts.filter((part) => readStatus(part) !== 'pain');
  return numbers.length === 1 && readStatus(numbers[0]) === undefined
    ? [`${numbers[0]} with pain`, `trials ${parts.join(', ')}`]
    : undefined;
}

type PartsRead =
  | { readonly kind: 'read'; readonly texts: readonly string[] }
  /** some parts can be read two ways: the two ways of the whole */
  | { readonly kind: 'open'; readonly readings: readonly string[] };

/** The parts as each is to be read by itself, a unit behind the last with all of them; undefined: not all can be read. */
function readParts(parts: readonly string[], asked: PartsAsked): PartsRead | undefined {
  const { target, decimal } = asked;
  const texts = parts.map((part) => {
    const one = part === '' ? undefined : range(part, part, asked);
    return one?.kind === 'one' ? one.text : part;
  });
  if (texts.includes('')) return undefined;
  const found = texts.map((part) => readCell(part, target, decimal));
  if (found.every((reading) => reading.kind === 'reading')) return withOneUnit(texts, found, asked);
  const isOpen = ({ kind, ...reading }: CellReading): boolean =>
    kind === 'reading' || ('code' in reading && reading.code === 'number_ambiguous');
  if (!found.every(isOpen)) return undefined;
  const way = (at: number): string =>
    found
      .map(
        (reading, part) =>
          (reading.kind === 'reject' && (reading.args.choices?.[at] ?? reading.args.choices?.[0])) || texts[part],
      )
      .join(' and ');
  return { kind: 'open', readings: [...new Set([way(0), way(1)])] };
}

/** Units in some parts alone: behind the last it is that of all; elsewhere only the column's own leaves no question. */
function withOneUnit(texts: readonly string[], found: readonly Reading[], asked: PartsAsked): PartsRead | undefined {
  const numbers = found.flatMap(({ value }, at) => (Number.isNaN(value) ? [] : [at]));
  const written = numbers.filter((at) => found[at].cellUnit !== undefined);
  const isOwn = written.every((at) => found[at].cellUnit!.code === asked.target.writtenIn.code);
  if (written.length === numbers.length || isOwn) return { kind: 'read', texts };
  const last = numbers.at(-1)!;
  const number = readNumber(splitPain(texts[last]) ?? texts[last], asked.decimal);
  if (written.length > 1 || written[0] !== last || number.kind !== 'number' || number.unitText === '') return undefined;
  const given = texts.map((part, at) => {
    if (at === last || !numbers.includes(at)) return part;
    const painless = splitPain(part);
    return painless === undefined ? `${part} ${number.unitText}` : `${painless} ${number.unitText} P`;
  });
  const all = given.every((part) => readCell(part, asked.target, asked.decimal).kind === 'reading');
  return all ? { kind: 'read', texts: given } : undefined;
}

/** A number without a unit that may be a grade out of five. */
function isGraded({ measure: { unit, levels, plausible } }: Target): boolean {
  if (unit.dimension !== NONE) return false;
  const highest = levels === undefined ? plausible?.[1] : Math.max(...levels);
  return highest === undefined || highest <= GRADES;
}

function isNumericDate(cell: string): boolean {
  if (!NUMERIC_DATE.test(cell)) return false;
  const date = readDate(cell, undefined);
  return date.kind === 'day' || date.code === 'date_ambiguous';
}

function twoWays(raw: string, choices: readonly string[], expected: string): PartsProblem {
  const parts = listParts(foldCell(raw), undefined)?.parts ?? [];
  return {
    kind: 'problem',
    code: 'number_ambiguous',
    args: { raw, choices, expected },
    hurts: [raw, ...parts].some(hurts),
  };
}
