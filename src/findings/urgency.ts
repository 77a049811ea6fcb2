import type { Measure, Protocol } from '../protocol/types.ts';
import { URGENCIES, type Urgency } from '../protocol/types.ts';
import { isVitalSign } from '../sheets/row_cells.ts';

/**
 * How soon medical staff see an athlete for a finding: as the rule says, else before training for vital signs and pain,
 * and routinely for the rest. Pain under a vital sign is for now: there the chest or the head hurts.
 * @param rule name of a rule, or of a built-in status finding
 */
export function urgencyOf(rule: string, measure: Measure, protocol: Protocol): Urgency {
  const written = protocol.rules.find(({ name }) => name === rule);
  if (written?.urgency !== undefined) return written.urgency;
  const isPain = written === undefined ? rule === 'pain' : written.status === 'pain';
  if (isVitalSign(measure)) return isPain ? 'now' : 'before_training';
  return isPain ? 'before_training' : 'routine';
}

/** The more urgent of two. */
export function sooner(a: Urgency, b: Urgency): Urgency {
  return URGENCIES.indexOf(a) <= URGENCIES.indexOf(b) ? a : b;
}
