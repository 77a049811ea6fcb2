import type { AthleteBook } from '../athletes/book.ts';
import type { Desk, Standing } from '../athletes/desk.ts';
import { hasLeft, type Member } from '../athletes/members.ts';
import type { Protocol } from '../protocol/types.ts';
import { keepsFrom, type Limits, limitsReader, partsByMeasure, regionParts } from './limits.ts';
import type { PlanFinding } from './plan_findings.ts';
import { measuredFor } from './rule_needs.ts';

/** An athlete of the season for whom something may be planned. */
export interface Person {
  readonly athleteId: string;
  /** "A" or "A;B" */
  readonly team: string | null;
  /** each once, as written */
  readonly teams: readonly string[];
  readonly standing: Standing;
  readonly limits: Limits;
  /** days since 1970-01-01 of the last day on the team, if that has come; null: still there */
  readonly leftOn: number | null;
}

/** Everybody of the season: its members, and whoever has a finding, by athlete_id. */
export function peopleOf(
  members: readonly Member[],
  findings: readonly PlanFinding[],
  season: number,
  athletes: AthleteBook,
  protocol: Protocol,
  desk: Desk,
): ReadonlyMap<string, Person> {
  const limitsOf = limitsReader(protocol);
  const listed = new Map(members.map((member) => [member.athleteId, member]));
  const teamOf = new Map(findings.map(({ athleteId, team }) => [athleteId, team]));
  const ids = [...new Set([...listed.keys(), ...teamOf.keys()])].sort();
  return new Map(
    ids.map((athleteId): [string, Person] => {
      const member = listed.get(athleteId);
      const team = athletes.find(athleteId, season)?.team ?? member?.team ?? teamOf.get(athleteId) ?? null;
      const leftDay = member?.leftDay ?? null;
      const standing = desk.standing(athleteId);
      return [
        athleteId,
        {
          athleteId,
          team,
          teams: teamsIn(team),
          standing,
          limits: limitsOf(standing),
          leftOn: hasLeft(leftDay, desk.on) ? leftDay : null,
        },
      ];
    }),
  );
}

/** Teams of a cell, each once. */
export function teamsIn(team: string | null): readonly string[] {
  return [...new Set((team ?? '').split(';').map((name) => name.trim()))].filter((name) => name !== '');
}

/**
 * Parts of the body that a finding is about: those of the rule's own region, else of all rules on the same measure or a
 * part of it. A mark such as pain has no region of its own.
 */
export function regionReader(protocol: Protocol): (finding: PlanFinding) => readonly string[] {
  const partsOf = partsByMeasure(protocol);
  return ({ spec, measure }) => {
    if (spec?.region !== undefined) return regionParts(spec.region);
    return [...new Set(measuredFor(measure).flatMap((index) => [...(partsOf.get(index) ?? [])]))];
  };
}

/** Whether medical staff keep an athlete from work on what a finding is about. */
export function isHeldFor({ limits }: Person, regions: readonly string[]): boolean {
  return keepsFrom(limits, regions);
}

/** Whether medical staff cleared the whole athlete on a day after another one. */
export function isClearedAfter({ availability, since }: Standing, day: number): boolean {
  return availability === 'full' && since !== null && since > day;
}
