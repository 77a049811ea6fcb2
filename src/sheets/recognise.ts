import { closest, distance } from 'fastest-levenshtein';
import type { Measure, Protocol } from '../protocol/types.ts';
import { cutRows, type Delimiter, type OpenQuote } from '../tables/csv_rows.ts';
import { dateEvidence } from '../units/dates.ts';
import { foldKey } from '../units/keys.ts';
import { FORCE, parseUnit, TORQUE, type Unit } from '../units/unit.ts';
import { unitText } from '../units/unit_text.ts';
import type { ColumnEntry, SheetEntry } from './entry.ts';
import { type HeadingReading, type HeadingWords, readHeading, readQualifier } from './headings.ts';
import type { ColumnPlan, Layout, ReadingColumn, SheetPlan, SheetProblem, UnitFrom } from './plan.ts';
import { ignoredHeading, roleOfHeading } from './roles.ts';

const DELIMITERS: readonly Delimiter[] = [',', ';', '\t'];
const MOST_TITLE_ROWS = 60;
const MOST_HEADING_ROWS = 3;
/** A heading this far from a known name is no misspelling of it. */
const FARTHEST = 3;
const COMMA_DECIMAL = /^[-+]?\d+,(\d{1,2}|\d{4,})$/;
const POINT_DECIMAL = /^[-+]?\d*\.\d+$/;

const isBlank = (cell: string | undefined): boolean => cell === undefined || cell.trim() === '';
const ATHLETE_ROLES = new Set(['athlete_id', 'name', 'first_name', 'last_name']);
const isAthlete = (heading: string): boolean => ATHLETE_ROLES.has(roleOfHeading(heading) ?? '');

/** Describes a reading for messages: "hip_adduction, left, trial 1". */
export function describeReading(reading: HeadingReading): string {
  return [
    reading.measure?.name ?? reading.compound?.name,
    reading.side,
    reading.trial === undefined ? undefined : `trial ${reading.trial}`,
    reading.unitText,
  ]
    .filter((part) => part !== undefined)
    .join(', ');
}

/** The known heading nearest to a text that names nothing, if it is near at all. */
export function nearestTest(heading: string, words: HeadingWords): string[] {
  const key = foldKey(heading.slice(0, 80));
  if (key.length < 3 || words.known.length === 0) return [];
  const near = closest(key, words.known);
  return distance(key, near) <= Math.min(FARTHEST, Math.floor(near.length / 2)) ? [near] : [];
}

interface Draft {
  readonly columns: readonly ColumnPlan[];
  readonly headingRows: readonly [number, number];
  readonly score: number;
}

/** One column's headings, top to bottom, with the top one carried over the columns that it spans. */
function stackedHeading(rows: readonly (readonly string[])[], at: number, spanning: readonly string[]): string {
  const own = rows.map((row) => (row[at] ?? '').trim());
  const below = own.slice(1).filter((cell) => cell !== '');
  const top = own[0] !== '' || below.length === 0 ? own[0] : spanning[at];
  const whole = [top, ...below].filter((part) => part !== '').join(' ');
  if (!isAthlete(top) || isAthlete(whole)) return whole;
  // "First" under "Name" is the closer word; "units" under "ID" speaks of the other columns.
  return below.findLast(isAthlete) ?? top;
}

/** The top heading line with each heading repeated over the blanks to its right; a role spans nothing. */
function spanned(row: readonly string[], width: number): string[] {
  const out: string[] = [];
  let last = '';
  for (let at = 0; at < width; at++) {
    const cell = (row[at] ?? '').trim();
    if (cell !== '') last = roleOfHeading(cell) ? '' : cell;
    out.push(cell === '' ? last : cell);
  }
  return out;
}

export interface RecogniseContext {
  readonly protocol: Protocol;
  readonly words: HeadingWords;
  readonly entry: SheetEntry;
}

function entryOf(headings: readonly string[], entry: SheetEntry): ColumnEntry | undefined {
  for (const heading of headings) {
    const found = entry.columns.get(heading.trim().toLowerCase());
    if (found) return found;
  }
  return undefined;
}

/** Unit of a measure as far as a column can tell, and who said so; undefined where none is said and none may be assumed. */
export function unitOfColumn(
  measure: Measure,
  said: Unit | undefined,
  entry: SheetEntry,
): { unit: Unit; from: UnitFrom } | undefined {
  if (said) return { unit: said, from: 'heading' };
  const named = entry.units.get(measure.name);
  if (named !== undefined) return { unit: parseUnit(named)!, from: 'screening' };
  if (measure.writtenIn !== undefined) return { unit: parseUnit(measure.writtenIn)!, from: 'written_in' };
  // Pounds, kilograms and newtons all look alike in a force or torque column: nobody may assume one.
  if (measure.unit.dimension === FORCE || measure.unit.dimension === TORQUE) return undefined;
  return { unit: measure.unit, from: 'protocol' };
}

