import type { Measure, Protocol } from '../../protocol/types.ts';
import { isVitalSign } from '../../sheets/row_cells.ts';
import { LENGTH, MASS, NONE } from '../../units/unit.ts';

function partsOf({ derivation }: Measure): readonly Measure[] {
  if (derivation === undefined) return [];
  const whole = 'asPercentOf' in derivation ? derivation.asPercentOf : undefined;
  return whole === undefined ? derivation.parts : [...derivation.parts, whole];
}

/** A vital sign, or a derived measure with one in it: for medical staff alone. */
export function isForMedical(measure: Measure): boolean {
  return isVitalSign(measure) || partsOf(measure).some(isForMedical);
}

const isUnsidedMass = ({ sides, unit }: Measure): boolean => sides === 'none' && unit.dimension === MASS;

/** Made of masses, lengths and counts of the whole body and of nothing else, as an index of mass over height is. */
function isOfBodySize(measure: Measure): boolean {
  const parts = partsOf(measure);
  const { sides, unit } = measure;
  if (parts.length > 0) return parts.every(isOfBodySize);
  return sides === 'none' && [MASS, LENGTH, NONE].includes(unit.dimension);
}

/** A body mass, or a derived measure that tells of one. Strength per kilogram does not: nobody reads a mass from it. */
function tellsBodyMass(measure: Measure): boolean {
  if (isUnsidedMass(measure)) return true;
  return isOfBodySize(measure) && partsOf(measure).some(tellsBodyMass);
}

/** A measure that a coach does not hear of: vital signs and body mass. */
export function isHiddenFromCoach(measure: Measure): boolean {
  return isForMedical(measure) || tellsBodyMass(measure);
}

/** Whether a measure by that name, or one of several joined with ;, is of the kind; remembers each text. */
export function measureTest({ byName }: Protocol, isOfKind: (measure: Measure) => boolean): (names: string) => boolean {
  const known = new Map<string, boolean>();
  return (names) => {
    const before = known.get(names);
    if (before !== undefined) return before;
    const found = names.split(';').some((name) => {
      const measure = byName.get(name);
      return measure !== undefined && isOfKind(measure);
    });
    known.set(names, found);
    return found;
  };
}

/** Names of the rules on measures of the kind. */
export function rulesOn({ rules }: Protocol, isOfKind: (measure: Measure) => boolean): ReadonlySet<string> {
  return new Set(rules.filter((rule) => isOfKind(rule.measure)).map((rule) => rule.name));
}
