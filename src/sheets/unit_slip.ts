import { round9 } from '../stats/round9.ts';
import { FORCE, LENGTH, MASS, PRESSURE, parseUnit, type Unit } from '../units/unit.ts';

/** What a slip of the factor 10 is called. */
export const DECIMAL_POINT = 'a decimal point';
const RATE = parseUnit('/min')!.dimension;

interface Slip {
  /** the reading is so many times too large (or, the other way round, too small) */
  readonly factor: number;
  readonly between: string;
  readonly dimension?: string;
  /** dimensions to which it does not apply */
  readonly never?: readonly string[];
}

/** Ratios by which a reading is off when it was written in another unit; NIST SP 811, and a slipped decimal point. */
const SLIPS: readonly Slip[] = [
  { factor: 1 / 0.45359237, between: 'pounds and kilograms', dimension: MASS },
  { factor: 1 / 0.45359237, between: 'pounds and kilograms', dimension: FORCE },
  { factor: 9.80665, between: 'newtons and kilograms', dimension: FORCE },
  { factor: 4.4482216152605, between: 'newtons and pounds', dimension: FORCE },
  { factor: 2.54, between: 'centimetres and inches', dimension: LENGTH },
  { factor: 12, between: 'inches and feet', dimension: LENGTH },
  { factor: 100, between: 'centimetres and metres', dimension: LENGTH },
  { factor: 30.48, between: 'centimetres and feet', dimension: LENGTH },
  // Pressure and pulse are read as whole numbers: there is no point to slip, and 12 for 120 must not look mended.
  { factor: 10, between: DECIMAL_POINT, never: [PRESSURE, RATE] },
];

export interface SlipReading {
  /** in the measure's unit */
  readonly value: number;
  readonly between: string;
}

/** The ratios that a reading in this unit may be off by. */
export function slipFactors(unit: Unit): readonly { readonly factor: number; readonly between: string }[] {
  return SLIPS.filter(
    ({ dimension, never }) =>
      (dimension === undefined || dimension === unit.dimension) && !never?.includes(unit.dimension),
  );
}

/** Values that lie within the limits again if the reading was written in another unit, or lost its decimal point. */
export function unitSlips(value: number, unit: Unit, limits: readonly [number, number]): SlipReading[] {
  const found: SlipReading[] = [];
  for (const { factor, between } of slipFactors(unit)) {
    for (const other of [value / factor, value * factor]) {
      if (other >= limits[0] && other <= limits[1]) found.push({ value: round9(other), between });
    }
  }
  return found;
}
