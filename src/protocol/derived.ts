import { type Context, labelOf } from './context.ts';
import { derivationOf } from './derivation.ts';
import { betterOf, common, compareOf, naturalUnit } from './derived_defaults.ts';
import { divisorOf, partsOf } from './derived_parts.ts';
import { checkJudged, errorOf, errorsOf } from './judged.ts';
import { OPERATORS, type Operator } from './operators.ts';
import type { DerivedData } from './schema.ts';
import type { Measure } from './types.ts';
import { unitAt } from './written_units.ts';

/** Keys that belong to one operator only. */
const OWN_KEYS = {
  as_percent_of: ['mean'],
  side: ['total'],
  needs: ['total', 'z_mean'],
  within: ['z_mean'],
  min_group: ['z_mean'],
} as const satisfies { [key: string]: readonly Operator[] };

/**
 * A derived measure with its defaults, or undefined if it cannot be worked out.
 * @param earlier measures, and derived measures further up
 * @param all names of all derived measures
 */
export function buildDerived(
  context: Context,
  name: string,
  data: DerivedData,
  earlier: ReadonlyMap<string, Measure>,
  all: ReadonlySet<string>,
): Measure | undefined {
  const path = ['derived', name];
  const operator = operatorOf(context, name, data);
  if (operator === undefined) return undefined;
  checkOwnKeys(context, name, data, operator);
  const parts = partsOf(context, name, data[operator]!, operator, earlier, all);
  if (parts === undefined) return undefined;
  const asPercentOf = divisorOf(context, name, data, parts, earlier);
  const derivation = derivationOf(context, name, data, operator, parts, asPercentOf);
  const natural = naturalUnit(operator, parts, asPercentOf);
  const unit =
    data.unit === undefined
      ? natural
      : natural && unitAt(context.report, [...path, 'unit'], String(data.unit), natural);
  if (unit === undefined) {
    if (natural === undefined) context.report.add(path, `${name} has no unit that can be written`, undefined, 'key');
    return undefined;
  }
  const sided = operator === 'total' ? [] : [...parts, asPercentOf].filter((part) => part?.sides === 'each');
  const better = data.better ?? betterOf(operator, parts);
  const measure: Measure = {
    name,
    index: earlier.size,
    label: labelOf(name, data.label),
    unit,
    sides: sided.length > 0 ? 'each' : 'none',
    dominance: data.dominance ?? common(sided.map((part) => part?.dominance)),
    better,
    compare: data.compare ?? compareOf(operator, sided as Measure[]),
    trials: { keep: better === 'between' ? 'mean' : 'best', expect: 1 },
    plausible: data.plausible,
    error: data.error && errorOf(data.error),
    errors: errorsOf(data),
    headings: [],
    derivation,
  };
  checkJudged(context, path, data, measure);
  return measure;
}

function operatorOf({ report }: Context, name: string, data: DerivedData): Operator | undefined {
  const given = OPERATORS.filter((operator) => data[operator] !== undefined);
  if (given.length === 1) return given[0];
  const said = given.length === 0 ? 'none' : given.join(' and ');
  report.add(
    ['derived', name],
    `${name} needs exactly one operator, and has ${said}`,
    `The operators are ${OPERATORS.join(', ')}.`,
    'key',
  );
  return undefined;
}

function checkOwnKeys({ report }: Context, name: string, data: DerivedData, operator: Operator): void {
  for (const [key, operators] of Object.entries(OWN_KEYS)) {
    if (data[key as keyof typeof OWN_KEYS] === undefined || (operators as readonly string[]).includes(operator))
      continue;
    report.add(
      ['derived', name, key],
      `${name}.${key} goes with ${operators.join(' or ')} only, not with ${operator}`,
      'Take it out.',
      'key',
    );
  }
}
