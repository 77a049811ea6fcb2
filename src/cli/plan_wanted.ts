import type { Member } from '../athletes/members.ts';
import { teamsIn } from '../groups/plan_people.ts';
import { didYouMean } from '../protocol/nearest.ts';
import { PLAN, type Plan } from '../tables/schemas.ts';
import { Table } from '../tables/table.ts';
import { foldKey } from '../units/keys.ts';
import { UsageError } from './options.ts';

export const PLAN_BY = ['athlete', 'programme'] as const;
export type PlanBy = (typeof PLAN_BY)[number];

/** Which lines of a plan are asked for. */
export interface PlanWanted {
  readonly owner?: string;
  readonly team?: string;
  readonly athlete?: string;
  readonly by?: PlanBy;
  readonly limit?: number;
}

/**
 * Checks the team and the athlete that a command line asks for.
 * @param members everybody who belongs to the season
 * @throws UsageError for one whom the season does not know
 */
export function checkPlanWanted(
  { team, athlete }: PlanWanted,
  members: readonly Member[],
  season: number | null,
): void {
  const when = season === null ? 'there are no results yet' : `season ${season}`;
  if (team !== undefined) {
    const teams = [...new Set(members.flatMap((member) => teamsIn(member.team)))].sort();
    if (!teams.some((known) => foldKey(known) === foldKey(team))) {
      throw new UsageError(`--team: there is no team "${team}" (${when}). ${didYouMean(team, teams)}`);
    }
  }
  if (athlete === undefined) return;
  const ids = members.map(({ athleteId }) => athleteId);
  if (ids.includes(athlete)) return;
  throw new UsageError(`--athlete: nobody has the id "${athlete}" (${when}). ${didYouMean(athlete, ids)}`);
}

/** Says of a person whether the lines and findings of that person are asked for. */
export function isPersonWanted(
  { team, athlete }: PlanWanted,
  members: readonly Member[],
): (athleteId: string, teams: string | null) => boolean {
  const own = teamsIn(members.find(({ athleteId }) => athleteId === athlete)?.team ?? null).map(foldKey);
  return (athleteId, teams) => {
    const keys = teamsIn(teams).map(foldKey);
    if (team !== undefined && !keys.includes(foldKey(team))) return false;
    // What a team does together concerns each of its athletes.
    return (
      athlete === undefined || athleteId === athlete || (athleteId === '' && keys.some((key) => own.includes(key)))
    );
  };
}

/**
 * The lines that are asked for; their priorities stay what they are. A line that nobody owns is for every owner. By
 * athlete or programme the lines without one come first, and those of one stay in the order of priority.
 * @returns the lines, and how many were left off by the limit
 */
export function wantedLines(
  plan: Plan,
  wanted: PlanWanted,
  members: readonly Member[],
): { readonly lines: Plan; readonly leftOff: number } {
  const { columns } = plan;
  const isWanted = isPersonWanted(wanted, members);
  const teamsOf = (row: number): string | null => columns.group.get(row) ?? columns.team.get(row);
  const isOwned = (owner: string | null): boolean =>
    wanted.owner === undefined || owner === null || owner === wanted.owner;
  const rows = Array.from({ length: plan.length }, (_, row) => row).filter(
    (row) => isOwned(columns.owner.get(row)) && isWanted(columns.athlete_id.get(row) ?? '', teamsOf(row)),
  );
  const kept = rows.slice(0, wanted.limit);
  if (wanted.by !== undefined) {
    const column = wanted.by === 'athlete' ? columns.athlete_id : columns.programme;
    const key = (row: number): string => column.get(row) ?? '';
    kept.sort((a, b) => (key(a) === key(b) ? a - b : key(a) < key(b) ? -1 : 1));
  }
  const lines: Plan = new Table(PLAN);
  for (const row of kept) lines.appendRow(plan, row);
  return { lines, leftOff: rows.length - kept.length };
}
