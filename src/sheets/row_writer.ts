import type { IgnoredReason } from '../problems/ignored.ts';
import type { RejectArgs, RejectCode } from '../problems/rejects.ts';
import type { Measure } from '../protocol/types.ts';
import { trimmed } from './blank.ts';
import { PURPOSES, type SheetEntry } from './entry.ts';
import { columnOfCell, type Frame, lineOfCell } from './frame.ts';
import { NO_ROW, type OpenedRow } from './opened_row.ts';
import type { SheetPlan, TablePlan } from './plan.ts';
import { type Place, pushReject } from './reject_sink.ts';
import type { IngestWorld, RowContext } from './row_context.ts';
import type { RowCorrections } from './row_corrections.ts';
import type { TargetProblem } from './row_targets.ts';
import type { SheetSink } from './sheet_sink.ts';
import type { Target } from './targets.ts';

/** One reading, or why there is none. */
export interface Written {
  readonly measure: Measure;
  /** undefined or a problem: the reading has no value, and so no unit it was written in */
  readonly target: Target | TargetProblem | undefined;
  /** position in SIDES */
  readonly side: number;
  /** as heading, test or row number it; 0: in order of appearance */
  readonly trial: number;
  /** place among the trials of its cell, from 0, and how many these are */
  readonly index: number;
  readonly count: number;
  /** in the measure's unit; NaN: none */
  readonly value: number;
  /** position in OBSERVATION_STATUSES */
  readonly status: number;
  readonly raw: string;
  /** column of the table, from 0 */
  readonly at: number;
}

/** Writes what becomes of the rows of one table: observations, rejects, what is left aside; each with its place. */
export class RowWriter {
  /** the row at hand */
  row: OpenedRow = NO_ROW;
  readonly sink: SheetSink;
  readonly frame: Frame;
  readonly #table: TablePlan;
  readonly #file: string;
  readonly #entry: SheetEntry;
  readonly #world: IngestWorld;
  readonly #context: RowContext;
  readonly #corrections: RowCorrections;
  readonly #decimal: Pick<RejectArgs, 'found' | 'example'>;
  readonly #codes: { readonly file: number; readonly station: number; readonly purpose: number };

