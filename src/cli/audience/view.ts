import type { Protocol } from '../../protocol/types.ts';
import { COVERAGE, PLAN } from '../../tables/schemas.ts';
import type { Schema, Table } from '../../tables/table.ts';
import { coachCoverage } from './coach_coverage.ts';
import { coachPlan } from './coach_plan.ts';
import { tableOf } from './edit.ts';
import { strengthView } from './strength.ts';
import type { Audience } from './who.ts';

export type View = <S extends Schema>(table: Table<S>) => Table<S>;

const whole: View = (table) => table;

/** What an audience sees of tables: made once, for table after table. Columns stay as they are. */
export function viewFor(audience: Audience, protocol: Protocol): View {
  if (audience === 'medical') return whole;
  return audience === 'strength' ? strengthView(protocol) : coachView(protocol);
}

/** The rows and cells of one table that an audience may see. */
export function forAudience<S extends Schema>(table: Table<S>, audience: Audience, protocol: Protocol): Table<S> {
  return viewFor(audience, protocol)(table);
}

/** Plan and coverage alone: the commands of all other tables refuse a coach before they read anything. */
function coachView(protocol: Protocol): View {
  return <S extends Schema>(table: Table<S>): Table<S> => {
    const plan = tableOf(table, PLAN);
    const coverage = tableOf(table, COVERAGE);
    const shown = plan ? coachPlan(plan, protocol) : coverage ? coachCoverage(coverage, protocol) : undefined;
    if (shown === undefined) throw new Error('a coach sees nothing of this table');
    return shown as unknown as Table<S>;
  };
}
