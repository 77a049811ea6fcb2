import type { Problem } from '../../problems/problem.ts';
import type { Field, Measure, MeasurementError, Protocol, Rule } from '../../protocol/types.ts';
import { semAt } from '../../results/errors.ts';
import { Z95 } from '../../stats/normal.ts';
import { round9 } from '../../stats/round9.ts';
import { multiplier } from '../../units/unit.ts';
import { many, namedAll } from './wording.ts';
import type { YamlPlaces } from './yaml_places.ts';

/** A standard error that is the same at every reading, in the unit, or that is a percentage of the reading. */
type Sem = { readonly unit: number } | { readonly pct: number };

const ANY_READING = 1;

function semOfError(error: MeasurementError): Sem {
  const isPct = error.sem_pct !== undefined || error.mdc_pct !== undefined;
  return isPct ? { pct: 100 * semAt(error, ANY_READING) } : { unit: semAt(error, ANY_READING) };
}

/** The standard error of one reading, as far as it can be said without one. */
function semOf({ error, derivation, unit }: Measure): Sem | undefined {
  if (error !== undefined) return semOfError(error);
  if (derivation === undefined) return undefined;
  const { operator, parts } = derivation;
  const sems = parts.map(semOf);
  if (operator === 'ratio' || operator === 'per' || operator === 'percent_of') {
    const pcts = sems.flatMap((sem) => (sem && 'pct' in sem ? sem.pct : []));
    return pcts.length === parts.length ? { pct: Math.hypot(...pcts) } : undefined;
  }
  const isSum = operator === 'sum' || operator === 'difference' || operator === 'mean';
  if (!isSum || ('asPercentOf' in derivation && derivation.asPercentOf)) return undefined;
  const units = sems.flatMap((sem, at) => (sem && 'unit' in sem ? sem.unit * multiplier(parts[at].unit, unit) : []));
  const count = operator === 'mean' ? parts.length : 1;
  return units.length === parts.length ? { unit: Math.hypot(...units) / count } : undefined;
}

/** Whether results will have an error for a reading of this measure. */
function hasError({ error, derivation }: Measure): boolean {
  if (error !== undefined) return true;
  if (derivation === undefined || derivation.operator === 'total') return false;
  const divisor = 'asPercentOf' in derivation && derivation.asPercentOf ? [derivation.asPercentOf] : [];
  return [...derivation.parts, ...divisor].every(hasError);
}

/** Fields that are zero for an athlete with equal sides. */
const COMPARISONS: ReadonlySet<Field> = new Set([
  'deficit_pct',
  'gap',
  'difference',
  'direction_pct',
  'dominance_pct',
  'dominance_gap',
]);

/** Two-sided 95 % error of a comparison of sides that reads just the limit (statistics, section 1). */
function errorAtLimit({ measure, field, limit }: Rule): number | undefined {
  const size = Math.abs(limit!);
  const declared = measure.errors[field];
  if (declared) return Z95 * semAt(declared, size);
  const sem = semOf(measure);
  if (sem === undefined) return undefined;
  if (!field.endsWith('_pct')) return 'unit' in sem ? Z95 * Math.SQRT2 * sem.unit : undefined;
  return 'pct' in sem ? Z95 * Math.SQRT2 * sem.pct * (1 - size / 100) : undefined;
}

/** Limits that measurement error alone reaches, and measures whose rules cannot say whether it does. */
export function checkErrors({ rules }: Protocol, places: YamlPlaces): Problem[] {
  const limits = rules.filter((rule) => rule.limit !== undefined);
  const unknown = [
    ...new Set(limits.flatMap(({ measure, field }) => (measure.errors[field] || hasError(measure) ? [] : measure))),
  ];
  const inside = limits.flatMap((rule) => {
    if (!COMPARISONS.has(rule.field) || rule.limit === 0) return [];
    const error = errorAtLimit(rule);
    if (error === undefined || round9(Math.abs(rule.limit!)) >= round9(error)) return [];
    const unit = rule.field.endsWith('_pct') ? '%' : rule.measure.unit.code;
    const size = Number(error.toPrecision(2));
    return [{ rule, said: `${rule.name} (${Math.abs(rule.limit!)} in ±${size} ${unit})` }];
  });
  const found: Problem[] = [];
  if (unknown.length > 0) {
    found.push(
      places.problem(
        'note',
        'error_not_declared',
        [unknown[0].derivation ? 'derived' : 'measures', unknown[0].name],
        `${many(unknown.length, 'measure')} without a measurement error, so that their findings say error_unknown: ${namedAll(
          unknown.map(({ name }) => name),
          20,
        )}`,
        'Add error: to a measure, or to those it is worked out from, once you know yours.',
        'key',
      ),
    );
  }
  if (inside.length > 0) {
    const [{ rule }] = inside;
    found.push(
      places.problem(
        'note',
        'limit_within_error',
        ['rules', rule.name, rule.comparator!],
        `${many(inside.length, 'limit')} inside the measurement error: ${namedAll(inside.map(({ said }) => said))}`,
        'A reading near such a limit is within_error: repeat the test before acting on it.',
      ),
    );
  }
  return found;
}