function readingColumn(
  at: number,
  heading: string,
  reading: HeadingReading,
  context: RecogniseContext,
  hasUnitColumn: boolean,
): ColumnPlan {
  const { measure, compound } = reading;
  if (reading.workedOut) return { kind: 'ignored', at, heading, reason: 'worked_out' };
  const base = {
    kind: 'reading' as const,
    at,
    heading,
    measure,
    compound,
    side: reading.side,
    trial: reading.trial,
    reversed: false,
  };
  const judged = measure ?? compound?.parts[0];
  if (judged === undefined) return { ...base, unit: reading.unit, unitFrom: reading.unit ? 'heading' : undefined };
  const found = unitOfColumn(judged, reading.unit, context.entry);
  if (found === undefined) {
    if (hasUnitColumn) return base;
    const example = `{${judged.name}: kgf}`;
    const args = { heading, measure: judged.label, example };
    return { kind: 'rejected', at, heading, code: 'unit_unknown', args, held: base };
  }
  if (found.unit.dimension !== judged.unit.dimension) {
    const args = { raw: reading.unitText, measure: judged.label, expected: unitText(judged.unit.code) };
    return { kind: 'rejected', at, heading, code: 'unit_mismatch', args };
  }
  return { ...base, unit: found.unit, unitFrom: found.from };
}

function enteredColumn(
  at: number,
  heading: string,
  said: ColumnEntry,
  context: RecogniseContext,
  hasUnitColumn: boolean,
): ColumnPlan {
  if ('role' in said) {
    if (said.role === 'ignore') return { kind: 'ignored', at, heading, reason: 'declared' };
    if (said.role === 'value') return readingColumn(at, heading, {}, context, hasUnitColumn);
    return { kind: 'role', at, heading, role: said.role };
  }
  const measure = context.protocol.byName.get(said.measure);
  const compound = context.protocol.compounds.find((other) => other.name === said.measure);
  const judged = measure ?? compound!.parts[0];
  const unit = said.unit === undefined ? undefined : parseUnit(said.unit);
  const reading = { measure, compound, side: said.side, trial: said.trial, unit };
  const plan = readingColumn(at, heading, reading, context, hasUnitColumn);
  if (plan.kind !== 'reading') return plan;
  const from = unit ? 'screening' : plan.unitFrom;
  return { ...plan, measure: compound ? undefined : judged, unitFrom: from, reversed: said.sign === 'reversed' };
}

/**
 * A further heading line holds sides, trials, units and roles only, and nothing where the athlete stands. A bare number
 * is a trial only under a heading that stands over several columns: elsewhere the row may be a reading without its
 * athlete.
 */
function isQualifierRow(
  row: readonly string[],
  top: readonly string[],
  above: readonly (HeadingReading | undefined)[],
  athleteAt: number,
): boolean {
  const shared = sharedHeadings(top);
  let qualifiers = 0;
  for (const [at, raw] of row.entries()) {
    const cell = raw.trim();
    if (cell === '') continue;
    if (/^\d+$/.test(cell) && shared[at] === false) return false;
    if (readQualifier(cell, above[at]?.measure?.unit ?? above[at]?.compound?.parts[0].unit)) qualifiers++;
    else if (!roleOfHeading(cell) && !ignoredHeading(cell)) return false;
    if (at === athleteAt && !roleOfHeading(cell)) return false;
  }
  return qualifiers > 0;
}

/** Which headings of the top line stand over several columns, by blanks beside them or by being written again. */
function sharedHeadings(top: readonly string[]): boolean[] {
  const headings = top.map((cell) => cell.trim());
  const again = new Set<string>();
  const seen = new Set<string>();
  for (const heading of headings) (seen.has(heading) ? again : seen).add(heading);
  return headings.map((heading, at) => heading === '' || headings[at + 1] === '' || again.has(heading));
}

