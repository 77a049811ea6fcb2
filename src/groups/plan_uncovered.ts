import { Table } from '../tables/table.ts';
import type { Unplanned } from './plan_triage.ts';

/** Findings that give no line of the plan. */
export const UNCOVERED = [
  { name: 'athlete_id', kind: 'text', title: 'athlete' },
  { name: 'date', kind: 'date', title: 'first day of the occasion' },
  { name: 'rule', kind: 'text', title: 'the rule that is broken' },
  { name: 'measure', kind: 'text', title: 'what was measured or worked out' },
  { name: 'side', kind: 'text', title: 'left, right, both or none' },
  { name: 'grade', kind: 'text', title: 'watch, act or refer' },
  { name: 'reason', kind: 'string', title: 'why nothing is planned for it' },
] as const;

export function uncoveredTable(unplanned: readonly Unplanned[]): Table<typeof UNCOVERED> {
  const table = new Table(UNCOVERED);
  const { columns } = table;
  for (const { finding, reason } of unplanned) {
    columns.athlete_id.push(finding.athleteId);
    columns.date.pushDay(finding.day);
    columns.rule.push(finding.rule);
    columns.measure.push(finding.measure.name);
    columns.side.push(finding.side);
    columns.grade.push(finding.grade);
    columns.reason.push(reason);
  }
  return table;
}