  constructor(
    table: TablePlan,
    frame: Frame,
    { file, entry, world, sink }: { file: string; entry: SheetEntry; world: IngestWorld; sink: SheetSink },
    context: RowContext,
    corrections: RowCorrections,
    decimal: SheetPlan['decimal'],
  ) {
    this.#table = table;
    this.#decimal = decimalSaid(decimal, entry);
    this.frame = frame;
    this.#file = file;
    this.#entry = entry;
    this.#world = world;
    this.sink = sink;
    this.#context = context;
    this.#corrections = corrections;
    const { dictionaries } = world;
    this.#codes = {
      file: dictionaries.file.code(file),
      station: entry.station === undefined ? -1 : dictionaries.station.code(entry.station),
      purpose: PURPOSES.indexOf(entry.purpose),
    };
  }

  observation({ measure, target, side, trial, index, count, value, status, raw, at }: Written): void {
    const { sink, frame } = this;
    const { columns } = sink.batch.observations;
    const row = sink.nextRow();
    const context = this.#context;
    const known = target === undefined || 'code' in target ? undefined : target;
    columns.athlete_id.codes[row] = context.athlete;
    columns.team.codes[row] = context.team;
    columns.season.values[row] = context.season;
    columns.date.days[row] = context.day;
    columns.measure.codes[row] = measure.index;
    columns.side.codes[row] = side;
    columns.trial.values[row] = trial
      ? trial + index
      : sink.attempts.next(context.athlete, context.day, measure.index, side, count - 1 - index);
    columns.value.values[row] = value;
    columns.unit.codes[row] = known ? known.unitCode : this.#world.dictionaries.unit.code(measure.unit.code);
    columns.status.codes[row] = status;
    columns.tester.codes[row] = context.tester;
    columns.device.codes[row] = context.device;
    columns.station.codes[row] = this.#codes.station;
    columns.purpose.codes[row] = this.#codes.purpose;
    columns.raw.values[row] = this.#corrections.original(at, raw);
    columns.file.codes[row] = this.#codes.file;
    columns.line.values[row] = lineOfCell(frame, this.row.line, at);
    columns.column.values[row] = columnOfCell(frame, this.row.line, at);
    if (known === undefined || Number.isNaN(value)) return;
    columns.written_in.codes[row] = known.writtenCode;
    columns.unit_from.codes[row] = known.fromCode;
  }

  /**
   * @param at column of the table from 0, or -1 for the row
   * @param cells how many filled cells the reject stands for
   * @param holds readings that go unread with a row, in words
   */
  reject(
    at: number,
    measure: string | undefined,
    code: RejectCode,
    args: RejectArgs,
    cells: number,
    raw: string,
    holds?: string,
  ): void {
    const place = { ...this.place(at, measure), holds };
    this.sink.place(place);
    const said = code === 'number_ambiguous' ? { ...this.#decimalOf(at), ...args } : args;
    pushReject(this.sink.batch.rejects, place, this.#asWritten(at, raw), code, said, cells);
  }

  /** The decimal mark that the sheet, or the rest of the column, shows. */
  #decimalOf(at: number): Pick<RejectArgs, 'found' | 'example'> {
    if (this.#decimal.found !== undefined) return this.#decimal;
    const column = this.#table.columns[at];
    return column?.kind === 'reading' && column.pointed ? { found: 'a point' } : {};
  }

  /** A column that is rejected as a whole, at its heading. */
  rejectColumn(
    headingLine: number,
    at: number,
    code: RejectCode,
    args: RejectArgs,
    cells: number,
    batch: SheetSink['batch'],
  ): void {
    const { heading } = this.#table.columns[at];
    const place = {
      file: this.#file,
      line: lineOfCell(this.frame, headingLine, at),
      column: columnOfCell(this.frame, headingLine, at),
      heading,
      station: this.#entry.station,
    };
    pushReject(batch.rejects, place, heading, code, args, cells);
    this.sink.counts.rejected += cells;
  }

  /** @param at column of the table from 0, or -1 for the row */
  ignored(line: number, at: number, cells: number, reason: IgnoredReason, batch = this.sink.batch): void {
    const { columns } = batch.ignored;
    const { lines } = this.frame;
    const isRow = at < 0;
    columns.file.push(this.#file);
    columns.line.push(isRow && lines ? null : lineOfCell(this.frame, line, at));
    columns.column.push(isRow && !lines ? null : columnOfCell(this.frame, line, at));
    // A title or a footnote across is no heading, and may name somebody.
    const isText = reason === 'title_line' || reason === 'footnote';
    columns.heading.push(isRow || isText ? null : this.#table.columns[at].heading);
    columns.cells.push(cells);
    columns.reason.push(reason);
    this.sink.counts.ignored += cells;
  }

  place(at: number, measure: string | undefined): Place {
    const { line, athlete, season } = this.row;
    return {
      file: this.#file,
      line: lineOfCell(this.frame, line, at),
      column: at < 0 && !this.frame.lines ? undefined : columnOfCell(this.frame, line, at),
      heading: at < 0 ? undefined : this.#table.columns[at]?.heading,
      athleteId: athlete < 0 ? null : this.#world.dictionaries.athlete_id.texts[athlete],
      measure,
      season: season || undefined,
      station: this.#entry.station,
    };
  }

  /** A cell as the sheet has it, whatever a correction or the row above made of it. */
  #asWritten(at: number, raw: string): string {
    const mark = this.row.marks?.[at];
    return mark !== undefined && mark !== this.row.cells[at] ? trimmed(mark) : this.#corrections.original(at, raw);
  }
}

/** The decimal mark in words, and what screening.yaml says of it. */
function decimalSaid(decimal: SheetPlan['decimal'], entry: SheetEntry): Pick<RejectArgs, 'found' | 'example'> {
  if (decimal === undefined) return {};
  const example = entry.decimal === undefined ? undefined : `decimal: "${decimal}"`;
  return { found: decimal === '.' ? 'a point' : 'a comma', example };
}
