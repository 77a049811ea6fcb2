import { lowBreaks } from '../findings/comparators.ts';
import { urgencyOf } from '../findings/urgency.ts';
import type { Comparator, Field, Protocol, Rule, Urgency } from '../protocol/types.ts';
import { unitText, withUnit } from '../units/unit_text.ts';
import { formulaOf } from './formulas.ts';
import { errorAtLimit, hasError } from './measure_error.ts';
import type { Topic } from './topic.ts';
import { capital, listed, sentence, sentences, shortNumber } from './words.ts';

const FIELD_WORDS: Record<Exclude<Field, 'value' | 'status'>, string> = {
  worse: 'the worse side of',
  deficit_pct: 'the side-to-side deficit of',
  gap: 'the side-to-side gap of',
  difference: 'right minus left of',
  direction_pct: 'right minus left, in percent of the larger side, of',
  dominance_pct: 'dominant minus other side, in percent of the larger side, of',
  dominance_gap: 'dominant minus other side of',
  z: 'the z of',
  change: 'the change of',
};
const LIMIT_WORDS: Record<Comparator, (limit: string) => string> = {
  below: (limit) => `below ${limit}`,
  at_most: (limit) => `${limit} or less`,
  above: (limit) => `above ${limit}`,
  at_least: (limit) => `${limit} or more`,
};
const SIGNS: Record<Comparator, string> = { below: '<', at_most: '<=', above: '>', at_least: '>=' };
const GRADE_WORDS = {
  watch: 'Grade watch: keep an eye on it, and look again at the next test.',
  act: 'Grade act: the athlete gets work for it. Within the measurement error the test is repeated first.',
} as const;
const URGENCY_WORDS: Record<Urgency, string> = { now: 'now', before_training: 'before training', routine: 'routinely' };

const unitOf = ({ measure, field }: Rule): string => {
  if (field.endsWith('_pct')) return '%';
  return field === 'z' ? '1' : measure.unit.code;
};

/** `below 0.8`, `10 % or more`. */
function limitWords(rule: Rule): string {
  const { comparator, limit } = rule;
  if (comparator === undefined || limit === undefined) return '';
  return LIMIT_WORDS[comparator](withUnit(String(limit), unitOf(rule)));
}

const lowered = (label: string): string =>
  /^[A-Z][a-z]/.test(label) ? label[0].toLowerCase() + label.slice(1) : label;

/** What is judged, with its article: `the worse side of hip arc`. */
function judgedWords({ measure, field, of, comparator }: Rule): string {
  const label = lowered(measure.label);
  if (of === 'any_trial') {
    return `the ${comparator && lowBreaks(comparator) ? 'lowest' : 'highest'} single attempt of ${label}`;
  }
  if (field === 'value' || field === 'status') {
    return measure.sides === 'each' ? `${label}, left or right,` : label;
  }
  return `${FIELD_WORDS[field]} ${label}`;
}

function firesWords(rule: Rule): string {
  const { status, measure } = rule;
  if (status === 'pain') return `A finding if any attempt at ${lowered(measure.label)} was painful.`;
  if (status === 'unable') return `A finding if ${lowered(measure.label)} could not be done.`;
  return `A finding if ${judgedWords(rule)} is ${limitWords(rule)}.`;
}

function gradeWords({ name, measure, grade }: Rule, protocol: Protocol): string {
  if (grade !== 'refer') return GRADE_WORDS[grade];
  const soon = URGENCY_WORDS[urgencyOf(name, measure, protocol)];
  return `Grade refer: medical staff see the athlete ${soon}. Measurement error never softens a referral.`;
}

/** `an earlier injury of the groin on the side that is judged, within 365 days`. */
function historyWords({ region, side, withinDays }: NonNullable<Rule['history']>): string {
  const where = side === 'any' ? '' : ' on the side that is judged, or on one that nobody wrote down';
  const when = withinDays === undefined ? '' : `, within ${withinDays === 1 ? '1 day' : `${withinDays} days`}`;
  return `an earlier injury of the region ${region}${where}${when}`;
}

/** To whom the rule applies: those who are given its measure, as far as it is not narrowed. */
function appliesWords({ measure, sex, teams, sportGroups, history }: Rule, protocol: Protocol): string {
  const given = protocol.sportGroups.filter(({ measures }) => measures.includes(measure.name)).map(({ name }) => name);
  const isForAll = protocol.everyone.includes(measure.name);
  const narrowed = [
    sex && `sex ${sex}`,
    teams && `team ${listed(teams, 'or')}`,
    sportGroups && `sport group ${listed(sportGroups, 'or')}`,
    history && historyWords(history),
  ].filter((part) => part !== undefined && part !== '');
  const whom = isForAll
    ? 'It applies to everyone'
    : given.length > 0
      ? `It applies to sport group ${listed(given)}`
      : 'It applies to nobody, as no battery holds its measure';
  return `${whom}${narrowed.length > 0 ? `; only ${listed(narrowed as string[])}` : ''}.`;
}

