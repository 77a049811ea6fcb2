import { type Context, named } from './context.ts';
import { fieldTrouble } from './fields.ts';
import { didYouMean } from './nearest.ts';
import { isNotYet } from './not_yet.ts';
import type { RuleData } from './schema.ts';
import type { Comparator, Field, Measure, Programme, Rule, SportGroup } from './types.ts';

const COMPARATORS = ['below', 'at_most', 'above', 'at_least'] as const satisfies readonly Comparator[];

/** Fields that compare the sides of one athlete: work for them is the athlete's own. */
const SIDE_FIELDS: ReadonlySet<Field> = new Set([
  'deficit_pct',
  'gap',
  'difference',
  'direction_pct',
  'dominance_pct',
  'dominance_gap',
  'status',
]);

const RECORDED_SEX: ReadonlyMap<string, string> = new Map([
  ...['f', 'female', 'w', 'woman', 'women'].map((word) => [word, 'F'] as const),
  ...['m', 'male', 'man', 'men'].map((word) => [word, 'M'] as const),
]);

/** What rules may refer to. */
export interface RuleWorld {
  readonly measures: ReadonlyMap<string, Measure>;
  readonly programmes: ReadonlyMap<string, Programme>;
  readonly sportGroups: ReadonlyMap<string, SportGroup>;
  readonly rules: ReadonlyMap<string, RuleData>;
}

/** A rule with its defaults, or undefined if it cannot be judged. */
export function buildRule(
  context: Context,
  name: string,
  data: RuleData,
  index: number,
  world: RuleWorld,
): Rule | undefined {
  const { report } = context;
  const path = ['rules', name];
  checkReferences(context, name, data, world);
  if (refusedForNow(context, name, data)) return undefined;
  const measure = named(context, [...path, 'measure'], data.measure, world.measures, 'measure');
  const field = fieldOf(context, name, data);
  const test = field && testOf(context, name, data);
  if (measure === undefined || field === undefined || test === undefined) return undefined;
  const missing = fieldTrouble(measure, field);
  if (missing) report.add([...path, data.field ? 'field' : 'measure'], `rule ${name}: ${missing}`, fieldHint(measure));
  if (field === 'status' && measure.derivation) {
    report.add(
      [...path, 'measure'],
      `rule ${name} asks for a status of ${measure.name}, which is worked out and never attempted`,
      `Write the rule for its parts: ${measure.derivation.parts.map((part) => part.name).join(', ')}.`,
    );
  }
  checkAnyTrial(context, name, data, measure, field);
  checkSex(context, name, data);
  checkUrgency(context, name, data);
  return {
    name,
    index,
    measure,
    field,
    ...test,
    of: data.of,
    grade: data.grade,
    also: data.also,
    sex: data.sex,
    teams: data.teams,
    sportGroups: data.sport_groups,
    history: historyOf(data),
    share: shareOf(data, field),
    urgency: data.urgency,
    region: data.region,
    programme: data.programme,
    source: data.source,
    strength: data.strength,
  };
}

function shareOf({ share }: RuleData, field: Field): boolean {
  if (share === undefined) return !SIDE_FIELDS.has(field);
  return share === true || share === 'yes';
}

function historyOf({ history }: RuleData): Rule['history'] {
  return history && { region: history.region, side: history.side, withinDays: history.within_days };
}

function checkUrgency({ report }: Context, name: string, { urgency, grade }: RuleData): void {
  if (urgency === undefined || grade === 'refer') return;
  report.add(
    ['rules', name, 'urgency'],
    `rule ${name} has an urgency, and its grade is ${grade}: only referrals are more or less urgent`,
    'Take it out, or write grade: refer.',
    'key',
  );
}

function fieldHint({ sides }: Measure): string {
  return sides === 'none'
    ? 'Write field: value.'
    : 'Write another field, or change how the measure compares its sides.';
}

function refusedForNow({ report }: Context, name: string, { field }: RuleData): boolean {
  if (field === undefined || !isNotYet(field)) return false;
  report.add(
    ['rules', name, 'field'],
    `rule ${name} uses field: ${field}, which this version cannot judge yet`,
    'Take the rule out, or keep it in a comment until then.',
  );
  return true;
}

function fieldOf({ report }: Context, name: string, data: RuleData): Field | undefined {
  const at = ['rules', name, 'field'];
  for (const [key, field] of [
    ['from', 'change'],
    ['within', 'z'],
  ] as const) {
    if (data[key] === undefined || data.field === field) continue;
    report.add(
      ['rules', name, key],
      `rule ${name} has ${key}, which goes with field: ${field} only`,
      'Take it out.',
      'key',
    );
  }
  if (data.status !== undefined && data.field !== undefined && data.field !== 'status') {
    report.add(at, `rule ${name} has a status and field: ${data.field}`, 'Take the field out.');
    return undefined;
  }
  if (data.status === undefined && data.field === 'status') {
    report.add(at, `rule ${name} has field: status and does not say which`, 'Add status: pain or status: unable.');
    return undefined;
  }
  return data.status === undefined ? (data.field ?? 'value') : 'status';
}

function testOf(
  { report }: Context,
  name: string,
  data: RuleData,
): Pick<Rule, 'comparator' | 'limit' | 'status'> | undefined {
  const given = [...COMPARATORS, 'status' as const].filter((key) => data[key] !== undefined);
  if (given.length !== 1) {
    report.add(
      given.length > 1 ? ['rules', name, given[1]] : ['rules', name],
      `rule ${name} needs exactly one of ${COMPARATORS.join(', ')} or status, and has ${given.length === 0 ? 'none' : given.join(' and ')}`,
      undefined,
      'key',
    );
    return undefined;
  }
  const [key] = given;
  return key === 'status' ? { status: data.status } : { comparator: key, limit: data[key] };
}

function checkAnyTrial({ report }: Context, name: string, data: RuleData, measure: Measure, field: Field): void {
  if (data.of !== 'any_trial') return;
  const at = ['rules', name, 'of'];
  if (field !== 'value' && field !== 'worse') {
    report.add(at, `rule ${name} has of: any_trial, which goes with field: value or worse only`, 'Take it out.');
  } else if (measure.derivation) {
    report.add(
      at,
      `rule ${name} has of: any_trial, and ${measure.name} is worked out from kept readings`,
      'Take it out.',
    );
  }
}

function checkSex({ report }: Context, name: string, { sex }: RuleData): void {
  const recorded = sex && RECORDED_SEX.get(sex.toLowerCase());
  if (!recorded || recorded === sex) return;
  report.add(['rules', name, 'sex'], `rule ${name}: sex "${sex}" is kept as ${recorded}`, `Write sex: ${recorded}.`);
}

function checkReferences(context: Context, name: string, data: RuleData, world: RuleWorld): void {
  const path = ['rules', name];
  for (const [at, other] of data.also.entries()) {
    const place = [...path, 'also', at];
    if (other === name) context.report.add(place, `rule ${name} names itself under also`, 'Take it out.');
    else named(context, place, other, world.rules, 'rule');
  }
  for (const [at, group] of (data.sport_groups ?? []).entries()) {
    named(context, [...path, 'sport_groups', at], group, world.sportGroups, 'sport group');
  }
  if (data.programme !== undefined && !world.programmes.has(data.programme) && !context.broken.has(data.programme)) {
    context.report.add(
      [...path, 'programme'],
      `there is no programme ${data.programme}`,
      world.programmes.size === 0
        ? 'Describe it under programmes.'
        : didYouMean(data.programme, world.programmes.keys()),
    );
  }
}
