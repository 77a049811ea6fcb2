import type { Unit } from '../units/unit.ts';
import { unitText } from '../units/unit_text.ts';
import { readUnit } from '../units/written.ts';
import { isFilled } from './blank.ts';
import { withMixedUnits } from './evidence.ts';
import type { ColumnPlan, ReadingColumn, TablePlan } from './plan.ts';

type Rows = readonly (readonly string[])[];

/** A title has no more filled cells than these, a line among the rows has one. */
const MOST_TITLE_CELLS = 2;
const LONGEST_CELL = 400;
const MOST_UNITS = 20;
const MOST_CELLS_OF_UNITS = 200;
const LONGEST_UNIT = 20;
const PLAIN = 'lbs?|pounds?|kgs?|kilos?|kilograms?|newtons|inch|inches|cms?|centimet(?:re|er)s?|ft';
/** N/kg, N.m and words that hold these letters are none. */
const UNIT_WORD = new RegExp(`(?<![\\p{L}\\d/·])(?:${PLAIN})(?![\\p{L}\\d/·*^]|[.-]\\p{L}| ?=)`, 'giu');
/** What may be something else (a preposition, a number of athletes, feet on a line) counts in brackets or behind "in". */
const MARKED_WORD =
  /\((N|in|feet)\.?\)|\b(?:in|are|is) (N|in|feet)(?![\p{L}\d/·*^]|[.-]\p{L}| ?=)|\b(feet) (?:and|&) inches/gu;
const ALONE = /^(N|in|feet)\.?$/;
/** 20 kg is a quantity, not a unit of the columns. */
const NUMBER_BEFORE = /\d\s*$/;
const LOOKED_BACK = 12;
const ROLES_OF_ROW: ReadonlySet<string> = new Set(['test', 'unit']);
/** Newton, Pound and Foot are family names as well. */
const TWO_WORDS_OF_NAME = /^\p{Lu}[\p{Ll}'’-]{1,40}\.?,? \p{Lu}[\p{Ll}'’-]{1,40}$/u;

/**
 * The units that lines of a sheet speak of, as written: `all weights in pounds`. Quantities (`20 kg`) do not count.
 * @param above the rows above the headings; those of one or two cells count, and lines of units
 * @param below the rows below them; those of one cell count
 */
export function unitsSpokenOf(above: Rows, below: Rows): string[] {
  const lines = [
    ...above.map((row) => row.filter(isFilled)).filter((cells) => cells.length <= MOST_TITLE_CELLS || areUnits(cells)),
    ...below.flatMap((row) => {
      const cells = row.filter(isFilled);
      return cells.length === 1 && !TWO_WORDS_OF_NAME.test(cells[0].slice(0, LONGEST_CELL).trim()) ? [cells] : [];
    }),
  ];
  const units = new Set<string>();
  for (const cells of lines) {
    for (const cell of cells) {
      for (const unit of unitWordsOf(cell)) units.add(unit);
      if (units.size >= MOST_UNITS) return [...units];
    }
  }
  return [...units];
}

/** Units above the headings that nobody can set to their columns: most of the cells name one. */
function areUnits(cells: readonly string[]): boolean {
  if (cells.length > MOST_CELLS_OF_UNITS || cells.some((cell) => cell.length > LONGEST_UNIT)) return false;
  return cells.filter((cell) => unitWordsOf(cell).length > 0).length * 2 >= cells.length;
}

function unitWordsOf(cell: string): string[] {
  // Cut off in the middle, a word could become a unit.
  const text = cell.length > LONGEST_CELL ? cell.slice(0, LONGEST_CELL).replace(/\S*$/, '') : cell.trim();
  const words = [...text.matchAll(UNIT_WORD)].flatMap(({ 0: word, index }) =>
    NUMBER_BEFORE.test(text.slice(Math.max(0, index - LOOKED_BACK), index)) ? [] : [word],
  );
  const marked = [...text.matchAll(MARKED_WORD)].map(([, bracketed, behind, feet]) => bracketed ?? behind ?? feet);
  return [...words, ...marked, ...(ALONE.exec(text)?.slice(1) ?? [])];
}

/**
 * Tables in which a column is held back if nobody says its unit and a line of the sheet speaks of another one of its kind.
 * @param units as `unitsSpokenOf` gives them
 * @param below rows below the headings: cells that name their unit are read all the same
 */
export function heldByLines(tables: readonly TablePlan[], units: readonly string[], below: Rows): readonly TablePlan[] {
  if (units.length === 0) return tables;
  return tables.map((table) => {
    const byRow = table.columns.some((column) => column.kind === 'role' && ROLES_OF_ROW.has(column.role));
    // Where rows say test or unit, those that leave the unit open are refused one by one.
    if (byRow) return { ...table, unitsInColumn: [...table.unitsInColumn, ...units] };
    const rows = below.map((row) => row.slice(table.from, table.from + table.columns.length));
    return { ...table, columns: table.columns.map((column) => heldColumn(column, units, rows)) };
  });
}

function heldColumn(column: ColumnPlan, units: readonly string[], rows: Rows): ColumnPlan {
  if (column.kind !== 'reading' || column.measure === undefined || column.unit === undefined) return column;
  if (column.alsoIn !== undefined) return column;
  if (column.unitFrom !== 'protocol' && column.unitFrom !== 'written_in') return column;
  const other = otherUnit(units, column.measure.unit, column.unit);
  if (other === undefined) return column;
  const { at, heading, evidence, measure } = column;
  const held: ReadingColumn = { ...column, unit: undefined, unitFrom: undefined };
  const found = `a line of the sheet speaks of "${unitText(other.code)}"`;
  const args = { heading, raw: heading, measure: measure.label, found, example: `{${measure.name}: "${other.code}"}` };
  const [plan] = withMixedUnits(rows, [{ kind: 'rejected', at, heading, evidence, code: 'unit_unknown', args, held }]);
  return plan;
}

/** The first of the units that is of the wanted dimension and not the one that the column would be read in. */
function otherUnit(units: readonly string[], wanted: Unit, own: Unit): Unit | undefined {
  for (const written of units) {
    const unit = readUnit(written, wanted);
    if (unit !== 'unknown' && unit.dimension === wanted.dimension && unit.factor !== own.factor) return unit;
  }
  return undefined;
}
