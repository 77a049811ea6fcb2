import type { Protocol } from '../protocol/types.ts';
import { Translator } from '../results/trials.ts';
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

interface Seen {
  left: boolean;
  right: boolean;
  whole: boolean;
  statuses: Set<ObservationStatus>;
  station: string | null;
}

const LEFT = SIDES.indexOf('left');
const RIGHT = SIDES.indexOf('right');

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
  /** athlete_id → by measure index */
  #seen = new Map<string, (Seen | undefined)[]>();

  /** @param season default: the newest one with observations */
  constructor(protocol: Protocol, season?: number) {
    this.season = season ?? 0;
    this.#isFixed = season !== undefined;
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
      const seen = this.#of(athlete_id.get(row) ?? '', index);
      seen.station ??= where;
      seen.statuses.add(OBSERVATION_STATUSES[statuses[status.codes[row]]]);
      if (Number.isNaN(value.values[row])) continue;
      if (sides[side.codes[row]] === LEFT) seen.left = true;
      else if (sides[side.codes[row]] === RIGHT) seen.right = true;
      else seen.whole = true;
    }
  }

  /** Undefined: never seen at it. */
  find(athleteId: string, measure: number): Attendance | undefined {
    return this.#seen.get(athleteId)?.[measure];
  }

  #begin(season: number): void {
    this.season = season;
    this.#seen = new Map();
  }

  #of(athleteId: string, measure: number): Seen {
    const own = this.#seen.get(athleteId) ?? [];
    this.#seen.set(athleteId, own);
    own[measure] ??= { left: false, right: false, whole: false, statuses: new Set(), station: null };
    return own[measure];
  }
}
