import { kindOf } from './blocks.ts';
import type { Readings } from './readings.ts';
import type { Written } from './written.ts';

/** Steps in which devices and hands read, the widest first. */
const STEPS = [10, 5, 2, 1, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005, 0.001];
/** So many of a sheet's readings must lie on the step. */
const SHARE = 0.98;
const CLOSE = 1e-6;

interface Tally {
  readonly first: number;
  readings: number;
  readonly onStep: Float64Array;
}

/** In which steps the readings of a measure were written, sheet by sheet: the widest on which nearly all of them lie. */
export class Steps {
  readonly #readings: Readings;
  readonly #bySheet = new Map<number, number>();
  /** step and readings of the sheet with the most readings of a kind */
  readonly #byKind = new Map<number, { step: number; readings: number }>();

  constructor(readings: Readings, written: Written) {
    this.#readings = readings;
    const tallies = new Map<number, Tally>();
    for (let row = 0; row < readings.length; row++) {
      const key = this.#key(row);
      let tally = tallies.get(key);
      if (tally === undefined) {
        tally = { first: row, readings: 0, onStep: new Float64Array(STEPS.length) };
        tallies.set(key, tally);
      }
      tally.readings++;
      const number = written.number(row);
      for (let at = STEPS.length - 1; at >= 0; at--) {
        const steps = number / STEPS[at];
        if (Math.abs(steps - Math.round(steps)) <= CLOSE) tally.onStep[at]++;
      }
    }
    for (const [key, { first, readings: count, onStep }] of tallies) {
      const at = onStep.findIndex((onIt) => onIt >= SHARE * count);
      const step = Math.abs(written.value(first, STEPS[at < 0 ? STEPS.length - 1 : at]));
      this.#bySheet.set(key, step);
      const kind = kindOf(readings, first);
      const known = this.#byKind.get(kind);
      if (known === undefined || known.readings < count) this.#byKind.set(kind, { step, readings: count });
    }
  }

  #key(row: number): number {
    return kindOf(this.#readings, row) * 1e9 + this.#readings.file[row] + 1;
  }

  /** Step of the sheet that a reading stands in, in the measure's unit. */
  inSheet(row: number): number {
    return this.#bySheet.get(this.#key(row))!;
  }

  /** Step of most readings of a kind, in the measure's unit. */
  ofKind(kind: number): number {
    return this.#byKind.get(kind)?.step ?? 0;
  }
}
