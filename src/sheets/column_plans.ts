import type { Protocol } from '../protocol/types.ts';
import { parseUnit, type Unit } from '../units/unit.ts';
import { unitText } from '../units/unit_text.ts';
import { readUnit } from '../units/written.ts';
import { unitOfColumn } from './column_units.ts';
import { describeColumn, describeReading, nearestTest } from './described.ts';
import type { ColumnEntry, Role, SheetEntry } from './entry.ts';
import {
  type HeadingReading,
  type HeadingWords,
  isWorkedOut,
  readHeading,
  readQualifier,
  valueHeading,
} from './headings.ts';
import type { ColumnPlan, Evidence, IgnoredColumn, ReadingColumn } from './plan.ts';
import { ignoredHeading, roleOfHeading } from './roles.ts';

/** What recognition knows beside the sheet. */
export interface RecogniseContext {
  readonly protocol: Protocol;
  readonly words: HeadingWords;
  readonly entry: SheetEntry;
  /** athletes stand across the columns, and the rows at hand are the sheet's columns */
  readonly isAcross?: boolean;
  /** whether the text is the whole sheet, not its first part; default: it is */
  readonly isWhole?: boolean;
  /** whether a text is the name of a team, or one of its other spellings */
  readonly isTeam?: (text: string) => boolean;
}

const LONGEST_HEADING = 200;
/** A longer heading is named by its place, not repeated. */
const LONGEST_PASTED = 60;

/** One column as recognition meets it. */
export interface Heading {
  readonly text: string;
  /** what screening.yaml says of it */
  readonly said: ColumnEntry | undefined;
  /** no heading says so, but the cells below it name the athletes */
  readonly athletesBelow: boolean;
}

/**
 * What `columns:` says of a column: by any spelling of its heading, else by its place in the sheet.
 * @param headings every heading of the sheet, trimmed and in lower case: "Column4" may be one
 */
export function entryOfColumn(
  spellings: readonly string[],
  place: number,
  entry: SheetEntry,
  headings: ReadonlySet<string>,
): ColumnEntry | undefined {
  if (entry.columns.size === 0) return undefined;
  for (const heading of spellings) {
    const found = entry.columns.get(heading.trim().toLowerCase());
    if (found) return found;
  }
  for (const [key, said] of entry.columns) {
    const numbered = /^column\s*(\d{1,5})$/.exec(key);
    if (numbered !== null && Number(numbered[1]) === place + 1 && !headings.has(key)) return said;
  }
  return undefined;
}

/** The role that a column has, if it tells about the row. */
export function roleOfColumn({ text, said, athletesBelow }: Heading): Role | undefined {
  if (said) return 'role' in said ? said.role : undefined;
  return athletesBelow ? 'name' : roleOfHeading(text);
}

/**
 * What the columns of one table are, left to right.
 * @param from column of the sheet, from 0, in which the table begins
 */
export function planColumns(headings: readonly Heading[], from: number, context: RecogniseContext): ColumnPlan[] {
  const roles = headings.map(roleOfColumn);
  const table = new TableColumns(roles, from, context);
  return withDoubts(
    withOnlyWorkedOut(
      headings.map((heading, at) => table.column(at, heading)),
      context,
      roles.includes('unit'),
    ),
  );
}

class TableColumns {
  readonly #from: number;
  readonly #context: RecogniseContext;
  readonly #byTest: boolean;
  readonly #hasRows: boolean;
  readonly #hasUnitColumn: boolean;
  readonly #taken = new Set<string>();

  constructor(roles: readonly (Role | undefined)[], from: number, context: RecogniseContext) {
    this.#from = from;
    this.#context = context;
    this.#byTest = roles.includes('test');
    this.#hasRows = this.#byTest || roles.includes('side');
    this.#hasUnitColumn = roles.includes('unit');
  }