function draftOf(
  rows: readonly (readonly string[])[],
  start: number,
  size: number,
  context: RecogniseContext,
): Draft | undefined {
  const block = rows.slice(start, start + size);
  const width = Math.max(...block.map((row) => row.length));
  const spanning = spanned(block[0], width);
  const headings = Array.from({ length: width }, (_, at) => stackedHeading(block, at, spanning));
  const own = (at: number): string[] => [
    headings[at],
    ...block.map((row) => (row[at] ?? '').trim()).filter((c) => c !== ''),
  ];
  const roles = headings.map((heading, at) => {
    const said = entryOf(own(at), context.entry);
    return said ? ('role' in said ? said.role : undefined) : roleOfHeading(heading);
  });
  const byTest = roles.includes('test');
  const hasUnitColumn = roles.includes('unit');
  const hasRows = byTest || roles.includes('side');
  const taken = new Map<string, string>();
  const columns = headings.map((heading, at): ColumnPlan => {
    const said = entryOf(own(at), context.entry);
    const plan = said ? enteredColumn(at, heading, said, context, hasUnitColumn) : plainColumn(at, heading);
    const thing = plan.kind === 'role' ? plan.role : plan.kind === 'reading' ? readingKey(plan) : undefined;
    if (thing === undefined) return plan;
    if (taken.has(thing)) {
      return {
        kind: 'rejected',
        at,
        heading,
        code: 'heading_duplicate',
        args: { heading, found: describeColumn(plan) },
      };
    }
    taken.set(thing, heading);
    return plan;
  });

  function plainColumn(at: number, heading: string): ColumnPlan {
    if (heading === '') return { kind: 'rejected', at, heading, code: 'heading_unknown', args: { heading } };
    const role = roleOfHeading(heading);
    if (role === 'status' && !hasRows) return { kind: 'ignored', at, heading, reason: 'status_of_wide_sheet' };
    if (role === 'value' && !byTest) return unknown(at, heading);
    if (role === 'value') return readingColumn(at, heading, {}, context, hasUnitColumn);
    if (role && role !== 'ignore') return { kind: 'role', at, heading, role };
    const readings = readHeading(heading, context.words);
    if (readings.length > 1) {
      const choices = readings.map(describeReading);
      return { kind: 'rejected', at, heading, code: 'heading_ambiguous', args: { heading, choices } };
    }
    if (readings.length === 1) return readingColumn(at, heading, readings[0], context, hasUnitColumn);
    const reason = ignoredHeading(heading);
    if (reason) return { kind: 'ignored', at, heading, reason };
    const qualifier = byTest ? readQualifier(heading) : undefined;
    return qualifier ? readingColumn(at, heading, qualifier, context, hasUnitColumn) : unknown(at, heading);
  }

  function unknown(at: number, heading: string): ColumnPlan {
    const args = { heading, choices: nearestTest(heading, context.words) };
    return { kind: 'rejected', at, heading, code: 'heading_unknown', args };
  }

  const hasAthlete = columns.some((plan) => plan.kind === 'role' && ATHLETE_ROLES.has(plan.role));
  const named = columns.filter((plan) => plan.kind === 'reading' && (plan.measure || plan.compound || byTest));
  const held = columns.filter((plan) => plan.kind === 'rejected' && plan.code !== 'heading_unknown');
  if (!hasAthlete || named.length + held.length === 0) return undefined;
  const score = columns.filter((plan) => plan.kind === 'role' || plan.kind === 'reading').length;
  return { columns, headingRows: [start, start + size - 1], score };
}

function describeColumn(plan: ColumnPlan): string {
  return plan.kind === 'role' ? plan.role : describeReading(plan as ReadingColumn) || 'a reading';
}

function readingKey(plan: ReadingColumn): string {
  return [plan.measure?.name ?? plan.compound?.name ?? '', plan.side ?? '', plan.trial ?? ''].join('\n');
}

/** Finds the heading lines: the first place where an athlete column and something measured stand together. */
function findHeadings(rows: readonly (readonly string[])[], context: RecogniseContext): Draft | undefined {
  for (let start = 0; start < Math.min(rows.length, MOST_TITLE_ROWS); start++) {
    if (rows[start].every(isBlank)) continue;
    let best = draftOf(rows, start, 1, context);
    for (let size = 2; size <= MOST_HEADING_ROWS && start + size <= rows.length; size++) {
      const spanning = spanned(rows[start], Math.max(rows[start].length, rows[start + size - 1].length));
      const above = spanning.map((heading) => readHeading(heading, context.words)[0]);
      const athleteAt = rows[start].findIndex(isAthlete);
      if (!isQualifierRow(rows[start + size - 1], rows[start], above, athleteAt)) break;
      best = draftOf(rows, start, size, context) ?? best;
    }
    if (best) return best;
  }
  return undefined;
}

