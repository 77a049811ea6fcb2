import { Failure } from '../problems/failure.ts';
import type { Protocol } from '../protocol/types.ts';
import { PURPOSES } from '../sheets/entry.ts';
import { Dictionary } from '../tables/dictionary.ts';
import type { Observations } from '../tables/schemas.ts';
import { SIDES } from '../units/sides.ts';
import { OBSERVATION_STATUSES } from '../units/statuses.ts';
import { multiplier, parseUnit } from '../units/unit.ts';

export const NONE = SIDES.indexOf('none');
const FIRST_CAPACITY = 1024;

/** Codes of one dictionary in terms of a fixed list; grown as the dictionary grows. */
class Translation {
  readonly #codes: number[] = [];
  readonly #dictionary: Dictionary;
  readonly #find: (text: string) => number;

  constructor(dictionary: Dictionary, find: (text: string) => number) {
    this.#dictionary = dictionary;
    this.#find = find;
  }

  code(code: number): number {
    if (code < 0) return -1;
    for (let at = this.#codes.length; at <= code; at++) this.#codes.push(this.#find(this.#dictionary.texts[at]));
    return this.#codes[code];
  }
}

/**
 * All attempts of all athletes, 26 bytes each in parallel arrays. Dictionaries of the batches are translated once:
 * ingest shares them between its batches.
 */
export class TrialStore {
  length = 0;
  athlete = new Int32Array(FIRST_CAPACITY);
  day = new Int32Array(FIRST_CAPACITY);
  season = new Int16Array(FIRST_CAPACITY);
  /** position in protocol order */
  measure = new Int16Array(FIRST_CAPACITY);
  /** position in SIDES; always none for a measure without sides */
  side = new Int8Array(FIRST_CAPACITY);
  /** position in OBSERVATION_STATUSES */
  status = new Int8Array(FIRST_CAPACITY);
  /** position in PURPOSES */
  purpose = new Int8Array(FIRST_CAPACITY);
  trial = new Int16Array(FIRST_CAPACITY);
  /** in the measure's unit; NaN: none */
  value = new Float64Array(FIRST_CAPACITY);
  readonly athletes = new Dictionary();
  readonly teams = new Dictionary();
  /** athlete and season → team of the first observation */
  readonly #team = new Map<number, number>();
  readonly #protocol: Protocol;
  readonly #translations = new WeakMap<Dictionary, Translation>();

  constructor(protocol: Protocol) {
    this.#protocol = protocol;
  }

  /** Team that the observations give an athlete in a season. */
  team(athlete: number, season: number): string | null {
    const code = this.#team.get(athlete * 10_000 + season);
    return code === undefined || code < 0 ? null : this.teams.texts[code];
  }

  #translate(dictionary: Dictionary, find: (text: string) => number): Translation {
    let translation = this.#translations.get(dictionary);
    if (translation === undefined) {
      translation = new Translation(dictionary, find);
      this.#translations.set(dictionary, translation);
    }
    return translation;
  }

  #reserve(rows: number): void {
    const needed = this.length + rows;
    let capacity = this.athlete.length;
    if (needed <= capacity) return;
    while (capacity < needed) capacity *= 2;
    const grow = <A extends Int32Array | Int16Array | Int8Array | Float64Array>(before: A): A => {
      const after = new (before.constructor as new (length: number) => A)(capacity);
      after.set(before as never);
      return after;
    };
    this.athlete = grow(this.athlete);
    this.day = grow(this.day);
    this.season = grow(this.season);
    this.measure = grow(this.measure);
    this.side = grow(this.side);
    this.status = grow(this.status);
    this.purpose = grow(this.purpose);
    this.trial = grow(this.trial);
    this.value = grow(this.value);
  }

  /**
   * Takes in one batch.
   * @throws Failure 2 if a row does not fit the protocol: only a table of another protocol can hold one
   */
  add(batch: Observations): void {
    this.#reserve(batch.length);
    const { columns } = batch;
    const { measures } = this.#protocol;
    const athletes = this.#translate(columns.athlete_id.dictionary, (text) => this.athletes.code(text));
    const teams = this.#translate(columns.team.dictionary, (text) => this.teams.code(text));
    const names = this.#translate(columns.measure.dictionary, (text) => this.#protocol.byName.get(text)?.index ?? -1);
    const sides = this.#translate(columns.side.dictionary, (text) => SIDES.indexOf(text as never));
    const statuses = this.#translate(columns.status.dictionary, (text) => OBSERVATION_STATUSES.indexOf(text as never));
    const purposes = this.#translate(columns.purpose.dictionary, (text) => PURPOSES.indexOf(text as never));
    for (let row = 0; row < batch.length; row++) {
      const athlete = athletes.code(columns.athlete_id.codes[row]);
      const measure = names.code(columns.measure.codes[row]);
      const status = statuses.code(columns.status.codes[row]);
      let side = sides.code(columns.side.codes[row]);
      if (athlete < 0 || measure < 0 || status < 0 || side < 0) throw foreign(batch, row, athlete, measure, status);
      if (measures[measure].sides === 'none') side = NONE;
      else if (side === NONE) throw foreignSide(batch, row);
      const at = this.length++;
      const season = columns.season.values[row];
      this.athlete[at] = athlete;
      this.day[at] = columns.date.days[row];
      this.season[at] = season;
      this.measure[at] = measure;
      this.side[at] = side;
      this.status[at] = status;
      this.purpose[at] = Math.max(purposes.code(columns.purpose.codes[row]), 0);
      this.trial[at] = columns.trial.values[row];
      this.value[at] = this.#value(batch, row, measure);
      const key = athlete * 10_000 + season;
      if (!this.#team.has(key)) this.#team.set(key, teams.code(columns.team.codes[row]));
    }
  }

  #value(batch: Observations, row: number, measure: number): number {
    const value = batch.columns.value.values[row];
    const { unit } = this.#protocol.measures[measure];
    const { codes, dictionary } = batch.columns.unit;
    const written = codes[row] < 0 ? unit.code : dictionary.texts[codes[row]];
    if (written === unit.code || Number.isNaN(value)) return value;
    const other = parseUnit(written);
    if (other?.dimension !== unit.dimension) {
      throw failure(batch, row, `unit "${written}" does not fit a measure that is kept in ${unit.code}`);
    }
    return value * multiplier(other, unit);
  }
}

function failure(batch: Observations, row: number, message: string): Failure {
  const { columns } = batch;
  return new Failure(2, {
    file: 'observations',
    message: `${message} (athlete ${columns.athlete_id.get(row)}, ${columns.measure.get(row)}, ${columns.date.get(row)})`,
    hint: 'The observations were made with another protocol: read the sheets anew with bilat ingest.',
  });
}

function foreign(batch: Observations, row: number, athlete: number, measure: number, status: number): Failure {
  const { columns } = batch;
  if (athlete < 0) return failure(batch, row, 'a row has no athlete_id');
  if (measure < 0) return failure(batch, row, `measure "${columns.measure.get(row)}" is not in the protocol`);
  if (status < 0) return failure(batch, row, `status "${columns.status.get(row)}" is none of ${OBSERVATION_STATUSES.join(', ')}`);
  return failure(batch, row, `side "${columns.side.get(row)}" is none of ${SIDES.join(', ')}`);
}

function foreignSide(batch: Observations, row: number): Failure {
  return failure(batch, row, 'the measure has two sides, and the row names none');
}
