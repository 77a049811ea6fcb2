import { yamlLine } from '../protocol/yaml_write.ts';
import { LENGTH, MASS, parseUnit, TORQUE } from '../units/unit.ts';
import { readUnit } from '../units/written.ts';
import { unitOfColumn } from './column_units.ts';
import { nearestTest } from './described.ts';
import type { ColumnEntry, SheetEntry } from './entry.ts';
import { type HeadingReading, type HeadingWords, readHeading, readQualifier } from './headings.ts';
import type { ReadingColumn, RejectedColumn, TablePlan } from './plan.ts';

/** What stands where only the station knows; screening.yaml does not load until it is filled in. */
export const TO_FILL_IN = '…';
const FORCES = ['kgf', '[lbf_av]', 'N'] as const;
/** In the order of the forces: a device that shows pounds for one shows them for the other. */
const TORQUES = ['kgf.m', '[ft_i].[lbf_av]', 'N.m'] as const;
const UNITS_OF: ReadonlyMap<string, readonly string[]> = new Map<string, readonly string[]>([
  [TORQUE, TORQUES],
  [MASS, ['kg', '[lb_av]']],
  [LENGTH, ['cm', '[in_i]']],
]);
const LONGEST_KEY = 200;
/** As a key it would be the place of a column. */
const NUMBERED = /^column\s*\d{1,5}$/i;

/** A column as `columns:` would say it. */
export type SaidColumn = Partial<Record<'measure' | 'side' | 'sides' | 'unit' | 'sign', string>> & { trial?: number };

/** A line for `columns:`. */
export function columnLine(key: string, said: SaidColumn | string): string {
  return yamlLine(key, said);
}

/** What `columns:` says, in the order in which it is written. */
export function saidOf(entry: Exclude<ColumnEntry, { role: unknown }>): SaidColumn {
  const { measure, side, sides, trial, unit, sign } = entry;
  return { measure, side, sides, trial, unit, sign };
}

/** UCUM codes of which one is meant where a column is held back for want of a unit. */
export function unitsAsked({ measure, compound }: ReadingColumn): readonly string[] {
  return UNITS_OF.get((measure ?? compound!.parts[0]).unit.dimension) ?? FORCES;
}

/**
 * Lines for the entry of a sheet of which one settles every column that is held back for want of a unit.
 * @param units what the entry says already
 */
export function unitLines(held: readonly ReadingColumn[], units: ReadonlyMap<string, string>): string[] {
  if (held.length === 0) return [];
  const most = Math.max(...held.map((column) => unitsAsked(column).length));
  const lines = Array.from({ length: most }, (_, at) => {
    const said = new Map(units);
    for (const column of held) {
      const asked = unitsAsked(column);
      said.set((column.measure ?? column.compound!.parts[0]).name, asked[Math.min(at, asked.length - 1)]);
    }
    return yamlLine('units', Object.fromEntries(said)).replace(/^"units"/, 'units');
  });
  return [...new Set(lines)];
}

/** Headings that stand over more than one of these columns, case folded. */
export function repeatedHeadings(columns: readonly { readonly heading: string }[]): Set<string> {
  const seen = new Set<string>();
  const repeated = new Set<string>();
  for (const { heading } of columns) {
    const key = heading.toLowerCase();
    if (seen.has(key)) repeated.add(key);
    seen.add(key);
  }
  return repeated;
}

/** The key under `columns:` that means one column only. */
function keyOf(heading: string, number: number, isRepeated: boolean): string {
  const isNumber = NUMBERED.test(heading);
  return heading === '' || isRepeated || isNumber || heading.length > LONGEST_KEY ? `column ${number}` : heading;
}

function saidBy(reading: HeadingReading, table: TablePlan, entry: SheetEntry): SaidColumn {
  const { measure, compound, side, sides, trial, unit } = reading;
  const isOpen = measure?.sides === 'each' && side === undefined && sides === undefined;
  const rowSays = table.layout === 'row_a_side' || table.layout === 'row_a_test';
  return {
    measure: measure?.name ?? compound?.name,
    side: isOpen && !rowSays ? TO_FILL_IN : side,
    sides,
    trial,
    // What `columns:` does not say of the unit, the heading says no more.
    unit: unit?.code ?? (needsUnit(reading, table, entry) ? TO_FILL_IN : undefined),
  };
}