function programmeWords({ programme, share }: Rule, { programmes }: Protocol): string | undefined {
  const known = programme === undefined ? undefined : programmes.get(programme);
  if (known === undefined) return undefined;
  const shared = share ? ' A whole group may be given it.' : '';
  return `Programme: ${known.name} (${known.label}), of the ${known.owner} staff.${shared}`;
}

function formulaWords(rule: Rule): string {
  const { measure, field, comparator, limit, status, of } = rule;
  const test =
    status === undefined
      ? `${measure.name} ${field} ${comparator ? SIGNS[comparator] : ''} ${limit}`
      : `${measure.name} status ${status}`;
  const judged = of === 'any_trial' ? ' (any single attempt)' : '';
  return [formulaOf(measure), `${test}${judged}`].filter((part) => part !== undefined).join('; ');
}

function errorWords(rule: Rule): string | undefined {
  const { field, grade, status, measure } = rule;
  if (status !== undefined) return undefined;
  const at = errorAtLimit(rule);
  if (at === undefined) {
    return measure.errors[field] !== undefined || hasError(measure)
      ? 'The error depends on the readings, and stands beside each finding.'
      : 'No measurement error is declared for what it judges, so its findings say error_unknown.';
  }
  const amount = shortNumber(at.error);
  const size = field.endsWith('_pct') ? `${amount} points` : withUnit(amount, measure.unit.code);
  const percent = at.symmetricShare === undefined ? undefined : Math.round(100 * at.symmetricShare);
  return sentences(
    `At the limit the 95 % measurement error is ±${size}: nearer to the limit than that a finding is within_error${grade === 'refer' ? ', and is referred all the same' : ''}.`,
    percent !== undefined &&
      `With this error ${percent < 1 ? 'fewer than 1' : `about ${percent}`} % of athletes with two equal sides would read beyond it.`,
  );
}

function cautionWords(rule: Rule): string {
  if (rule.status !== undefined) {
    return 'A word in a cell is as good as the tester who wrote it: ask the athlete. It says where to look, and diagnoses nothing.';
  }
  return sentences(
    rule.region === undefined
      ? 'A limit says little about one athlete: one reading beyond it is a reason to look again, not a diagnosis.'
      : 'A limit predicts little for one athlete: many who break it are never injured, and many who keep it are.',
    errorWords(rule),
  );
}

function seeAlso({ measure, programme, also, grade, history }: Rule, others: readonly string[]): readonly string[] {
  const names = [
    measure.name,
    programme,
    ...also,
    ...others,
    grade,
    grade === 'refer' && 'urgency',
    history && 'history',
  ];
  return [...new Set([...names.filter((name) => typeof name === 'string'), 'certainty'])];
}

function ruleTopic(rule: Rule, protocol: Protocol): Topic {
  const { name, measure, also, region, source, strength, status } = rule;
  const judged = judgedWords(rule);
  const title = status === undefined ? `${judged} ${limitWords(rule)}` : `${measure.label}: ${status}`;
  const others = protocol.rules
    .filter((other) => other !== rule && other.measure === measure)
    .map((other) => other.name);
  const unit = unitText(unitOf(rule));
  return {
    name,
    kind: 'rule',
    title: capital(title),
    definition: sentences(
      firesWords(rule),
      also.length > 0 && `Only together with ${listed(also)}.`,
      gradeWords(rule, protocol),
      appliesWords(rule, protocol),
      region && `Region: ${region}.`,
      programmeWords(rule, protocol),
    ),
    formula: formulaWords(rule),
    unit: status === undefined && unit !== '' ? unit : undefined,
    source: sentences(
      source === undefined ? 'None is given in the protocol.' : sentence(source),
      `Evidence: ${strength === undefined ? 'the protocol does not say how strong it is.' : sentence(strength)}`,
    ),
    caution: cautionWords(rule),
    where: 'The protocol, under rules; findings and cohort in the column rule.',
    see: seeAlso(rule, others),
  };
}

/** Topics of the rules of a protocol. */
export function ruleTopics(protocol: Protocol): readonly Topic[] {
  return protocol.rules.map((rule) => ruleTopic(rule, protocol));
}
