import { SIDES } from '../../units/sides.ts';
import { kindOf } from './blocks.ts';
import { type Frequencies, frequencies, sheetKey, tieChance } from './chance.ts';
import { addTo } from './lists.ts';
import type { Model } from './model.ts';
import { coded, orderedBy, ranked } from './order.ts';

/** The same readings once more. */
export interface Repeat {
  /** those that are too many: the later ones, or the ones that fit their athlete worse */
  readonly rows: readonly number[];
  /** the first of the readings that they repeat */
  readonly of: number;
  readonly how: 'again' | 'other_athlete' | 'other_day';
}

/** Readings of one athlete on one day in one sheet, or those of them on one line. */
interface Row {
  readonly rows: readonly number[];
  /** −log of the chance that another athlete has the same numbers */
  readonly information: number;
}

/** Fewer readings than this are no row. */
const FEWEST = 3;
/** Rows alike by chance are not to be expected even once in e^4 colleges. */
const MARGIN = 4;
/** A difference in fit, in spreads, that tells the copy from the original. */
const MISFIT = 0.4;
const PEAK = 1 / Math.sqrt(2 * Math.PI);

/** Rows by sheet, athlete and day; the readings of a row by kind, side and trial. */
function orderOf({ readings }: Model): Int32Array {
  const { length, file, athlete, day, side, trial, line, column } = readings;
  return orderedBy(length, [
    coded(file, readings.files.dictionary.size),
    coded(athlete, readings.athletes.dictionary.size),
    ranked(day, length),
    { of: (row) => kindOf(readings, row), size: readings.protocol.measures.length * 2 },
    { of: (row) => side[row], size: SIDES.length },
    ranked(trial, length),
    ranked(line, length),
    ranked(column, length),
  ]);
}

/**
 * Rows that stand twice: the same reading of the same athlete again, all numbers of a row under the id of another athlete,
 * or under another day.
 */
export function repeatedRows(model: Model, isOpen: (row: number) => boolean): Repeat[] {
  const { file, athlete, day } = model.readings;
  const order = orderOf(model);
  const again: number[] = [];
  const rows: Row[] = [];
  const often = frequencies(model.readings);
  for (let from = 0; from < order.length; ) {
    let to = from + 1;
    const first = order[from];
    while (
      to < order.length &&
      file[order[to]] === file[first] &&
      athlete[order[to]] === athlete[first] &&
      day[order[to]] === day[first]
    ) {
      to++;
    }
    const once = withoutRepeats(model, order.subarray(from, to), again).filter(isOpen);
    rows.push(...partsOf(model, once, often));
    from = to;
  }
  return [...linesAgain(model, again.filter(isOpen)), ...copies(model, rows)];
}

/** The readings of a row, each once; what stands there again is put into `again`. Equal ones lie side by side. */
function withoutRepeats(model: Model, rows: Int32Array, again: number[]): number[] {
  const { readings } = model;
  const { value, status, trial, side } = readings;
  const once: number[] = [];
  for (const row of rows) {
    const isRepeat = (other: number): boolean =>
      kindOf(readings, other) === kindOf(readings, row) &&
      side[other] === side[row] &&
      trial[other] === trial[row] &&
      value[other] === value[row] &&
      status[other] === status[row];
    if (once.length > 0 && isRepeat(once[once.length - 1])) again.push(row);
    else once.push(row);
  }
  return once;
}

/** The readings as a whole, and by line where they stand on several; only what holds enough numbers to be a row. */
function partsOf(model: Model, rows: readonly number[], often: ReadonlyMap<number, Frequencies>): Row[] {
  if (rows.length < FEWEST) return [];
  const byLine = new Map<number, number[]>();
  for (const row of rows) {
    addTo(byLine, model.readings.line[row], row);
  }
  const parts = byLine.size > 1 ? [rows, ...byLine.values()] : [rows];
  return parts
    .filter((part) => part.length >= FEWEST)
    .map((part) => ({ rows: part, information: informationOf(model, part, often) }));
}