function decimalEvidence(
  rows: readonly (readonly string[])[],
  draft: Draft,
  delimiter: Delimiter,
): '.' | ',' | undefined {
  let comma = false;
  let point = false;
  const places = draft.columns.filter((plan) => plan.kind === 'reading').map((plan) => plan.at);
  for (const row of rows.slice(draft.headingRows[1] + 1)) {
    for (const at of places) {
      const cell = (row[at] ?? '').trim();
      // In a sheet whose delimiter is the comma, "35,40" may as well be two trials.
      if (delimiter !== ',' && COMMA_DECIMAL.test(cell)) comma = true;
      else if (POINT_DECIMAL.test(cell)) point = true;
    }
  }
  return comma === point ? undefined : comma ? ',' : '.';
}

/**
 * What a sheet's own dates say about their order, and whether any of them leaves it open.
 * @returns order only if all that is unambiguous agrees
 */
export function dateOrderOf(cells: Iterable<string>): SheetPlan['dates'] {
  const seen = new Set<SheetPlan['dates']>();
  for (const cell of cells) {
    const order = dateEvidence(cell.trim());
    if (order) seen.add(order);
    if (seen.size > 1) return undefined;
  }
  return [...seen][0];
}

function layoutOf(draft: Draft): Layout {
  const has = (role: string): boolean => draft.columns.some((plan) => plan.kind === 'role' && plan.role === role);
  if (has('test')) return 'row_a_test';
  if (has('side')) return 'row_a_side';
  return draft.headingRows[1] > draft.headingRows[0] ? 'two_heading_lines' : 'wide';
}

interface Cut {
  readonly rows: readonly (readonly string[])[];
  readonly openQuote?: OpenQuote;
}

/**
 * Why no heading line was found. Cells are repeated only if they are known headings: where there is no heading line, the
 * first cells may well be names.
 */
function headerMissing(cuts: readonly Cut[], { protocol, words }: RecogniseContext): SheetProblem {
  const open = cuts.find(({ openQuote }) => openQuote !== undefined && openQuote.line <= MOST_TITLE_ROWS)?.openQuote;
  if (open) return { code: 'quote_unclosed', args: { found: `on line ${open.line}` } };
  if (cuts.some(({ rows }) => rows.every((row) => row.every(isBlank)))) return { code: 'file_empty', args: {} };
  const cells = cuts.flatMap(({ rows }) => rows.slice(0, MOST_TITLE_ROWS).flat());
  const measured = cells.find((cell) => readHeading(cell, words).length > 0)?.trim();
  const athlete = cells.find(isAthlete)?.trim();
  const found =
    measured === undefined
      ? athlete && `"${athlete}" is there and nothing that is measured`
      : athlete
        ? `"${athlete}" and "${measured}" stand in no line together`
        : `"${measured}" is there and nothing that says who the athlete is`;
  const first = protocol.measures.find((measure) => !measure.derivation);
  const readings = first?.sides === 'each' ? `${first.name} L, ${first.name} R` : first?.name;
  return { code: 'header_missing', args: { found, example: readings && `athlete_id, ${readings}` } };
}

/**
 * Decides how a sheet is read, from its first text. Pure: what it returns is what `ingest` does.
 * @param head the first 64 KB or so of the sheet
 */
export function recognise(head: string, context: RecogniseContext): SheetPlan | SheetProblem {
  const { entry } = context;
  const tried = (entry.delimiter ? [entry.delimiter] : DELIMITERS).map((delimiter) => {
    const { rows, openQuote } = cutRows(head, delimiter);
    return { delimiter, rows, openQuote, draft: findHeadings(rows, context) };
  });
  const found = tried.filter((attempt) => attempt.draft !== undefined);
  if (found.length === 0) return headerMissing(tried, context);
  const most = Math.max(...found.map((attempt) => attempt.draft!.score));
  const best = found.filter((attempt) => attempt.draft!.score === most);
  if (best.length > 1) {
    const names: Record<Delimiter, string> = { ',': 'commas', ';': 'semicolons', '\t': 'tabs' };
    return { code: 'delimiter_unknown', args: { choices: best.map((attempt) => names[attempt.delimiter]) } };
  }
  const { delimiter, rows } = best[0];
  const draft = best[0].draft!;
  const dateAt = draft.columns.find((plan) => plan.kind === 'role' && plan.role === 'date')?.at;
  return {
    delimiter,
    layout: layoutOf(draft),
    headingRows: draft.headingRows,
    columns: draft.columns,
    decimal: entry.decimal ?? decimalEvidence(rows, draft, delimiter),
    dates:
      entry.dates ??
      (dateAt === undefined
        ? undefined
        : dateOrderOf(rows.slice(draft.headingRows[1] + 1).map((row) => row[dateAt] ?? ''))),
  };
}
