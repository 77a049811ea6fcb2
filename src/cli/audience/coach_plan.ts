import { SEEN_FIRST, waiting } from '../../groups/plan_wording.ts';
import type { Protocol } from '../../protocol/types.ts';
import { type PLAN, PLAN_SCOPES, type Plan, type PlanScope } from '../../tables/schemas.ts';
import type { RowOf } from '../../tables/table.ts';
import { rewritten } from './edit.ts';
import { isHiddenFromCoach, rulesOn } from './private_measures.ts';
import { coachGuard } from './private_words.ts';

type PlanRow = RowOf<typeof PLAN>;

const NOT_AVAILABLE = 'Not available until medical staff say so.';
const NOT_WITH_THE_GROUP = 'Not with the group.';
const REPEAT_A_TEST = 'Repeat a test with strength staff.';
const SEE_MEDICAL_STAFF = 'See medical staff.';
const SEE_STRENGTH_STAFF = 'See strength staff.';

const isHeld = ({ scope }: PlanRow): boolean => scope === 'refer' || scope === 'hold';

/**
 * The plan for a coach: who is available, what they do, from when to when. An athlete who is held or referred has one
 * line that says so and no work beside it: a coach who reads both might go by the work.
 */
export function coachPlan(plan: Plan, protocol: Protocol): Plan {
  const isFit = coachGuard(protocol);
  const hiddenRules = hiddenFromCoach(protocol);
  const held = new Set<string | null>();
  for (const row of plan.rows()) if (isHeld(row)) held.add(row.athlete_id);
  const said = new Set<string | null>();
  return rewritten(plan, (row) => {
    const scope = row.scope as PlanScope;
    if (!PLAN_SCOPES.includes(scope)) return undefined;
    const bare = { ...row, side: null, rules: null, grade: null, reason: null };
    if (isHeld(row)) {
      if (said.has(row.athlete_id)) return undefined;
      said.add(row.athlete_id);
      return { ...bare, scope: 'hold', programme: null, owner: null, instruction: NOT_AVAILABLE, retest_by: null };
    }
    if (row.athlete_id !== null && held.has(row.athlete_id) && scope !== 'left_out') return undefined;
    const isLater = row.instruction?.startsWith(SEEN_FIRST) ?? false;
    if (scope === 'repeat') {
      return { ...bare, programme: null, owner: null, instruction: waiting(REPEAT_A_TEST, isLater) };
    }
    const isPrivate = row.owner === 'medical' || (row.rules ?? '').split(';').some((rule) => hiddenRules.has(rule));
    const isNamed = !isPrivate && isFit(row.programme ?? '');
    const programme = isNamed ? row.programme : null;
    if (scope === 'left_out') return { ...bare, programme, instruction: NOT_WITH_THE_GROUP };
    if (isNamed && isFit(row.instruction ?? '')) return { ...bare, programme };
    const staff = row.owner === 'medical' ? SEE_MEDICAL_STAFF : SEE_STRENGTH_STAFF;
    return { ...bare, programme, instruction: waiting(staff, isLater) };
  });
}

/** Rules on vital signs, body mass and pain, the one that every protocol has among them. */
function hiddenFromCoach(protocol: Protocol): ReadonlySet<string> {
  const onPain = protocol.rules.filter(({ status }) => status === 'pain').map(({ name }) => name);
  return new Set(['pain', ...onPain, ...rulesOn(protocol, isHiddenFromCoach)]);
}
