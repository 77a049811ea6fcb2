import type { Measure } from '../protocol/types.ts';
import { FORCE, parseUnit, TORQUE, type Unit } from '../units/unit.ts';
import type { SheetEntry } from './entry.ts';
import type { UnitFrom } from './plan.ts';

/** Unit of a measure as far as a column can tell, and who said so; undefined where none is said and none may be assumed. */
export function unitOfColumn(
  measure: Measure,
  said: Unit | undefined,
  entry: SheetEntry,
): { unit: Unit; from: UnitFrom } | undefined {
  if (said) return { unit: said, from: 'heading' };
  const named = entry.units.get(measure.name);
  if (named !== undefined) return { unit: parseUnit(named)!, from: 'screening' };
  if (measure.writtenIn !== undefined) return { unit: parseUnit(measure.writtenIn)!, from: 'written_in' };
  // Pounds, kilograms and newtons all look alike in a force or torque column: nobody may assume one.
  if (measure.unit.dimension === FORCE || measure.unit.dimension === TORQUE) return undefined;
  return { unit: measure.unit, from: 'protocol' };
}
