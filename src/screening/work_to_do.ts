import { DECIDE_FIRST, SEEN_FIRST } from '../groups/plan_wording.ts';
import type { Protocol } from '../protocol/types.ts';
import { grouped } from '../tables/grouped.ts';
import type { Plan } from '../tables/schemas.ts';

/** One athlete of a list, with the side that is meant. */
export interface Someone {
  readonly athlete_id: string;
  readonly name?: string;
  /** left, right or both; null: no side is meant */
  readonly side: string | null;
}

/** Somebody who is given work, with what has to be settled before it. */
export interface Doer extends Someone {
  /** medical staff see the athlete first */
  readonly after_medical: boolean;
  /** the work was given up, and somebody decides whether it goes on */
  readonly stopped: boolean;
}

/** What a whole team does together. */
export interface TeamWork {
  readonly team: string;
  readonly programme: string;
  readonly owner: string | null;
  readonly reason: string | null;
  readonly instruction: string | null;
  readonly start: string | null;
  readonly retest_by: string | null;
  /** athletes of the team who do not join in, with the reason */
  readonly left_out: readonly { readonly athlete_id: string; readonly name?: string; readonly reason: string | null }[];
}

/** One programme and everybody who does it alone. */
export interface OwnWork {
  /** label; null: the protocol prescribes nothing for these rules */
  readonly programme: string | null;
  readonly owner: string | null;
  readonly athletes: readonly Doer[];
  /** the first day by which one of them is to be tested again */
  readonly retest_by: string | null;
}

/** Somebody who does not train, or not with one part of the body. */
export interface Held extends Someone {
  /** null: not shown */
  readonly reason: string | null;
  readonly instruction: string | null;
}

/** The plan as a summary tells it. */
export interface WorkToDo {
  /** whom medical staff see, and who is not held */
  readonly referred: readonly Someone[];
  readonly held: readonly Held[];
  /** tests that are to be repeated before anything is done, by what is measured */
  readonly repeat: readonly { readonly measure: string; readonly athletes: readonly Doer[] }[];
  readonly teams: readonly TeamWork[];
  readonly alone: readonly OwnWork[];
}

export const NO_WORK: WorkToDo = { referred: [], held: [], repeat: [], teams: [], alone: [] };

type Line = ReturnType<Plan['row']>;
type Names = ReadonlyMap<string, string>;

/** Gathers the lines of a plan by team and by programme, in their order of priority. */
export function workToDo(plan: Plan, protocol: Protocol, names: Names): WorkToDo {
  const lines = [...plan.rows()];
  const of = (scope: string): Line[] => lines.filter((line) => line.scope === scope);
  const someone = ({ athlete_id, side }: Line): Someone => ({
    athlete_id: athlete_id ?? '',
    name: names.get(athlete_id ?? ''),
    side: side === 'none' ? null : side,
  });
  const doer = (line: Line): Doer => {
    const instruction = line.instruction ?? '';
    const isLater = instruction.startsWith(SEEN_FIRST);
    const own = isLater ? instruction.slice(SEEN_FIRST.length) : instruction;
    return { ...someone(line), after_medical: isLater, stopped: own.startsWith(DECIDE_FIRST) };
  };
  return {
    referred: distinct(of('refer').map((line) => ({ ...someone(line), side: null }))),
    held: distinct(
      of('hold').map((line) => ({
        ...someone(line),
        side: null,
        reason: line.reason,
        instruction: line.instruction,
      })),
    ),
    repeat: [...grouped(of('repeat'), (line) => measuresOf(line, protocol))].map(([measure, group]) => ({
      measure,
      athletes: group.map(doer),
    })),
    teams: of('shared').map((line) => teamWork(line, of('left_out'), protocol, names)),
    alone: [...grouped(of('individual'), workOf).values()].map((group) => ({
      programme: group[0].programme === null ? null : labelOf(group[0].programme, protocol),
      owner: group[0].owner,
      athletes: group.map(doer),
      retest_by: group.map((line) => line.retest_by).reduce(earlier),
    })),
  };
}

function teamWork(line: Line, leftOut: readonly Line[], protocol: Protocol, names: Names): TeamWork {
  const without = leftOut.filter((other) => other.group === line.group && other.programme === line.programme);
  return {
    team: line.group ?? '',
    programme: labelOf(line.programme ?? '', protocol),
    owner: line.owner,
    reason: line.reason,
    instruction: line.instruction,
    start: line.start,
    retest_by: line.retest_by,
    left_out: without.map(({ athlete_id, reason }) => ({
      athlete_id: athlete_id ?? '',
      name: names.get(athlete_id ?? ''),
      reason,
    })),
  };
}

const labelOf = (programme: string, protocol: Protocol): string =>
  protocol.programmes.get(programme)?.label ?? programme;

/** Labels of what the rules of a line are about; '' where the rules are not shown. */
function measuresOf({ rules }: Line, protocol: Protocol): string {
  const names = (rules ?? '').split(';');
  const labels = names.map((name) => protocol.rules.find((rule) => rule.name === name)?.measure.label ?? name);
  return [...new Set(labels)].join(', ');
}

/** What an athlete does alone; without a programme it is told by who decides. */
const workOf = ({ programme, owner }: Line): string => programme ?? `\n${owner}`;

function distinct<S extends Someone>(people: readonly S[]): S[] {
  return [...new Map(people.map((one) => [one.athlete_id, one])).values()];
}

/** The earlier of two ISO days; an unknown one counts for nothing. */
function earlier(a: string | null, b: string | null): string | null {
  if (a === null || b === null) return a ?? b;
  return a < b ? a : b;
}
