import type { AthleteBook } from '../../athletes/book.ts';
import type { Measure } from '../../protocol/types.ts';
import { quantile } from '../../stats/quantile.ts';
import { OBSERVATION_STATUSES } from '../../units/statuses.ts';
import { type AttemptSet, BlockView } from './block_view.ts';
import { Blocks, kindOf, LEFT, RIGHT } from './blocks.ts';
import { addTo } from './lists.ts';
import type { Readings } from './readings.ts';
import { type Distances, isRatioScale, type Scale, scaleOf } from './scale.ts';
import { Steps } from './steps.ts';
import { Written } from './written.ts';

const NO_ROWS: ReadonlySet<number> = new Set();
const FEWEST_USUAL = 10;
/** Of the readings of a measure, what lies between these shares is called usual. */
const USUAL = [0.025, 0.975] as const;

/** Readings with all that they are judged by. What is found to be wrong is left out of it, or put right, as one goes. */
export class Model {
  readonly readings: Readings;
  readonly written: Written;
  readonly steps: Steps;
  readonly blocks: Blocks;
  /** in the measure's unit, as far as known put right; NaN: left out */
  readonly values: Float64Array;
  /** by kind; made anew by `learn` */
  scales: readonly Scale[] = [];
  /** status of a painful reading */
  readonly painful = OBSERVATION_STATUSES.indexOf('pain');
  readonly #book: AthleteBook;
  readonly #sexes = new Map<number, number>();
  readonly #sexCodes = new Map<string | null, number>();
  readonly #isLog: readonly boolean[];

  constructor(readings: Readings, book: AthleteBook) {
    this.readings = readings;
    this.#book = book;
    this.written = new Written(readings);
    this.steps = new Steps(readings, this.written);
    this.blocks = new Blocks(readings);
    this.values = readings.value.slice(0, readings.length);
    const { measures } = readings.protocol;
    const counts = new Float64Array(measures.length);
    const notPositive = new Float64Array(measures.length);
    for (let row = 0; row < readings.length; row++) {
      counts[readings.measure[row]]++;
      if (!(readings.value[row] > 0)) notPositive[readings.measure[row]]++;
    }
    this.#isLog = measures.map((measure, at) => isRatioScale(measure, notPositive[at] / Math.max(1, counts[at])));
  }

  measure(kind: number): Measure {
    return this.readings.protocol.measures[kind >> 1];
  }

  /** Code of the sex of a reading's athlete; unknown has its own. */
  sex(row: number): number {
    const { athlete, season, athletes } = this.readings;
    const key = athlete[row] * 10_000 + season[row];
    let code = this.#sexes.get(key);
    if (code === undefined) {
      const sex = this.#book.find(athletes.get(athlete[row]) ?? '', season[row])?.sex ?? null;
      code = this.#sexCodes.get(sex) ?? this.#sexCodes.size;
      this.#sexCodes.set(sex, code);
      this.#sexes.set(key, code);
    }
    return code;
  }

  toScale(kind: number, value: number): number {
    if (!this.#isLog[kind >> 1]) return value;
    return value > 0 ? Math.log(value) : Number.NaN;
  }

  fromScale(kind: number, x: number): number {
    return this.#isLog[kind >> 1] ? Math.exp(x) : x;
  }

  kindOfRow(row: number): number {
    return kindOf(this.readings, row);
  }

  kindOfBlock(block: number): number {
    return this.kindOfRow(this.blocks.order[this.blocks.starts[block]]);
  }

  view(block: number): BlockView {
    const { side, day } = this.readings;
    const kind = this.kindOfBlock(block);
    const rows = this.blocks.rows(block);
    const scale = this.scales[kind];
    const sets: AttemptSet[] = [];
    const days: number[] = [];
    for (let at = 0; at < rows.length; at++) {
      const before = rows[at - 1];
      if (at > 0 && day[before] === day[rows[at]] && side[before] === side[rows[at]]) continue;
      if (at === 0 || day[before] !== day[rows[at]]) days.push(rows[at]);
      let to = at + 1;
      while (to < rows.length && day[rows[to]] === day[rows[at]] && side[rows[to]] === side[rows[at]]) to++;
      sets.push({ from: at, to, side: side[rows[at]], day: days.length - 1, index: sets.length });
    }
    const xs = Float64Array.from(rows, (row) => this.toScale(kind, this.values[row]));
    const groups = days.map((row) => scale.groups.get(this.sex(row)));
    return new BlockView(rows, xs, sets, groups, scale);
  }

  /** What nearly all readings of a measure lie between, those of a part left out; undefined: there are too few. */
  usual(measure: number, without: ReadonlySet<number> = NO_ROWS): readonly [number, number] | undefined {
    const { readings, values } = this;
    const usual: number[] = [];
    for (let row = 0; row < readings.length; row++) {
      if (readings.measure[row] === measure && !without.has(row) && !Number.isNaN(values[row])) usual.push(values[row]);
    }
    const sorted = Float64Array.from(usual).sort();
    return sorted.length < FEWEST_USUAL ? undefined : [quantile(sorted, USUAL[0])!, quantile(sorted, USUAL[1])!];
  }

  /** Readings that the others are not to be judged by. */
  leaveOut(rows: readonly number[]): void {
    for (const row of rows) this.values[row] = Number.NaN;
  }

  /** Works out how readings usually lie to each other, kind by kind, by what is left in. */
  learn(): void {
    const distances: Distances[] = this.#isLog.flatMap(() => [emptyDistances(), emptyDistances()]);
    const scales: Scale[] = distances.map((_, kind) => this.#scale(kind, emptyDistances()));
    this.scales = scales;
    let kind = -1;
    for (let block = 0; block < this.blocks.count; block++) {
      const next = this.kindOfBlock(block);
      if (next !== kind && kind >= 0) {
        scales[kind] = this.#scale(kind, distances[kind]);
        distances[kind] = emptyDistances();
      }
      kind = next;
      this.#gather(this.view(block), distances[kind]);
    }
    if (kind >= 0) scales[kind] = this.#scale(kind, distances[kind]);
  }

  #scale(kind: number, distances: Distances): Scale {
    return scaleOf(this.measure(kind), this.#isLog[kind >> 1], this.steps.ofKind(kind), distances);
  }

  #gather(view: BlockView, into: Distances): void {
    const last = new Map<number, number>();
    for (const sets of view.days) {
      const middles: number[] = [];
      let left = Number.NaN;
      for (const set of sets) {
        for (let at = set.from + 1; at < set.to; at++) pushKnown(into.trial, view.xs[at] - view.xs[at - 1]);
        const middle = view.middle(set);
        if (Number.isNaN(middle)) continue;
        middles.push(middle);
        pushKnown(into.time, middle - (last.get(set.side) ?? Number.NaN));
        last.set(set.side, middle);
        if (set.side === LEFT) left = middle;
        if (set.side === RIGHT) pushKnown(into.side, left - middle);
      }
      if (middles.length > 0) {
        addTo(into.middles, this.sex(view.rows[sets[0].from]), middles.reduce((a, b) => a + b) / middles.length);
      }
    }
  }
}

function emptyDistances(): Distances {
  return { trial: [], side: [], time: [], middles: new Map() };
}

function pushKnown(list: number[], value: number): void {
  if (!Number.isNaN(value)) list.push(value);
}
