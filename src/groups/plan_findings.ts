import type { Measure, Programme, Protocol, Rule } from '../protocol/types.ts';
import { type Findings, GRADES, type Grade } from '../tables/schemas.ts';
import type { Side } from '../units/sides.ts';
import { ruleNames } from './verdicts.ts';

/** A row of the findings, with what the protocol says of its rule. */
export interface PlanFinding {
  /** row of the findings */
  readonly row: number;
  readonly athleteId: string;
  readonly team: string | null;
  readonly season: number;
  /** days since 1970-01-01 */
  readonly day: number;
  readonly rule: string;
  /** undefined: a built-in status */
  readonly spec: Rule | undefined;
  /** place of the rule among all, the built-in statuses last */
  readonly order: number;
  readonly measure: Measure;
  readonly side: Side;
  readonly field: string;
  readonly limit: number | null;
  readonly margin: number | null;
  readonly error: number | null;
  readonly certainty: string | null;
  readonly grade: Grade;
  readonly previousInjury: string | null;
  readonly programme: Programme | undefined;
  readonly owner: string | null;
  readonly message: string;
}

/** Fields that look at one side, or at no side; all others set one side against the other. */
const NOT_COMPARING: ReadonlySet<string> = new Set(['value', 'worse', 'z', 'change', 'status']);

/** Whether a finding sets one side against the other. */
export const comparesSides = ({ field }: Pick<PlanFinding, 'field'>): boolean => !NOT_COMPARING.has(field);

/** Whether a finding is pain at a test. */
export const isPain = ({ rule, spec }: PlanFinding): boolean =>
  spec === undefined ? rule === 'pain' : spec.status === 'pain';

/** @param protocol the one that the findings were judged by */
export function planFindings({ columns, length }: Findings, protocol: Protocol): PlanFinding[] {
  const orders = new Map(ruleNames(protocol).map((name, order) => [name, order]));
  return Array.from({ length }, (_, row): PlanFinding => {
    const rule = columns.rule.get(row) ?? '';
    const order = orders.get(rule)!;
    return {
      row,
      athleteId: columns.athlete_id.get(row) ?? '',
      team: columns.team.get(row),
      season: columns.season.values[row],
      day: columns.date.days[row],
      rule,
      spec: protocol.rules[order],
      order,
      measure: protocol.byName.get(columns.measure.get(row) ?? '')!,
      side: columns.side.get(row) as Side,
      field: columns.field.get(row) ?? '',
      limit: columns.limit.get(row),
      margin: columns.margin.get(row),
      error: columns.error.get(row),
      certainty: columns.certainty.get(row),
      grade: columns.grade.get(row) as Grade,
      previousInjury: columns.previous_injury.get(row),
      programme: protocol.programmes.get(columns.programme.get(row) ?? ''),
      owner: columns.owner.get(row),
      message: columns.message.get(row) ?? '',
    };
  });
}

/** The strictest of some grades; null: there are none. */
export function highestGrade(grades: readonly Grade[]): Grade | null {
  return GRADES.findLast((grade) => grades.includes(grade)) ?? null;
}

/** The side that some findings are about together: both, unless all of them say the same. */
export function sideOf(findings: readonly PlanFinding[]): Side {
  const sides = new Set(findings.map(({ side }) => side));
  return sides.size === 1 ? findings[0].side : 'both';
}