/** The first reading of a measure is as common as it is in its sheet; the others lie around it. */
function informationOf(model: Model, rows: readonly number[], often: ReadonlyMap<number, Frequencies>): number {
  const { readings } = model;
  let information = 0;
  for (const [at, row] of rows.entries()) {
    const before = rows[at - 1];
    const kind = kindOf(readings, row);
    if (before === undefined || kindOf(readings, before) !== kind) {
      information -= Math.log(tieChance(often.get(sheetKey(readings, row))!));
      continue;
    }
    const { trial, side, isLog } = model.scales[kind];
    const spread = (readings.side[before] === readings.side[row] ? trial : side) || trial || side;
    const step = model.steps.inSheet(row) / (isLog ? Math.abs(readings.value[row]) : 1);
    information -= Math.log(Math.min(1, (step * PEAK) / spread || 1));
  }
  return information;
}

function signatureOf({ readings }: Model, rows: readonly number[]): string {
  const { side, trial, value } = readings;
  return rows.map((row) => `${kindOf(readings, row)} ${side[row]} ${trial[row]} ${value[row]}`).join(';');
}

function copies(model: Model, rows: readonly Row[]): Repeat[] {
  const { file, athlete, day, line } = model.readings;
  const enough = Math.log(Math.max(rows.length, 1)) + MARGIN;
  const known = new Map<string, Row>();
  const told = new Set<number>();
  const repeats: Repeat[] = [];
  for (const row of rows) {
    if (row.information < enough) continue;
    const signature = signatureOf(model, row.rows);
    const other = known.get(signature);
    if (other === undefined) {
      known.set(signature, row);
      continue;
    }
    const [one, two] = [row.rows[0], other.rows[0]];
    const isOther = athlete[one] !== athlete[two];
    const isNear = file[one] === file[two] && Math.abs(line[one] - line[two]) <= 2;
    // Any two rows may be alike by chance; the same athlete twice, or two neighbours, hardly.
    if (isOther && !isNear && row.information < enough + Math.log(rows.length)) continue;
    if (told.has(one) || told.has(two)) continue;
    const [copy, original] = isCopy(model, other, row) ? [other, row] : [row, other];
    for (const at of copy.rows) told.add(at);
    const how = isOther ? 'other_athlete' : day[one] === day[two] ? 'again' : 'other_day';
    repeats.push({ rows: copy.rows, of: original.rows[0], how });
  }
  return repeats;
}

/** Whether one row is the copy and the other the original: it fits its athlete worse, else it stands below. */
function isCopy(model: Model, one: Row, other: Row): boolean {
  const { file, line } = model.readings;
  const [first, second] = [one.rows[0], other.rows[0]];
  const difference = misfit(model, one) - misfit(model, other);
  if (Math.abs(difference) > MISFIT) return difference > 0;
  return file[first] === file[second] ? line[first] > line[second] : file[first] > file[second];
}

/** How badly the readings of a row fit the other days of their athlete, in spreads. */
function misfit(model: Model, { rows }: Row): number {
  let sum = 0;
  let count = 0;
  for (const row of rows) {
    const view = model.view(model.blocks.blockOf[row]);
    const z = view.awayZ(view.rows.indexOf(row));
    if (z === undefined) continue;
    sum += Math.min(Math.abs(z), 5);
    count++;
  }
  return count === 0 ? 1 : sum / count;
}

/** One repeat for each line that stands there again; one for a sheet where most of it does. */
function linesAgain(model: Model, again: readonly number[]): Repeat[] {
  const { file, line } = model.readings;
  const byLine = new Map<string, number[]>();
  for (const row of again) {
    addTo(byLine, `${file[row]} ${line[row]}`, row);
  }
  return [...byLine.values()].map((rows): Repeat => ({ rows, of: rows[0], how: 'again' }));
}
