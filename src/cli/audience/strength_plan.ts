import type { PLAN, Plan } from '../../tables/schemas.ts';
import type { RowOf } from '../../tables/table.ts';
import { rewritten } from './edit.ts';

type PlanRow = RowOf<typeof PLAN>;

const MEDICAL_STAFF_SEE = 'Medical staff see the athlete.';
const MEDICAL_STAFF_DECIDE = 'Medical staff decide.';
const HOLD = 'Hold until medical staff say so.';
/** What the plan says of when; nothing else of such an instruction is for strength staff. */
const WHEN = /Medical staff see the athlete(?: now| before training| routinely)?\./;

/**
 * The plan for strength staff. Of lines that are for medical staff it keeps that they are there, and when the athlete is
 * seen; of work on a vital sign only what is not for medical staff.
 * @param medicalRules names of the rules on vital signs
 */
export function strengthPlan(plan: Plan, medicalRules: ReadonlySet<string>): Plan {
  return rewritten(plan, (row) => {
    const rules = (row.rules ?? '').split(';').filter((rule) => rule !== '');
    const others = rules.filter((rule) => !medicalRules.has(rule));
    const isOnVitalSign = others.length < rules.length;
    if (row.scope === 'hold' || row.scope === 'refer' || (isOnVitalSign && isForMedicalStaff(row))) {
      return { ...row, programme: null, rules: null, ...medicalWords(row) };
    }
    if (row.scope === 'left_out') return { ...row, reason: MEDICAL_STAFF_DECIDE };
    if (!isOnVitalSign) return row;
    return { ...row, rules: others.join(';') || null, reason: MEDICAL_STAFF_DECIDE };
  });
}

/** Work that medical staff own, and a vital sign that is taken again. */
function isForMedicalStaff({ scope, owner }: PlanRow): boolean {
  return owner === 'medical' || scope === 'repeat';
}

/** That medical staff see or hold an athlete, and when they see the athlete. */
function medicalWords({ scope, instruction }: PlanRow): Pick<PlanRow, 'reason' | 'instruction'> {
  const when = WHEN.exec(instruction ?? '')?.[0];
  if (scope !== 'hold') return { reason: MEDICAL_STAFF_SEE, instruction: when ?? MEDICAL_STAFF_SEE };
  return { reason: MEDICAL_STAFF_DECIDE, instruction: when === undefined ? HOLD : `${HOLD} ${when}` };
}
