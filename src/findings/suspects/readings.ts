import type { Measure, Protocol } from '../../protocol/types.ts';
import { converted, NONE, Translator, translated } from '../../results/trials.ts';
import { PURPOSES } from '../../sheets/entry.ts';
import { NO_DAY } from '../../tables/columns.ts';
import { Dictionary } from '../../tables/dictionary.ts';
import type { Observations } from '../../tables/schemas.ts';
import { SIDES } from '../../units/sides.ts';
import { OBSERVATION_STATUSES } from '../../units/statuses.ts';

const FIRST_CAPACITY = 1024;
const TEST = PURPOSES.indexOf('test');

/** Columns of text that are kept as codes into a dictionary of their own; -1 is unknown. */
class Texts {
  readonly dictionary = new Dictionary();
  readonly #translator = new Translator((text) => this.dictionary.code(text));

  codes(dictionary: Dictionary): readonly number[] {
    return this.#translator.codes(dictionary);
  }

  get(code: number): string | null {
    return code < 0 ? null : this.dictionary.texts[code];
  }
}

/**
 * Every reading that has a value, with where it stands, in parallel arrays of 55 bytes a reading. Rows without a value
 * (not tested, unable) are left out; so are rows that do not fit the protocol, which deriving results refuses.
 */
export class Readings {
  length = 0;
  athlete = new Int32Array(FIRST_CAPACITY);
  team = new Int32Array(FIRST_CAPACITY);
  season = new Int16Array(FIRST_CAPACITY);
  day = new Int32Array(FIRST_CAPACITY);
  /** position in protocol order */
  measure = new Int16Array(FIRST_CAPACITY);
  /** position in SIDES; always none for a measure without sides */
  side = new Int8Array(FIRST_CAPACITY);
  /** from 1; 0: not numbered */
  trial = new Int16Array(FIRST_CAPACITY);
  /** in the measure's unit */
  value = new Float64Array(FIRST_CAPACITY);
  /** position in OBSERVATION_STATUSES */
  status = new Int8Array(FIRST_CAPACITY);
  /** position in PURPOSES */
  purpose = new Int8Array(FIRST_CAPACITY);
  tester = new Int32Array(FIRST_CAPACITY);
  device = new Int32Array(FIRST_CAPACITY);
  station = new Int32Array(FIRST_CAPACITY);
  file = new Int32Array(FIRST_CAPACITY);
  /** physical line, from 1; 0: not known */
  line = new Int32Array(FIRST_CAPACITY);
  /** from 1; 0: not known */
  column = new Int32Array(FIRST_CAPACITY);
  /** unit it was written in */
  writtenIn = new Int16Array(FIRST_CAPACITY);

  readonly athletes = new Texts();
  readonly teams = new Texts();
  readonly testers = new Texts();
  readonly devices = new Texts();
  readonly stations = new Texts();
  readonly files = new Texts();
  readonly units = new Texts();
  readonly protocol: Protocol;
  readonly #measures = new Translator((text) => this.protocol.byName.get(text)?.index ?? -1);
  readonly #sides = new Translator((text) => SIDES.indexOf(text as never));
  readonly #statuses = new Translator((text) => OBSERVATION_STATUSES.indexOf(text as never));
  readonly #purposes = new Translator((text) => PURPOSES.indexOf(text as never));

  constructor(protocol: Protocol) {
    this.protocol = protocol;
  }

  measureOf(at: number): Measure {
    return this.protocol.measures[this.measure[at]];
  }

  /** Where a reading stands, as the set of confirmed cells names it. */
  cellKey(at: number): string {
    return `${this.files.get(this.file[at]) ?? ''}\n${this.line[at]}\n${this.column[at]}`;
  }

  #reserve(rows: number): void {
    const needed = this.length + rows;
    let capacity = this.athlete.length;
    if (needed <= capacity) return;
    // Large arrays grow by a quarter, as those of the tables do.
    while (capacity < needed) capacity = Math.ceil(capacity * (capacity < 100_000 ? 2 : 1.25));
    const grow = <A extends Int32Array | Int16Array | Int8Array | Float64Array>(before: A): A => {
      const after = new (before.constructor as new (length: number) => A)(capacity);
      after.set(before as never);
      return after;
    };
    this.athlete = grow(this.athlete);
    this.team = grow(this.team);
    this.season = grow(this.season);
    this.day = grow(this.day);
    this.measure = grow(this.measure);
    this.side = grow(this.side);
    this.trial = grow(this.trial);
    this.value = grow(this.value);
    this.status = grow(this.status);
    this.purpose = grow(this.purpose);
    this.tester = grow(this.tester);
    this.device = grow(this.device);
    this.station = grow(this.station);
    this.file = grow(this.file);
    this.line = grow(this.line);
    this.column = grow(this.column);
    this.writtenIn = grow(this.writtenIn);
  }

  /**
   * Takes in one batch.
   * @throws Failure 2 if a row is in a unit that does not fit its measure
   */
  add(batch: Observations): void {
    this.#reserve(batch.length);
    const { columns } = batch;
    const { measures } = this.protocol;
    const coded = (texts: Texts, column: 'athlete_id' | 'team' | 'tester' | 'device' | 'station' | 'file') => {
      const codes = texts.codes(columns[column].dictionary);
      return (row: number): number => translated(codes, columns[column].codes[row], -1);
    };
    const athlete = coded(this.athletes, 'athlete_id');
    const team = coded(this.teams, 'team');
    const tester = coded(this.testers, 'tester');
    const device = coded(this.devices, 'device');
    const station = coded(this.stations, 'station');
    const file = coded(this.files, 'file');
    const units = this.units.codes(columns.written_in.dictionary);
    const names = this.#measures.codes(columns.measure.dictionary);
    const sides = this.#sides.codes(columns.side.dictionary);
    const statuses = this.#statuses.codes(columns.status.dictionary);
    const purposes = this.#purposes.codes(columns.purpose.dictionary);
    const ownUnits = measures.map(({ unit }) => columns.unit.dictionary.find(unit.code));
    for (let row = 0; row < batch.length; row++) {
      if (Number.isNaN(columns.value.values[row])) continue;
      const measure = translated(names, columns.measure.codes[row], -1);
      const status = translated(statuses, columns.status.codes[row], -1);
      const day = columns.date.days[row];
      const isSideless = measure >= 0 && measures[measure].sides === 'none';
      const side = isSideless ? NONE : translated(sides, columns.side.codes[row], -1);
      const fits = side >= 0 && (isSideless || side !== NONE) && status >= 0 && day !== NO_DAY;
      if (athlete(row) < 0 || measure < 0 || !fits) continue;
      const at = this.length++;
      const unit = columns.unit.codes[row];
      const isOwn = unit < 0 || unit === ownUnits[measure];
      this.athlete[at] = athlete(row);
      this.team[at] = team(row);
      this.season[at] = columns.season.values[row] || 0;
      this.day[at] = day;
      this.measure[at] = measure;
      this.side[at] = side;
      this.trial[at] = columns.trial.values[row] || 0;
      this.value[at] = isOwn ? columns.value.values[row] : converted(batch, row, measures[measure]);
      this.status[at] = status;
      this.purpose[at] = translated(purposes, columns.purpose.codes[row], TEST);
      this.tester[at] = tester(row);
      this.device[at] = device(row);
      this.station[at] = station(row);
      this.file[at] = file(row);
      this.line[at] = columns.line.values[row] || 0;
      this.column[at] = columns.column.values[row] || 0;
      this.writtenIn[at] = translated(units, columns.written_in.codes[row], -1);
    }
  }
}
