import { Failure } from '../problems/failure.ts';
import type { Measure, Protocol } from '../protocol/types.ts';
import { PURPOSES } from '../sheets/entry.ts';
import { NO_DAY } from '../tables/columns.ts';
import { Dictionary } from '../tables/dictionary.ts';
import type { Observations } from '../tables/schemas.ts';
import { SIDES } from '../units/sides.ts';
import { OBSERVATION_STATUSES } from '../units/statuses.ts';
import { convert, parseUnit } from '../units/unit.ts';

export const NONE = SIDES.indexOf('none');
export const NO_NUMBER = 0;
const TEST = PURPOSES.indexOf('test');
const FIRST_CAPACITY = 1024;

/** What the codes of dictionaries mean in terms of a fixed list: each text is looked up once. */
export class Translator {
  readonly #known = new WeakMap<Dictionary, number[]>();
  readonly #find: (text: string) => number;

  constructor(find: (text: string) => number) {
    this.#find = find;
  }

  /** One number for each code of a dictionary, as far as it has grown; -1: not in the list. */
  codes(dictionary: Dictionary): readonly number[] {
    let codes = this.#known.get(dictionary);
    if (codes === undefined) {
      codes = [];
      this.#known.set(dictionary, codes);
    }
    for (let at = codes.length; at < dictionary.size; at++) codes.push(this.#find(dictionary.texts[at]));
    return codes;
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
  /** from 1, or NO_NUMBER */
  trial = new Int16Array(FIRST_CAPACITY);
  /** in the measure's unit; NaN: none */
  value = new Float64Array(FIRST_CAPACITY);
  readonly athletes = new Dictionary();
  readonly teams = new Dictionary();
  /** athlete and season → team of the first observation */
  readonly #team = new Map<number, number>();
  readonly #protocol: Protocol;
  readonly #athletes = new Translator((text) => this.athletes.code(text));
  readonly #teams = new Translator((text) => this.teams.code(text));
  readonly #measures = new Translator((text) => this.#protocol.byName.get(text)?.index ?? -1);
  readonly #sides = new Translator((text) => SIDES.indexOf(text as never));
  readonly #statuses = new Translator((text) => OBSERVATION_STATUSES.indexOf(text as never));
  readonly #purposes = new Translator((text) => PURPOSES.indexOf(text as never));

  constructor(protocol: Protocol) {
    this.#protocol = protocol;
  }

  /** Team that the observations give an athlete in a season. */
  team(athlete: number, season: number): string | null {
    const code = this.#team.get(athlete * 10_000 + season);
    return code === undefined || code < 0 ? null : this.teams.texts[code];
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
    const athletes = this.#athletes.codes(columns.athlete_id.dictionary);
    const teams = this.#teams.codes(columns.team.dictionary);
    const names = this.#measures.codes(columns.measure.dictionary);
    const sides = this.#sides.codes(columns.side.dictionary);
    const statuses = this.#statuses.codes(columns.status.dictionary);
    const purposes = this.#purposes.codes(columns.purpose.dictionary);
    const ownUnits = measures.map(({ unit }) => columns.unit.dictionary.find(unit.code));
    let lastKey = -1;
    for (let row = 0; row < batch.length; row++) {
      const athlete = translated(athletes, columns.athlete_id.codes[row], -1);
      const measure = translated(names, columns.measure.codes[row], -1);
      const status = translated(statuses, columns.status.codes[row], -1);
      const purpose = translated(purposes, columns.purpose.codes[row], TEST);
      const day = columns.date.days[row];
      const season = columns.season.values[row];
      let side = translated(sides, columns.side.codes[row], -1);
      if (measure >= 0 && measures[measure].sides === 'none') side = NONE;
      else if (side === NONE) side = -1;
      if (athlete < 0 || measure < 0 || side < 0 || status < 0 || purpose < 0 || day === NO_DAY || !(season > 0)) {
        throw foreign(batch, row, this.#protocol);
      }
      const at = this.length++;
      this.athlete[at] = athlete;
      this.day[at] = day;
      this.season[at] = season;
      this.measure[at] = measure;
      this.side[at] = side;
      this.status[at] = status;
      this.purpose[at] = purpose;
      this.trial[at] = columns.trial.values[row];
      const unit = columns.unit.codes[row];
      const isOwn = unit < 0 || unit === ownUnits[measure];
      this.value[at] = isOwn ? columns.value.values[row] : converted(batch, row, measures[measure]);
      const key = athlete * 10_000 + season;
      if (key === lastKey) continue;
      lastKey = key;
      if (!this.#team.has(key)) this.#team.set(key, translated(teams, columns.team.codes[row], -1));
    }
  }
}

export function translated(codes: readonly number[], code: number, unknown: number): number {
  return code < 0 ? unknown : codes[code];
}

/** A reading in another unit than the measure's. */
export function converted(batch: Observations, row: number, { unit }: Measure): number {
  const value = batch.columns.value.values[row];
  const written = batch.columns.unit.get(row)!;
  const other = parseUnit(written);
  if (other?.dimension !== unit.dimension) {
    throw failure(batch, row, `unit "${written}" does not fit a measure that is kept in ${unit.code}`);
  }
  return Number.isNaN(value) ? value : convert(value, other, unit);
}

function failure(batch: Observations, row: number, message: string): Failure {
  const { columns } = batch;
  return new Failure(2, {
    file: 'observations',
    message: `${message} (athlete ${columns.athlete_id.get(row)}, ${columns.measure.get(row)}, ${columns.date.get(row)})`,
    hint: 'The observations were made with another protocol: read the sheets anew with bilat ingest.',
  });
}

/** What is wrong with a row that cannot be placed. */
function foreign(batch: Observations, row: number, { byName }: Protocol): Failure {
  const { athlete_id, date, season, measure, side, status, purpose } = batch.row(row);
  if (athlete_id === null) return failure(batch, row, 'a row has no athlete_id');
  if (date === null || season === null) return failure(batch, row, 'a row has no date or no season');
  const name = measure ?? '';
  if (!byName.has(name)) return failure(batch, row, `measure "${name}" is not in the protocol`);
  const notOneOf = (column: string, text: string | null, list: readonly string[]): Failure | undefined =>
    text !== null && list.includes(text)
      ? undefined
      : failure(batch, row, `${column} "${text ?? ''}" is none of ${list.join(', ')}`);
  return (
    notOneOf('status', status, OBSERVATION_STATUSES) ??
    notOneOf('purpose', purpose ?? PURPOSES[TEST], PURPOSES) ??
    notOneOf('side', side, SIDES) ??
    failure(batch, row, 'the measure has two sides, and the row names none')
  );
}
