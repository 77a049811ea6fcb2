import { teamsIn } from '../../groups/plan_people.ts';
import { SEEN_FIRST, waiting } from '../../groups/plan_wording.ts';
import type { Protocol } from '../../protocol/types.ts';
import { type PLAN, PLAN_SCOPES, type Plan, type PlanScope } from '../../tables/schemas.ts';
import type { RowOf } from '../../tables/table.ts';
import { rewritten, wholeRows } from './edit.ts';
import { isHiddenFromCoach, measureTest } from './private_measures.ts';
import { rulesHiddenFromCoach } from './private_rules.ts';
import { coachGuard } from './private_words.ts';

type PlanRow = RowOf<typeof PLAN>;

const NOT_AVAILABLE = 'Not available until medical staff say so.';
const NOT_WITH_THE_GROUP = 'Not with the group.';
const REPEAT_A_TEST = 'Repeat a test with strength staff.';
const SEE_MEDICAL_STAFF = 'See medical staff.';
const SEE_STRENGTH_STAFF = 'See strength staff.';

const isHeld = ({ scope }: PlanRow): boolean => scope === 'refer' || scope === 'hold';
const workKey = ({ group, programme }: PlanRow): string => JSON.stringify([group, programme]);
const bareOf = (row: PlanRow): PlanRow => ({
  ...row,
  side: null,
  rules: null,
  grade: null,
  reason: null,
  measures: null,
});

/**
 * The plan for a coach: who is available, what they do, from when to when. An athlete who is held or referred has one
 * line that says so and no work beside it: a coach who reads both might go by the work. So such an athlete stands among
 * those who do not join the team too, be it that medical staff let the athlete join.
 */
export function coachPlan(plan: Plan, protocol: Protocol): Plan {
  const isPrivate = privateWork(plan, protocol);
  const isFit = coachGuard(protocol);
  const isNamed = (row: PlanRow): boolean => !isPrivate(row) && isFit(row.programme ?? '');
  const held = heldOf(plan);
  const withoutThem = leftOutReader(plan, held);
  const said = new Set<string | null>();
  return rewritten(plan, (row) => {
    const scope = row.scope as PlanScope;
    if (!PLAN_SCOPES.includes(scope)) return undefined;
    const bare = bareOf(row);
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
    const programme = isNamed(row) ? row.programme : null;
    if (scope === 'left_out') return { ...bare, programme, instruction: NOT_WITH_THE_GROUP };
    const instruction = workWords(row, isNamed(row) && isFit(row.instruction ?? ''));
    // The number of days to a retest tells of some programmes what they are.
    const shown = { ...bare, programme, instruction, retest_by: isPrivate(row) ? null : row.retest_by };
    return scope === 'shared' ? [shown, ...withoutThem(row, programme)] : shown;
  });
}

function workWords({ instruction, owner }: PlanRow, isShown: boolean): string | null {
  if (isShown) return instruction;
  const staff = owner === 'medical' ? SEE_MEDICAL_STAFF : SEE_STRENGTH_STAFF;
  return waiting(staff, instruction?.startsWith(SEEN_FIRST) ?? false);
}

/** Says of work whether medical staff own it, or a rule or measure behind it, or behind the work of its team, is hidden. */
function privateWork(plan: Plan, protocol: Protocol): (row: PlanRow) => boolean {
  const hiddenRules = rulesHiddenFromCoach(protocol);
  const isHiddenMeasure = measureTest(protocol, isHiddenFromCoach);
  const isPrivate = ({ owner, rules, measures }: PlanRow): boolean =>
    owner === 'medical' ||
    (rules ?? '').split(';').some((rule) => hiddenRules.has(rule)) ||
    isHiddenMeasure(measures ?? '');
  const ofTeams = new Set<string>();
  for (const row of wholeRows(plan)) if (row.scope === 'shared' && isPrivate(row)) ofTeams.add(workKey(row));
  return (row) => isPrivate(row) || (row.scope === 'left_out' && ofTeams.has(workKey(row)));
}

/** The first line of each athlete who is held or referred. */
function heldOf(plan: Plan): ReadonlyMap<string | null, PlanRow> {
  const held = new Map<string | null, PlanRow>();
  for (const row of wholeRows(plan)) if (isHeld(row) && !held.has(row.athlete_id)) held.set(row.athlete_id, row);
  return held;
}

/** Finds the athletes of a team who are held and whom the plan does not leave out of the work of the team. */
function leftOutReader(
  plan: Plan,
  held: ReadonlyMap<string | null, PlanRow>,
): (shared: PlanRow, programme: string | null) => PlanRow[] {
  const leftOut = new Set<string>();
  const keyOf = (row: PlanRow, athlete: string | null): string => `${workKey(row)} ${athlete}`;
  for (const row of wholeRows(plan)) if (row.scope === 'left_out') leftOut.add(keyOf(row, row.athlete_id));
  const people = [...held.values()].filter(({ athlete_id }) => athlete_id !== null);
  people.sort((a, b) => (a.athlete_id! < b.athlete_id! ? -1 : 1));
  return (shared, programme) =>
    people
      .filter(
        ({ athlete_id, team }) => teamsIn(team).includes(shared.group ?? '') && !leftOut.has(keyOf(shared, athlete_id)),
      )
      .map(({ athlete_id, team, start }) => ({
        ...bareOf(shared),
        scope: 'left_out',
        athlete_id,
        team,
        programme,
        instruction: NOT_WITH_THE_GROUP,
        start,
        retest_by: null,
      }));
}
