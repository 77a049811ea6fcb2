import { median } from '../../stats/simple.ts';
import type { BlockView } from './block_view.ts';
import { LEFT, RIGHT } from './blocks.ts';
import { addTo } from './lists.ts';
import type { Model } from './model.ts';

/** Readings of a measure in a sheet, all or those of some testers, whose sides are exchanged. */
export interface SidesTurned {
  readonly rows: readonly number[];
  /** codes of the testers; none: everybody's readings */
  readonly testers: readonly number[];
  /** how many athletes were compared with other days */
  readonly athletes: number;
  /** log likelihood for sides as they stand against sides exchanged */
  readonly evidence: number;
}

interface Cell {
  readonly file: number;
  readonly measure: number;
  readonly tester: number;
  evidence: number;
  athletes: number;
  readonly rows: number[];
}

/** The two sides of an athlete on a day: right minus left there, and on the other days. */
interface Difference {
  readonly row: number;
  readonly rows: Int32Array;
  readonly here: number;
  readonly elsewhere: number;
}

const FEWEST = 5;
/** exp(8): three thousand to one. */
const ENOUGH = 8;
/** What one athlete can say at most. */
const MOST_EACH = 4;
const MOST_SHEETS = 16;
const FEWEST_TO_LEARN = 20;
/** Variance of a normal number against that of its size: 1 / (1 − 2/π). */
const FOLDED = 2.752;

/**
 * Sheets, and the rows of single testers in them, whose left and right only fit the other days of the same athletes once
 * they are exchanged. With two sheets alone nobody can say which it is: the later one is told.
 */
export function sheetsWithSidesTurned(model: Model): SidesTurned[] {
  const found: SidesTurned[] = [];
  for (let round = 0; round < MOST_SHEETS; round++) {
    const cells = cellsOf(model);
    const sheet = worstSheet(model, cells);
    if (sheet === undefined) break;
    for (const turned of merged(cells, sheet)) {
      found.push(turned);
      exchange(model, turned.rows);
    }
  }
  return found;
}

function* differencesOf(view: BlockView): Generator<Difference> {
  const days: Difference[] = [];
  for (const [at, left] of view.sets.entries()) {
    const right = view.sets[at + 1];
    if (left.side !== LEFT || right?.side !== RIGHT || right.day !== left.day) continue;
    const here = view.middle(right) - view.middle(left);
    if (Number.isNaN(here)) continue;
    days.push({ row: view.rows[left.from], rows: view.rows.subarray(left.from, right.to), here, elsewhere: 0 });
  }
  const total = days.reduce((sum, { here }) => sum + here, 0);
  if (days.length < 2) return;
  for (const day of days) yield { ...day, elsewhere: (total - day.here) / (days.length - 1) };
}

/** Variance of one day's difference about the athlete's own, and how much of a difference stays from day to day. */
interface Lasting {
  readonly error: number;
  readonly stays: number;
}

function lastingOf(differences: readonly Difference[]): Lasting | undefined {
  if (differences.length < FEWEST_TO_LEARN) return undefined;
  const variance = (values: number[]): number => (median(values.map(Math.abs))! / 0.6745) ** 2;
  const whole = variance(differences.map(({ here }) => here));
  const plain = variance(differences.map(({ here, elsewhere }) => here - elsewhere)) / 2;
  // Where most sheets are exchanged against each other only the sizes can be compared; folded, they vary less.
  const folded = variance(differences.map(({ here, elsewhere }) => Math.abs(here) - Math.abs(elsewhere))) / 2;
  const error = Math.min(plain, FOLDED * folded);
  if (!(whole > 0) || !(error > 0)) return undefined;
  return { error, stays: Math.max(0, whole - error) / whole };
}

