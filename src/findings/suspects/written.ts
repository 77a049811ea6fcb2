import { round9 } from '../../stats/round9.ts';
import { converter, parseUnit, type Unit } from '../../units/unit.ts';
import type { Readings } from './readings.ts';

interface Writing {
  /** the unit on paper */
  readonly unit: Unit;
  readonly toPaper: (value: number) => number;
  readonly fromPaper: (number: number) => number;
}

const MOST_UNITS = 40_000;

/** Readings as the numbers that hands wrote, in the unit they were written in. */
export class Written {
  readonly #readings: Readings;
  readonly #writings = new Map<number, Writing>();

  constructor(readings: Readings) {
    this.#readings = readings;
  }

  #writing(at: number): Writing {
    const { measure, writtenIn, units } = this.#readings;
    const key = measure[at] * MOST_UNITS + writtenIn[at];
    let writing = this.#writings.get(key);
    if (writing === undefined) {
      const own = this.#readings.measureOf(at).unit;
      const named = parseUnit(units.get(writtenIn[at]) ?? own.code);
      const unit = named?.dimension === own.dimension ? named : own;
      writing = { unit, toPaper: converter(own, unit), fromPaper: converter(unit, own) };
      this.#writings.set(key, writing);
    }
    return writing;
  }

  /** The unit that a reading was written in. */
  unit(at: number): Unit {
    return this.#writing(at).unit;
  }

  number(at: number): number {
    return this.inUnits(at, this.#readings.value[at]);
  }

  /** A value of the measure in the unit that a reading was written in. */
  inUnits(at: number, value: number): number {
    return round9(this.#writing(at).toPaper(value));
  }

  /** A number as a hand may have written it in the place of a reading, in the measure's unit. */
  value(at: number, number: number): number {
    return this.#writing(at).fromPaper(number);
  }
}
