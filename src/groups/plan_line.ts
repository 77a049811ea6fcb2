import type { Protocol } from '../protocol/types.ts';
import { type Grade, PLAN, type Plan, type PlanScope } from '../tables/schemas.ts';
import { Table } from '../tables/table.ts';
import { isoDay } from '../units/days.ts';
import type { Side } from '../units/sides.ts';
import type { PlanFinding } from './plan_findings.ts';
import { ruleNames } from './verdicts.ts';

/** A line of the plan before it has its priority. */
export interface Line {
  readonly scope: PlanScope;
  /** team of shared work; null: of one athlete */
  readonly group: string | null;
  /** null: work of a whole team */
  readonly athleteId: string | null;
  readonly team: string | null;
  /** name; null: none */
  readonly programme: string | null;
  readonly owner: string;
  readonly side: Side;
  /** rules behind the line, in any order */
  readonly rules: readonly string[];
  readonly grade: Grade | null;
  readonly reason: string;
  readonly instruction: string;
  /** days since 1970-01-01 */
  readonly start: number;
  readonly retestBy: number | null;
  /** the findings that the line answers */
  readonly findings: readonly PlanFinding[];
}

/** @param lines in the order of their priority */
export function planTable(lines: readonly Line[], protocol: Protocol): Plan {
  const order = ruleNames(protocol);
  const table: Plan = new Table(PLAN);
  const { columns } = table;
  for (const [at, line] of lines.entries()) {
    columns.priority.push(at + 1);
    columns.scope.push(line.scope);
    columns.group.push(line.group);
    columns.athlete_id.push(line.athleteId);
    columns.team.push(line.team);
    columns.programme.push(line.programme);
    columns.owner.push(line.owner);
    columns.side.push(line.side);
    columns.rules.push(order.filter((rule) => line.rules.includes(rule)).join(';'));
    columns.grade.push(line.grade);
    columns.reason.push(line.reason);
    columns.instruction.push(line.instruction);
    columns.start.push(isoDay(line.start));
    columns.retest_by.push(line.retestBy === null ? null : isoDay(line.retestBy));
    columns.measures.push(measuresOf(line.findings));
  }
  return table;
}

/** Names of the measures of some findings, each once, joined with ;. */
const measuresOf = (findings: readonly PlanFinding[]): string | null =>
  [...new Set(findings.map(({ measure }) => measure.name))].join(';') || null;

/** Rules of some findings, each once. */
export const rulesOf = (findings: readonly PlanFinding[]): string[] => [...new Set(findings.map(({ rule }) => rule))];