function cellsOf(model: Model): Cell[] {
  const { readings, blocks } = model;
  const cells = new Map<string, Cell>();
  let measure = -1;
  let differences: Difference[] = [];
  const close = (): void => {
    const lasting = lastingOf(differences);
    if (lasting !== undefined) for (const difference of differences) enter(model, cells, difference, lasting);
    differences = [];
  };
  for (let block = 0; block < blocks.count; block++) {
    const own = readings.measure[blocks.order[blocks.starts[block]]];
    if (own !== measure) close();
    measure = own;
    const { sides, levels } = readings.protocol.measures[own];
    if (sides === 'each' && levels === undefined) differences.push(...differencesOf(model.view(block)));
  }
  close();
  return [...cells.values()];
}

function enter({ readings }: Model, cells: Map<string, Cell>, difference: Difference, { error, stays }: Lasting): void {
  const { file, measure, tester } = readings;
  const { row, rows, here, elsewhere } = difference;
  const key = `${file[row]} ${measure[row]} ${tester[row]}`;
  let cell = cells.get(key);
  if (cell === undefined) {
    cell = { file: file[row], measure: measure[row], tester: tester[row], evidence: 0, athletes: 0, rows: [] };
    cells.set(key, cell);
  }
  const said = (2 * stays * here * elsewhere) / (error * (1 + stays));
  cell.evidence += Math.max(-MOST_EACH, Math.min(MOST_EACH, said));
  cell.athletes++;
  for (const one of rows) cell.rows.push(one);
}

/** The cells of a sheet that speak for an exchange: alone, or together with the other measures of their tester. */
function turnedOf(cells: readonly Cell[]): Cell[] {
  const testers = new Map<number, { evidence: number; athletes: number }>();
  for (const { tester, evidence, athletes } of cells) {
    const known = testers.get(tester) ?? { evidence: 0, athletes: 0 };
    testers.set(tester, { evidence: known.evidence + evidence, athletes: known.athletes + athletes });
  }
  const isEnough = ({ evidence, athletes }: { evidence: number; athletes: number }): boolean =>
    evidence < -ENOUGH && athletes >= FEWEST;
  return cells.filter((cell) => isEnough(cell) || (cell.evidence < 0 && isEnough(testers.get(cell.tester)!)));
}

function worstSheet({ readings }: Model, cells: readonly Cell[]): number | undefined {
  const sheets = new Map<number, Cell[]>();
  for (const cell of cells) addTo(sheets, cell.file, cell);
  let worst: { file: number; evidence: number; day: number } | undefined;
  for (const [file, own] of sheets) {
    const turned = turnedOf(own);
    if (turned.length === 0) continue;
    const evidence = turned.reduce((sum, cell) => sum + cell.evidence, 0);
    const day = readings.day[turned[0].rows[0]];
    const isWorse =
      worst === undefined || (Math.abs(evidence - worst.evidence) < 1e-9 ? day > worst.day : evidence < worst.evidence);
    if (isWorse) worst = { file, evidence, day };
  }
  return worst?.file;
}

/** One for each measure of a sheet, with the testers that it is about. */
function merged(cells: readonly Cell[], file: number): SidesTurned[] {
  const own = cells.filter((cell) => cell.file === file);
  const turned = turnedOf(own);
  return [...new Set(turned.map(({ measure }) => measure))].map((measure) => {
    const some = turned.filter((cell) => cell.measure === measure);
    const isAll = some.length === own.filter((cell) => cell.measure === measure).length;
    return {
      rows: some.flatMap(({ rows }) => rows),
      testers: isAll ? [] : some.map(({ tester }) => tester),
      athletes: some.reduce((sum, { athletes }) => sum + athletes, 0),
      evidence: some.reduce((sum, { evidence }) => sum + evidence, 0),
    };
  });
}

/** Puts left and right of each attempt in the place of the other. */
function exchange(model: Model, rows: readonly number[]): void {
  const { athlete, day, side, trial } = model.readings;
  const lefts = new Map<string, number>();
  for (const row of rows) if (side[row] === LEFT) lefts.set(`${athlete[row]} ${day[row]} ${trial[row]}`, row);
  for (const row of rows) {
    const left = side[row] === RIGHT ? lefts.get(`${athlete[row]} ${day[row]} ${trial[row]}`) : undefined;
    if (left === undefined) continue;
    const value = model.values[left];
    model.values[left] = model.values[row];
    model.values[row] = value;
  }
}
