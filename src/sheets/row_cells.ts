import type { Measure } from '../protocol/types.ts';
import { plainNumber } from '../units/numbers.ts';
import { readStatus, saysPain, splitPain } from '../units/statuses.ts';
import { PRESSURE, parseUnit } from '../units/unit.ts';
import type { HeadingReading } from './headings.ts';
import type { ReadingColumn } from './plan.ts';

/** Whether a cell says that it hurt, with a reading or without one; "0 pain" and "no pain" do not. */
export function hurts(text: string): boolean {
  if (readStatus(text) === 'pain' || saysPain(text)) return true;
  const reading = splitPain(text);
  return reading !== undefined && plainNumber(reading) !== 0;
}

/** What a column measures, by itself or as the test of the row says. */
export function measuresOf(column: ReadingColumn, test: HeadingReading | undefined): readonly Measure[] {
  const named = column.measure || column.compound ? column : test;
  if (named?.compound) return named.compound.parts;
  return named?.measure ? [named.measure] : [];
}

const HEART_RATE = parseUnit('/min')!.dimension;

/** Pressure and pulse: a row that is not taken may hide an alarm in them. */
export function isVitalSign({ sides, unit }: Measure): boolean {
  return sides === 'none' && (unit.dimension === PRESSURE || unit.dimension === HEART_RATE);
}