  column(at: number, { text, said, athletesBelow }: Heading): ColumnPlan {
    const plan = said
      ? enteredColumn(at, text, said, this.#context, this.#hasUnitColumn)
      : athletesBelow
        ? ({ kind: 'role', at, heading: text, role: 'name', evidence: 'athletes_below' } as const)
        : this.#plain(at, text);
    const thing = plan.kind === 'role' ? plan.role : plan.kind === 'reading' ? readingKey(plan) : undefined;
    if (thing === undefined) return plan;
    if (!this.#taken.has(thing)) {
      this.#taken.add(thing);
      return plan;
    }
    const args = { heading: text, found: describeColumn(plan) };
    return { kind: 'rejected', at, heading: text, evidence: plan.evidence, code: 'heading_duplicate', args };
  }

  #plain(at: number, heading: string): ColumnPlan {
    const { words } = this.#context;
    if (heading === '') return this.#unknown(at, heading);
    const role = roleOfHeading(heading);
    if (role === 'status' && !this.#hasRows) return ignored(at, heading, 'status_of_wide_sheet');
    if (role === 'value' && !this.#byTest) return this.#unknown(at, heading);
    if (role === 'value') return this.#reading(at, heading, {});
    if (role && role !== 'ignore') return { kind: 'role', at, heading, role, evidence: 'heading' };
    const readings = readHeading(heading, words);
    if (readings.length > 1) {
      const choices = readings.map(describeReading);
      const args = { heading, choices };
      return { kind: 'rejected', at, heading, evidence: 'heading', code: 'heading_ambiguous', args };
    }
    if (readings.length === 1) return this.#reading(at, heading, readings[0]);
    const reason = ignoredHeading(heading);
    if (reason) return ignored(at, heading, reason);
    const value = this.#byTest ? valueHeading(heading) : undefined;
    if (value) return { ...emptyReading(at, heading, 'heading'), unitText: value.unitText };
    const qualifier = this.#byTest ? qualifierWithUnit(heading) : undefined;
    if (qualifier) {
      const plan = this.#reading(at, heading, qualifier);
      return plan.kind === 'reading' ? { ...plan, unitText: qualifier.unitText } : plan;
    }
    return isWorkedOut(heading, words) ? ignored(at, heading, 'worked_out') : this.#unknown(at, heading);
  }

  #reading(at: number, heading: string, reading: HeadingReading): ColumnPlan {
    return readingColumn(at, heading, reading, this.#context, this.#hasUnitColumn);
  }

  #unknown(at: number, heading: string): ColumnPlan {
    const example = heading === '' || heading.length > LONGEST_PASTED ? `column ${this.#from + at + 1}` : undefined;
    const args = { heading, choices: nearestTest(heading, this.#context.words), example };
    return { kind: 'rejected', at, heading, evidence: 'heading', code: 'heading_unknown', args };
  }
}

function ignored(at: number, heading: string, reason: IgnoredColumn['reason']): IgnoredColumn {
  return { kind: 'ignored', at, heading, reason, evidence: 'heading' };
}

function emptyReading(at: number, heading: string, evidence: Evidence): ReadingColumn {
  return { kind: 'reading', at, heading, evidence, reversed: false };
}

function readingColumn(
  at: number,
  heading: string,
  reading: HeadingReading,
  context: RecogniseContext,
  hasUnitColumn: boolean,
): ColumnPlan {
  const { measure, compound, workedOut, side, sides, trial, named } = reading;
  const base: ReadingColumn = {
    ...emptyReading(at, heading, 'heading'),
    measure,
    compound,
    side,
    sides,
    trial,
    named,
  };
  const judged = measure ?? compound?.parts[0];
  const found = judged === undefined ? undefined : unitOfColumn(judged, reading.unit, context.entry);
  if (workedOut) {
    const claims = (workedOut === 'best' || workedOut === 'mean') && judged !== undefined && compound === undefined;
    const read = { ...base, unit: found?.unit, unitFrom: found?.from };
    return {
      ...ignored(at, heading, 'worked_out'),
      workedOut: claims ? { kind: workedOut, reading: read } : undefined,
    };
  }
  if (judged === undefined) return { ...base, unit: reading.unit, unitFrom: reading.unit ? 'heading' : undefined };
  return withUnit(base, found, judged, reading.unitText, hasUnitColumn);
}

function withUnit(
  column: ReadingColumn,
  found: ReturnType<typeof unitOfColumn>,
  judged: NonNullable<ReadingColumn['measure']>,
  written: string | undefined,
  hasUnitColumn: boolean,
): ColumnPlan {
  const { at, heading, evidence } = column;
  if (found === undefined) {
    if (hasUnitColumn) return column;
    const args = { heading, measure: judged.label, example: `{${judged.name}: kgf}` };
    return { kind: 'rejected', at, heading, evidence, code: 'unit_unknown', args, held: column };
  }
  if (found.unit.dimension !== judged.unit.dimension) {
    const args = { raw: written, measure: judged.label, expected: unitText(judged.unit.code) };
    return { kind: 'rejected', at, heading, evidence, code: 'unit_mismatch', args };
  }
  return { ...column, unit: found.unit, unitFrom: found.from };
}

function enteredColumn(
  at: number,
  heading: string,
  said: ColumnEntry,
  context: RecogniseContext,
  hasUnitColumn: boolean,
): ColumnPlan {
  if ('role' in said) {
    if (said.role === 'ignore') return { kind: 'ignored', at, heading, reason: 'declared', evidence: 'columns' };
    if (said.role === 'value') return emptyReading(at, heading, 'columns');
    return { kind: 'role', at, heading, role: said.role, evidence: 'columns' };
  }
  const measure = context.protocol.byName.get(said.measure);
  const compound = context.protocol.compounds.find((other) => other.name === said.measure);
  const judged = measure ?? compound!.parts[0];
  const unit = said.unit === undefined ? unitInBrackets(heading, judged.unit) : parseUnit(said.unit);
  const reading = { measure, compound, side: said.side, sides: said.sides, trial: said.trial, unit };
  const plan = readingColumn(at, heading, reading, context, hasUnitColumn);
  if (plan.kind !== 'reading') return { ...plan, evidence: 'columns' };
  return {
    ...plan,
    evidence: 'columns',
    measure: compound ? undefined : judged,
    unitFrom: said.unit === undefined ? plan.unitFrom : 'screening',
    reversed: said.sign === 'reversed',
  };
}

const UNIT_LAST = /^(.*?)[([]([^()[\]]{1,20})[)\]]$/;

/** "L (kg)" beside a test column: a side or trial, and a unit whose meaning depends on the test of the row. */
function qualifierWithUnit(heading: string): HeadingReading | undefined {
  const plain = readQualifier(heading);
  if (plain || heading.length > LONGEST_HEADING) return plain;
  const parts = UNIT_LAST.exec(heading.trim());
  const qualifier = parts === null ? undefined : readQualifier(parts[1]);
  return qualifier && { ...qualifier, unitText: parts![2].trim() };
}

const IN_BRACKETS = /[([]([^()[\]]{1,20})[)\]]/g;

/** The unit that stands in brackets in a heading of the user's own words: what `columns:` does not say, it says. */
function unitInBrackets(heading: string, wanted: Unit): Unit | undefined {
  if (heading.length > LONGEST_HEADING) return undefined;
  for (const [, inside] of heading.matchAll(IN_BRACKETS)) {
    const unit = readUnit(inside, wanted);
    if (unit !== 'unknown' && unit.dimension === wanted.dimension) return unit;
  }
  return undefined;
}

function readingKey(plan: ReadingColumn): string {
  return [plan.measure?.name ?? plan.compound?.name ?? '', plan.side ?? '', plan.trial ?? ''].join('\n');
}

/** A best or mean is left aside beside its trials; where no column holds them it is all that the station has handed in. */
function withOnlyWorkedOut(
  columns: readonly ColumnPlan[],
  context: RecogniseContext,
  hasUnitColumn: boolean,
): ColumnPlan[] {
  const raw = new Set<ReadingColumn['measure'] | 'of the row'>(
    columns.flatMap((column) => {
      if (column.kind === 'reading') return [column.measure ?? (column.compound ? undefined : 'of the row')];
      return column.kind === 'rejected' && column.held ? [column.held.measure] : [];
    }),
  );
  const read = new Set<string>();
  return columns.map((column) => {
    if (column.kind !== 'ignored' || column.workedOut === undefined) return column;
    const { reading } = column.workedOut;
    const { measure } = reading;
    if (measure === undefined || raw.has(measure) || raw.has('of the row')) return column;
    const key = readingKey(reading);
    if (read.has(key)) return column;
    read.add(key);
    const found = unitOfColumn(measure, reading.unitFrom === 'heading' ? reading.unit : undefined, context.entry);
    return withUnit(
      { ...reading, unit: undefined, unitFrom: undefined, evidence: 'only_worked_out' },
      found,
      measure,
      undefined,
      hasUnitColumn,
    );
  });
}

/** Trials so far apart are none: Sprint 10 and Sprint 20 are two distances. */
const FEWEST_APART = 5;

/**
 * Columns that read well alone, and not beside the others of their measure: D beside L and R may be the difference, and a
 * number without the one before it may be no trial.
 */
function withDoubts(columns: readonly ColumnPlan[]): ColumnPlan[] {
  const readings = columns.filter((column) => column.kind === 'reading' && column.evidence === 'heading');
  return columns.map((column) => {
    if (column.kind !== 'reading' || column.evidence !== 'heading' || column.measure === undefined) return column;
    const { at, heading, evidence, measure, side, trial = 0 } = column;
    const others = readings.filter((other) => other.kind === 'reading' && other.measure === measure) as ReadingColumn[];
    const sides = new Set(others.map((other) => other.side));
    const isLetter = side === 'dominant' && /(?:^|[^\p{L}])D(?:[^\p{L}]|$)/u.test(heading);
    const isDifference = isLetter && sides.has('left') && sides.has('right');
    const isApart = trial >= FEWEST_APART && !others.some((other) => other.side === side && other.trial === trial - 1);
    if (!isDifference && !isApart) return column;
    const other = isDifference
      ? `${measure.name}, the difference of its sides`
      : `${measure.name}, and ${trial} of something`;
    const args = { heading, choices: [describeColumn(column), other] };
    return { kind: 'rejected', at, heading, evidence, code: 'heading_ambiguous', args };
  });
}
