import type { Measure } from '../protocol/types.ts';
import { converter, LENGTH, type Unit } from '../units/unit.ts';
import type { UnitFrom } from './plan.ts';
import type { ObservationDictionaries } from './sheet_tables.ts';

/** A measure with the unit in which a column or row writes it: all that reading a cell needs, worked out once. */
export interface Target {
  readonly measure: Measure;
  /** from the written unit to the measure's */
  readonly convert: (value: number) => number;
  readonly writtenIn: Unit;
  /** who named that unit */
  readonly from: UnitFrom;
  /** nobody has named a unit: only a cell that names its own can be read */
  readonly needsUnit: boolean;
  /** a standing height, for which 5.11 and 5-11 are feet and inches */
  readonly bodyHeight: boolean;
  /** written in feet, where 5.11 may be 5 ft 11 in */
  readonly bodyHeightInFeet: boolean;
  readonly length: boolean;
  readonly unitCode: number;
  readonly writtenCode: number;
  readonly fromCode: number;
}

const METRES_OF_A_PERSON = [0.9, 2] as const;

/** Whether a measure is a standing height, by its limits. */
export function isBodyHeight(measure: Measure): boolean {
  if (measure.unit.dimension !== LENGTH || measure.plausible === undefined || measure.sides !== 'none') return false;
  const [low, high] = measure.plausible.map((limit) => limit * measure.unit.factor);
  return low >= METRES_OF_A_PERSON[0] && high >= METRES_OF_A_PERSON[1];
}

/** Makes targets, each only once. */
export class Targets {
  readonly #known = new Map<string, Target>();
  readonly #dictionaries: ObservationDictionaries;

  constructor(dictionaries: ObservationDictionaries) {
    this.#dictionaries = dictionaries;
  }

  of(measure: Measure, unit: Unit, from: UnitFrom, needsUnit = false): Target {
    const key = `${measure.index} ${from} ${unit.code}${needsUnit ? ' !' : ''}`;
    let target = this.#known.get(key);
    if (target === undefined) {
      target = {
        measure,
        convert: converter(unit, measure.unit),
        writtenIn: unit,
        from,
        needsUnit,
        bodyHeight: isBodyHeight(measure),
        bodyHeightInFeet: unit.code === '[ft_i]' && isBodyHeight(measure),
        length: measure.unit.dimension === LENGTH,
        unitCode: this.#dictionaries.unit.code(measure.unit.code),
        writtenCode: this.#dictionaries.written_in.code(unit.code),
        fromCode: this.#dictionaries.unit_from.code(from),
      };
      this.#known.set(key, target);
    }
    return target;
  }
}
