import type { AthleteBook, AthleteFacts } from '../athletes/book.ts';
import type { Measure, Protocol } from '../protocol/types.ts';
import { NO_DAY } from '../tables/columns.ts';
import { Dictionary } from '../tables/dictionary.ts';
import { type Observations, RESULTS, type Results } from '../tables/schemas.ts';
import { Table } from '../tables/table.ts';
import { SIDES } from '../units/sides.ts';
import { semAt } from './errors.ts';
import { emptyKept, keep, type Slot } from './kept.ts';
import { isTried, type Occasion, occasionsOf } from './occasions.ts';
import { type Operator, operatorOf, type PartReader } from './operators.ts';
import {
  type Attempts,
  type Comparison,
  compareSides,
  type Numbers,
  type RowHead,
  setNumbers,
  WEAKER,
  writeAttempts,
  writeResult,
} from './result_row.ts';
import { STATUS_BIT } from './statuses.ts';
import { TrialStore } from './trials.ts';
import { type OccasionRows, workZMean } from './z_mean.ts';

export interface DeriveOptions {
  /** days after the first within which a day still belongs to an occasion */
  readonly occasionDays: number;
  /** athlete_id → days of injury, ascending */
  readonly injuryDays?: ReadonlyMap<string, readonly number[]>;
}

const LEFT = SIDES.indexOf('left');
const RIGHT = SIDES.indexOf('right');
const BOTH = SIDES.indexOf('both');
const NONE = SIDES.indexOf('none');
/** Rows for which room is made at once. */
const RESERVED_ROWS = 4096;
/** Rows foretold beyond what the attempts so far came to, since athletes differ. */
const MARGIN = 1.02;
const NO_INJURIES: readonly number[] = [];

/**
 * Works out one row an athlete, occasion and measure, derived measures included: kept scores by side, their comparison,
 * their measurement errors and why a number is missing. Rows stand by athlete, first day and protocol order.
 * @param book who belongs where; read only after the last batch
 * @throws Failure 2 if the observations do not fit the protocol
 */
export async function derive(
  observations: AsyncIterable<Observations> | Iterable<Observations>,
  book: AthleteBook,
  protocol: Protocol,
  options: DeriveOptions,
): Promise<Results> {
  const store = new TrialStore(protocol);
  for await (const batch of observations) store.add(batch);
  return new Deriver(store, book, protocol, options).all();
}

class Deriver {
  readonly #store: TrialStore;
  readonly #book: AthleteBook;
  readonly #protocol: Protocol;
  readonly #options: DeriveOptions;
  readonly #results: Results;
  readonly #measured: readonly Measure[];
  readonly #derived: readonly Measure[];
  readonly #operators: readonly (Operator | undefined)[];
  /** derived measures from the first z_mean on that need a group: they are filled in when all rows stand */
  readonly #waiting: ReadonlySet<Measure>;
  readonly #unitCodes: readonly number[];
  readonly #occasions: OccasionRows[] = [];
  /** attempts of the occasion at hand, by measure and side */
  readonly #slots: readonly Slot[];
  readonly #kept = { left: emptyKept(), right: emptyKept(), both: emptyKept(), value: emptyKept() };
  readonly #attempts = {} as Attempts;
  /** measures that the occasion at hand has attempts of, and the last day on which each was tried if that is a later one */
  readonly #present: Uint8Array;
  readonly #later: Int32Array;
  #rows = 0;
  /** attempts of the occasions behind us */
  #attemptsDone = 0;
  readonly #comparison = {} as Comparison;

