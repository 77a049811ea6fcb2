import type { Protocol } from '../protocol/types.ts';
import { Translator } from '../results/trials.ts';
import { Dictionary } from '../tables/dictionary.ts';
import type { Observations } from '../tables/schemas.ts';
import { SIDES } from '../units/sides.ts';
import { OBSERVATION_STATUSES, type ObservationStatus } from '../units/statuses.ts';
import { Habit } from './habit.ts';

/** What was seen of one athlete at one measure in a season. */
export interface Attendance {
  readonly left: boolean;
  readonly right: boolean;
  /** read on both limbs at once, or a measure without sides */
  readonly whole: boolean;
  /** every status that was written */
  readonly statuses: ReadonlySet<ObservationStatus>;
  /** where the athlete was seen first; null: not said */
  readonly station: string | null;
}

const LEFT = SIDES.indexOf('left');
const RIGHT = SIDES.indexOf('right');

/** Bits of one athlete at one measure: what was read, then the statuses, then the station, from 1. */
const READ = { left: 1, right: 2, whole: 4 } as const;
const STATUS_SHIFT = 3;
const STATION_SHIFT = STATUS_SHIFT + OBSERVATION_STATUSES.length;

/**
 * Gathers from batches of observations who was seen at what in a season, where each measure is taken and in which unit it
 * is written. Needs memory by athlete and measure, not by trial.
 */
export class AttendanceBook {
  /** the season that is looked at; 0: there is none yet */
  season: number;
  /** where measures are taken */
  readonly stations: Habit;
  /** UCUM units in which readings are written */
  readonly units: Habit;
  readonly #isFixed: boolean;
  readonly #measures: Translator;
  readonly #statuses = new Translator((text) => OBSERVATION_STATUSES.indexOf(text as never));
  readonly #sides = new Translator((text) => SIDES.indexOf(text as never));
  /** athlete_id → bits by measure index; 0: never seen at it */
  #seen = new Map<string, Int32Array>();
  readonly #measured: number;
  readonly #places = new Dictionary();

  /** @param season default: the newest one with observations */
  constructor(protocol: Protocol, season?: number) {
    this.season = season ?? 0;
    this.#isFixed = season !== undefined;
    this.#measured = protocol.measures.length;
    this.stations = new Habit(protocol.measures.length);
    this.units = new Habit(protocol.measures.length);
    this.#measures = new Translator((text) => protocol.byName.get(text)?.index ?? -1);
  }

  /** Takes in one batch. */
  add(batch: Observations): void {
    const { athlete_id, season, measure, side, value, status, station, written_in } = batch.columns;
    const measures = this.#measures.codes(measure.dictionary);
    const statuses = this.#statuses.codes(status.dictionary);
    const sides = this.#sides.codes(side.dictionary);
    for (let row = 0; row < batch.length; row++) {
      const index = measures[measure.codes[row]] ?? -1;
      if (index < 0) continue;
      const year = season.values[row];
      const where = station.get(row);
      this.stations.add(index, where, year);
      this.units.add(index, written_in.get(row), year);
      if (!this.#isFixed && year > this.season) this.#begin(year);
      if (year !== this.season) continue;
      const own = this.#of(athlete_id.get(row) ?? '');
      own[index] |= 1 << (STATUS_SHIFT + statuses[status.codes[row]]);
      if (where !== null && own[index] >> STATION_SHIFT === 0) {
        own[index] |= (this.#places.code(where) + 1) << STATION_SHIFT;
      }
      if (Number.isNaN(value.values[row])) continue;
      const code = sides[side.codes[row]];
      own[index] |= code === LEFT ? READ.left : code === RIGHT ? READ.right : READ.whole;
    }
  }

  /** Undefined: never seen at it. */
  find(athleteId: string, measure: number): Attendance | undefined {
    const bits = this.#seen.get(athleteId)?.[measure] ?? 0;
    if (bits === 0) return undefined;
    const place = bits >> STATION_SHIFT;
    return {
      left: (bits & READ.left) !== 0,
      right: (bits & READ.right) !== 0,
      whole: (bits & READ.whole) !== 0,
      statuses: new Set(OBSERVATION_STATUSES.filter((_, at) => (bits & (1 << (STATUS_SHIFT + at))) !== 0)),
      station: place === 0 ? null : this.#places.texts[place - 1],
    };
  }

  #begin(season: number): void {
    this.season = season;
    this.#seen = new Map();
  }

  #of(athleteId: string): Int32Array {
    let own = this.#seen.get(athleteId);
    if (own === undefined) {
      own = new Int32Array(this.#measured);
      this.#seen.set(athleteId, own);
    }
    return own;
  }
}
