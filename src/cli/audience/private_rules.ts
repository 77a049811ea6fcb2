import { BUILT_IN_STATUSES } from '../../findings/check.ts';
import type { Measure, Protocol } from '../../protocol/types.ts';
import { isForMedical, isHiddenFromCoach, rulesOn } from './private_measures.ts';
import type { Audience } from './who.ts';

/** Names of the rules that judge only whoever had an injury: that one of them speaks of an athlete tells of it. */
export function historyRules({ rules }: Protocol): ReadonlySet<string> {
  return new Set(rules.filter(({ history }) => history !== undefined).map(({ name }) => name));
}

/** Names of the rules on vital signs. */
export const medicalRules = (protocol: Protocol): ReadonlySet<string> => rulesOn(protocol, isForMedical);

/** Says of a finding whether an audience other than a coach, who sees none, may know that it is there. */
export function findingTest(audience: Audience, protocol: Protocol): (rule: string, measure: Measure) => boolean {
  if (audience === 'medical') return () => true;
  const hidden = new Set([...medicalRules(protocol), ...historyRules(protocol)]);
  return (rule, measure) => !hidden.has(rule) && !isForMedical(measure);
}

/** Names of the rules on vital signs, body mass, earlier injuries and pain, the one of every protocol among them. */
export function rulesHiddenFromCoach(protocol: Protocol): ReadonlySet<string> {
  const onPain = protocol.rules.filter(({ status }) => status === 'pain').map(({ name }) => name);
  return new Set(['pain', ...onPain, ...historyRules(protocol), ...rulesOn(protocol, isHiddenFromCoach)]);
}

/**
 * Names of the rules that are not for strength staff in a table that counts by rule. The counts of built-in statuses hold
 * those at vital signs, one_side those of pain and unable beside it, and nobody can take them out again.
 */
export function countsHiddenFromStrength(protocol: Protocol): ReadonlySet<string> {
  const statuses = protocol.measures.some(isForMedical) ? BUILT_IN_STATUSES : [];
  return new Set([...medicalRules(protocol), ...historyRules(protocol), ...statuses]);
}