  constructor(store: TrialStore, book: AthleteBook, protocol: Protocol, options: DeriveOptions) {
    this.#store = store;
    this.#book = book;
    this.#protocol = protocol;
    this.#options = options;
    const unit = new Dictionary(protocol.measures.map((measure) => measure.unit.code));
    this.#results = new Table(RESULTS, {
      athlete_id: new Dictionary([...store.athletes.texts].sort()),
      measure: new Dictionary(protocol.measures.map((measure) => measure.name)),
      unit,
      weaker: new Dictionary(WEAKER),
    });
    this.#unitCodes = protocol.measures.map((measure) => unit.code(measure.unit.code));
    this.#measured = protocol.measures.filter((measure) => measure.derivation === undefined);
    this.#derived = protocol.measures.filter((measure) => measure.derivation !== undefined);
    this.#operators = this.#derived.map(operatorOf);
    this.#waiting = waitingFor(this.#derived);
    this.#present = new Uint8Array(protocol.measures.length);
    this.#later = new Int32Array(protocol.measures.length).fill(NO_DAY);
    this.#slots = protocol.measures.flatMap(() => SIDES.map((): Slot => ({ trials: [], count: 0 })));
  }

  all(): Results {
    const { athletes } = this.#store;
    const byAthlete = this.#byAthlete();
    for (const [code, id] of this.#results.columns.athlete_id.dictionary.texts.entries()) {
      const athlete = athletes.find(id);
      this.#athlete(code, id, athlete, byAthlete(athlete));
    }
    this.#results.truncate(this.#rows);
    this.#fillWaiting();
    return this.#results;
  }

  /** Attempts of each athlete in order of appearance, by a counting sort: one pass, no comparisons. */
  #byAthlete(): (athlete: number) => Int32Array {
    const { length, athlete, athletes } = this.#store;
    const starts = new Int32Array(athletes.size + 1);
    for (let at = 0; at < length; at++) starts[athlete[at] + 1]++;
    for (let at = 1; at < starts.length; at++) starts[at] += starts[at - 1];
    const next = starts.slice();
    const order = new Int32Array(length);
    for (let at = 0; at < length; at++) order[next[athlete[at]]++] = at;
    return (code) => order.subarray(starts[code], starts[code + 1]);
  }

  /** @param code and athlete: the codes of the id in the results and in the store */
  #athlete(code: number, id: string, athlete: number, trials: Int32Array): void {
    const { occasionDays, injuryDays } = this.#options;
    const occasions = occasionsOf(this.#store, trials, occasionDays, injuryDays?.get(id) ?? NO_INJURIES);
    for (const { firstDay, season, trials: own } of occasions) {
      const facts = this.#book.find(id, season);
      const team = facts?.team ?? this.#store.team(athlete, season);
      const { dictionary } = this.#results.columns.team;
      const head = { athlete: code, team: team === null ? -1 : dictionary.code(team), season, day: firstDay };
      this.#occasion(head, own, facts);
    }
  }

  #occasion(head: RowHead, trials: Occasion['trials'], facts: AthleteFacts | undefined): void {
    const store = this.#store;
    const { measure, side, day } = store;
    for (const trial of trials) {
      const slot = this.#slots[measure[trial] * SIDES.length + side[trial]];
      slot.trials[slot.count++] = trial;
      this.#present[measure[trial]] = 1;
      if (day[trial] > head.day && isTried(store, trial)) {
        this.#later[measure[trial]] = Math.max(this.#later[measure[trial]], day[trial]);
      }
    }
    this.#reserve();
    const rows = new Int32Array(this.#protocol.measures.length).fill(-1);
    for (const one of this.#measured) {
      if (this.#present[one.index] === 0) continue;
      rows[one.index] = this.#rows;
      this.#measuredRow(head, one, facts, this.#later[one.index]);
    }
    for (const [at, one] of this.#derived.entries()) this.#derivedRow(head, one, this.#operators[at], rows, facts);
    for (const slot of this.#slots) slot.count = 0;
    this.#present.fill(0);
    this.#later.fill(NO_DAY);
    this.#attemptsDone += trials.length;
    if (this.#waiting.size > 0) this.#occasions.push({ rows });
  }

  /**
   * Makes room for the rows of one more occasion, many occasions at a time: as many as the attempts so far foretell, but
   * no more than double. Room that stays empty is held for every column, and growing by little copies them all often.
   */
  #reserve(): void {
    const most = this.#protocol.measures.length;
    const room = this.#results.length;
    if (this.#rows + most <= room) return;
    const foretold = Math.ceil((this.#rows / Math.max(this.#attemptsDone, 1)) * this.#store.length * MARGIN);
    this.#results.extend(Math.max(most, RESERVED_ROWS, Math.min(foretold, 2 * room) - room));
  }

  #dominant(measure: Measure, facts: AthleteFacts | undefined): 'left' | 'right' | 'both' | null {
    if (measure.dominance === undefined) return null;
    return facts?.dominance[this.#protocol.dominanceColumns.indexOf(measure.dominance)] ?? null;
  }

  #measuredRow(head: RowHead, measure: Measure, facts: AthleteFacts | undefined, laterDay: number): void {
    const { left, right, both, value } = this.#kept;
    const first = measure.index * SIDES.length;
    keep(this.#store, measure, LEFT, this.#slots[first + LEFT], left);
    keep(this.#store, measure, RIGHT, this.#slots[first + RIGHT], right);
    keep(this.#store, measure, BOTH, this.#slots[first + BOTH], both);
    keep(this.#store, measure, NONE, this.#slots[first + NONE], value);
    const { error } = measure;
    const sem = (score: number): number => (error === undefined ? Number.NaN : semAt(error, score));
    let statuses = left.statuses | right.statuses | both.statuses | value.statuses;
    if (laterDay !== NO_DAY) statuses |= STATUS_BIT.later_days;
    const isSided = measure.sides === 'each';
    if (isSided && measure.trials.keep === 'best' && left.count > 0 && right.count > 0 && left.count !== right.count) {
      statuses |= STATUS_BIT.unequal_trials;
    }
    // Only void attempts, or a test that does not apply: no number came of it, and an empty number has its reason.
    if (!isSided && value.count === 0 && statuses === 0) statuses |= STATUS_BIT.not_tested;
    const numbers: Numbers = {
      left: left.score,
      right: right.score,
      both: both.score,
      value: value.score,
      semLeft: sem(left.score),
      semRight: sem(right.score),
      semValue: sem(value.score),
      statuses,
    };
    const attempts = this.#attempts;
    attempts.trialsLeft = left.count;
    attempts.trialsRight = right.count;
    attempts.spreadLeftPct = left.spreadPct;
    attempts.spreadRightPct = right.spreadPct;
    attempts.leastLeft = left.least;
    attempts.mostLeft = left.most;
    attempts.leastRight = right.least;
    attempts.mostRight = right.most;
    attempts.leastValue = value.least;
    attempts.mostValue = value.most;
    attempts.marks = left.marks | right.marks | both.marks | value.marks;
    compareSides(measure, left.score, right.score, both.score, this.#dominant(measure, facts), this.#comparison);
    this.#write(head, measure, numbers);
    this.#results.columns.last_day.days[this.#rows - 1] = Math.max(head.day, laterDay);
    writeAttempts(this.#results, this.#rows - 1, isSided, attempts);
  }

  #write(head: RowHead, measure: Measure, numbers: Numbers): void {
    const row = this.#rows++;
    this.#results.columns.unit.codes[row] = this.#unitCodes[measure.index];
    writeResult(this.#results, row, head, measure, numbers, this.#comparison);
  }

  /** A derived measure has a row where at least one of its parts has one. */
  #derivedRow(
    head: RowHead,
    measure: Measure,
    operator: Operator | undefined,
    rows: Int32Array,
    facts: AthleteFacts | undefined,
  ): void {
    const parts = partsOf(measure, operator);
    if (!parts.some((part) => rows[part.index] >= 0)) return;
    const numbers = unknownNumbers();
    for (const part of parts) if (this.#isLater(rows[part.index])) numbers.statuses |= STATUS_BIT.later_days;
    if (operator && !this.#waiting.has(measure)) operator.work(this.#reader(rows), numbers);
    const dominant = this.#dominant(measure, facts);
    compareSides(measure, numbers.left, numbers.right, Number.NaN, dominant, this.#comparison);
    rows[measure.index] = this.#rows;
    this.#write(head, measure, numbers);
    const { days } = this.#results.columns.last_day;
    const ofParts = parts.map((part) => (rows[part.index] < 0 ? head.day : days[rows[part.index]]));
    days[rows[measure.index]] = Math.max(head.day, ...ofParts);
  }

  #isLater(row: number): boolean {
    return row >= 0 && (this.#results.columns.status.get(row)?.endsWith('later_days') ?? false);
  }

  #reader(rows: Int32Array): PartReader {
    const { columns } = this.#results;
    return (part, side) => {
      const row = rows[part.index];
      if (row < 0) return { value: Number.NaN, sem: Number.NaN };
      if (part.sides === 'none') return { value: columns.value.values[row], sem: columns.sem_value.values[row] };
      return side === 'left'
        ? { value: columns.left.values[row], sem: columns.sem_left.values[row] }
        : { value: columns.right.values[row], sem: columns.sem_right.values[row] };
    };
  }

  /** z_mean, and what is made of it: the group is known only when every row stands. */
  #fillWaiting(): void {
    for (const [at, measure] of this.#derived.entries()) {
      if (!this.#waiting.has(measure)) continue;
      const operator = this.#operators[at];
      const store = (row: number, numbers: Numbers): void => this.#overwrite(row, measure, numbers);
      if (measure.derivation?.operator === 'z_mean') {
        workZMean(measure, measure.derivation, this.#results, this.#occasions, this.#book, this.#protocol, store);
      } else if (operator) {
        for (const { rows } of this.#occasions) {
          if (rows[measure.index] < 0) continue;
          const numbers = unknownNumbers();
          operator.work(this.#reader(rows), numbers);
          store(rows[measure.index], numbers);
        }
      }
    }
  }

  #overwrite(row: number, measure: Measure, numbers: Numbers): void {
    const { columns } = this.#results;
    const facts = this.#book.find(columns.athlete_id.get(row)!, columns.season.values[row]);
    if (this.#isLater(row)) numbers.statuses |= STATUS_BIT.later_days;
    compareSides(measure, numbers.left, numbers.right, Number.NaN, this.#dominant(measure, facts), this.#comparison);
    setNumbers(this.#results, row, numbers, this.#comparison);
  }
}

function partsOf(measure: Measure, operator: Operator | undefined): readonly Measure[] {
  return operator?.parts ?? measure.derivation!.parts;
}

/** z_means, and every derived measure that has one among its parts. */
function waitingFor(derived: readonly Measure[]): Set<Measure> {
  const waiting = new Set<Measure>();
  for (const measure of derived) {
    const { derivation } = measure;
    const divisor = derivation && 'asPercentOf' in derivation ? derivation.asPercentOf : undefined;
    const parts = [...derivation!.parts, ...(divisor ? [divisor] : [])];
    if (derivation!.operator === 'z_mean' || parts.some((part) => waiting.has(part))) waiting.add(measure);
  }
  return waiting;
}

function unknownNumbers(): Numbers {
  return {
    left: Number.NaN,
    right: Number.NaN,
    both: Number.NaN,
    value: Number.NaN,
    semLeft: Number.NaN,
    semRight: Number.NaN,
    semValue: Number.NaN,
    statuses: 0,
  };
}
