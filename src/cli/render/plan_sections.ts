import type { Protocol } from '../../protocol/types.ts';
import type { Plan } from '../../tables/schemas.ts';
import type { PlanBy } from '../plan_wanted.ts';

export type PlanRow = ReturnType<Plan['row']>;

/** Lines under one heading. */
export interface PlanSection {
  readonly title: string;
  readonly rows: readonly PlanRow[];
  /** what is said where the whole plan has none; undefined: the section is left out then */
  readonly none?: string;
}

const isForMedical = ({ scope, grade }: PlanRow): boolean =>
  scope === 'refer' || (scope === 'hold' && grade === 'refer');
const isHold = (row: PlanRow): boolean => row.scope === 'hold' && !isForMedical(row);
const isOfTeam = ({ scope }: PlanRow): boolean => scope === 'shared' || scope === 'left_out';

/**
 * Lines by what kind of work they are, or by athlete or programme. Whom medical staff see, and who is held, stand first
 * whatever the rest is ordered by.
 */
export function planSections(lines: Plan, by: PlanBy | undefined, protocol: Protocol): PlanSection[] {
  const rows = [...lines.rows()].sort((a, b) => a.priority! - b.priority!);
  const rest = rows.filter((row) => !isForMedical(row) && !isHold(row));
  return [
    { title: 'To medical staff', rows: rows.filter(isForMedical), none: 'Nobody.' },
    { title: 'On hold', rows: rows.filter(isHold), none: 'Nobody.' },
    ...(by === undefined ? byScope(rest) : by === 'athlete' ? byAthlete(rest) : byProgramme(rest, protocol)),
  ];
}

const ofScope = (rows: readonly PlanRow[], scope: string): PlanRow[] => rows.filter((row) => row.scope === scope);

function byScope(rows: readonly PlanRow[]): PlanSection[] {
  return [
    { title: 'Repeat the test first', rows: ofScope(rows, 'repeat') },
    { title: 'What teams do together', rows: rows.filter(isOfTeam), none: 'Nothing.' },
    { title: 'What athletes do alone', rows: ofScope(rows, 'individual'), none: 'Nothing.' },
  ];
}

function byAthlete(rows: readonly PlanRow[]): PlanSection[] {
  const ids = [...new Set(rows.flatMap(({ athlete_id }) => athlete_id ?? []))];
  return [
    { title: 'What teams do together', rows: ofScope(rows, 'shared') },
    ...ids.map((id) => ({ title: id, rows: rows.filter(({ athlete_id }) => athlete_id === id) })),
  ];
}

function byProgramme(rows: readonly PlanRow[], { programmes }: Protocol): PlanSection[] {
  const prescribed = rows.filter(({ scope }) => scope !== 'repeat');
  return [
    { title: 'Repeat the test first', rows: ofScope(rows, 'repeat') },
    ...[...programmes.values()].map(({ name, label }) => ({
      title: label,
      rows: prescribed.filter(({ programme }) => programme === name),
    })),
    { title: 'Without a programme', rows: prescribed.filter(({ programme }) => programme === null) },
  ];
}
