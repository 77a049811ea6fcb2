import type { Protocol } from '../../protocol/types.ts';
import type { PLAN, Plan } from '../../tables/schemas.ts';
import type { RowOf } from '../../tables/table.ts';
import { rewritten } from './edit.ts';
import { isForMedical, measureTest } from './private_measures.ts';
import { historyRules, medicalRules } from './private_rules.ts';

type PlanRow = RowOf<typeof PLAN>;

const MEDICAL_STAFF_SEE = 'Medical staff see the athlete.';
const MEDICAL_STAFF_DECIDE = 'Medical staff decide.';
const HOLD = 'Hold until medical staff say so.';
/** What the plan says of when; nothing else of such an instruction is for strength staff. */
const WHEN = /Medical staff see the athlete(?: now| before training| routinely)?\./;

/**
 * The plan for strength staff. Of lines that are for medical staff it keeps that they are there, and when the athlete is
 * seen; of work on a vital sign, or for whoever had an injury, only what is not for medical staff. Both give the same
 * words in place of the reason: it does not tell which of them it is.
 */
export function strengthPlan(protocol: Protocol): (plan: Plan) => Plan {
  const onVitalSigns = medicalRules(protocol);
  const ofHistory = historyRules(protocol);
  const isMedicalMeasure = measureTest(protocol, isForMedical);
  return (plan) =>
    rewritten(plan, (row) => {
      const rules = (row.rules ?? '').split(';').filter((rule) => rule !== '');
      const others = rules.filter((rule) => !onVitalSigns.has(rule) && !ofHistory.has(rule));
      // A built-in status does not say of which test it is.
      const isOnVitalSign = isMedicalMeasure(row.measures ?? '') || rules.some((rule) => onVitalSigns.has(rule));
      const isPrivate = isOnVitalSign || others.length < rules.length;
      if (row.scope === 'hold' || row.scope === 'refer' || (isPrivate && isForMedicalStaff(row, isOnVitalSign))) {
        return { ...row, programme: null, rules: null, retest_by: null, measures: null, ...medicalWords(row) };
      }
      if (row.scope === 'left_out') return { ...row, reason: MEDICAL_STAFF_DECIDE };
      if (!isPrivate) return row;
      return { ...row, rules: others.join(';') || null, measures: null, reason: MEDICAL_STAFF_DECIDE };
    });
}

/** Work that medical staff own, or for which there is no programme, and a vital sign that is taken again. */
function isForMedicalStaff({ scope, owner, programme }: PlanRow, isOnVitalSign: boolean): boolean {
  return owner === 'medical' || (scope === 'repeat' ? isOnVitalSign : programme === null);
}

/** That medical staff see or hold an athlete, and when they see the athlete. */
function medicalWords({ scope, instruction }: PlanRow): Pick<PlanRow, 'reason' | 'instruction'> {
  const when = WHEN.exec(instruction ?? '')?.[0];
  if (scope !== 'hold') return { reason: MEDICAL_STAFF_SEE, instruction: when ?? MEDICAL_STAFF_SEE };
  return { reason: MEDICAL_STAFF_DECIDE, instruction: when === undefined ? HOLD : `${HOLD} ${when}` };
}