function needsUnit({ measure, compound }: HeadingReading, { columns }: TablePlan, entry: SheetEntry): boolean {
  const judged = measure ?? compound?.parts[0];
  if (judged === undefined || columns.some((column) => column.kind === 'role' && column.role === 'unit')) return false;
  return unitOfColumn(judged, undefined, entry) === undefined;
}

/** Words of a heading, and what stands in its brackets. */
const WORDS = /\([^()]*\)|\[[^[\]]*\]|[^\s([]+/g;
const MOST_WORDS = 12;
const LONGEST_MENDED = 80;
const COUNT = parseUnit('1')!;

/** Readings of a heading whose name of a measure is misspelled, with what it says of side, trial and unit. */
function mendedReadings(heading: string, words: HeadingWords): readonly HeadingReading[] {
  if (heading.length > LONGEST_MENDED) return [];
  const parts = (heading.match(WORDS) ?? []).slice(0, MOST_WORDS);
  const isName = (part: string): boolean => !/^[([\d]/.test(part) && readQualifier(part) === undefined && !isUnit(part);
  const rest = parts.filter((part) => !isName(part));
  return nearestTest(parts.filter(isName).join(' '), words).flatMap((near) =>
    readHeading([near, ...rest].join(' '), words),
  );
}

function isUnit(part: string): boolean {
  return readUnit(part, COUNT) !== 'unknown';
}

/** Whether a heading seems to say a unit: it must not be lost where `columns:` says what the column holds. */
function mayNameUnit(heading: string): boolean {
  const parts = heading.slice(0, LONGEST_MENDED).match(WORDS) ?? [];
  return parts.slice(0, MOST_WORDS).some((part) => /^[([]/.test(part) || isUnit(part));
}

/**
 * Lines for `columns:` of which one settles a column that is not understood, the likeliest first.
 * @param number column of the sheet, from 1
 * @param isRepeated whether its heading stands over other columns too
 */
export function linesFor(
  column: RejectedColumn,
  number: number,
  isRepeated: boolean,
  table: TablePlan,
  entry: SheetEntry,
  words: HeadingWords,
): string[] {
  const { code, heading, args } = column;
  const key = keyOf(heading, number, isRepeated);
  const ignore = columnLine(key, 'ignore');
  const readings = readHeading(heading, words);
  if (code === 'heading_duplicate') {
    const [reading] = readings;
    if (reading === undefined || column.evidence === 'columns') return [ignore];
    const trials = table.columns.flatMap((other) => {
      const same = other.kind === 'reading' && other.measure === reading.measure && other.side === reading.side;
      return same ? [other.trial ?? 1] : [];
    });
    const trial = Math.max(1, ...trials) + 1;
    return [columnLine(key, { ...saidBy(reading, table, entry), trial }), ignore];
  }
  if (code === 'heading_ambiguous') return readings.map((reading) => columnLine(key, saidBy(reading, table, entry)));
  if (code === 'unit_mismatch') {
    return readings.map((reading) => columnLine(key, { ...saidBy(reading, table, entry), unit: TO_FILL_IN }));
  }
  // The misspelled name alone is mended: what the heading says of side, trial and unit stays.
  const mended = mendedReadings(heading, words);
  const near = (args.choices ?? []).flatMap((choice) => readHeading(choice, words));
  const found = mended.length > 0 ? mended : near;
  const guesses =
    found.length > 0 ? found.map((reading) => saidBy(reading, table, entry)) : [{ measure: TO_FILL_IN } as SaidColumn];
  const open = mayNameUnit(heading) ? TO_FILL_IN : undefined;
  const lines = guesses.map((said) => columnLine(key, { ...said, unit: said.unit ?? open }));
  return [...new Set(lines), ignore];
}

/** Lines that settle a status column beside many tests: it is of the whole row, or of no use. */
export function statusLines(heading: string, number: number, isRepeated: boolean): string[] {
  const key = keyOf(heading, number, isRepeated);
  return [columnLine(key, 'status'), columnLine(key, 'ignore')];
}
