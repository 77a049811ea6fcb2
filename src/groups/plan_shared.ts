import type { Desk } from '../athletes/desk.ts';
import { isStopped } from '../athletes/work.ts';
import type { Programme, Protocol, Rule } from '../protocol/types.ts';
import { round9 } from '../stats/round9.ts';
import type { Cohort } from '../tables/schemas.ts';
import { isoDay } from '../units/days.ts';
import { flagsMost } from './decision.ts';
import { comparesSides, highestGrade, isPain, type PlanFinding } from './plan_findings.ts';
import { type Line, rulesOf } from './plan_line.ts';
import type { Person } from './plan_people.ts';
import type { Ranked } from './plan_priority.ts';
import { programmeWords, type ShareFacts, shareWords, TEST_IN_DOUBT } from './plan_wording.ts';

/** A programme that a whole team does. */
export interface SharedProgramme {
  readonly team: string;
  readonly programme: Programme;
  /** rules for which it is shared, the largest share first */
  readonly shares: readonly ShareFacts[];
  /** athletes of the team who do it */
  readonly doers: readonly Person[];
  readonly leftOut: readonly LeftOut[];
}

export interface LeftOut {
  readonly person: Person;
  /** for medical staff */
  readonly reason: string;
}

/**
 * What teams do together: programmes with a shared form for which the cohort decided so, the largest share first, and no
 * more a team than the protocol allows. Teams by name.
 */
export function sharedProgrammes(
  cohort: Cohort,
  season: number,
  people: ReadonlyMap<string, Person>,
  reasonToLeaveOut: (person: Person, programme: Programme) => string | undefined,
  protocol: Protocol,
): SharedProgramme[] {
  const teams = [...sharesByTeam(cohort, season, protocol)].sort(([a], [b]) => (a < b ? -1 : 1));
  return teams.flatMap(([team, byProgramme]) => {
    const members = [...people.values()].filter(({ teams: own, leftOn }) => leftOn === null && own.includes(team));
    const wanted = [...byProgramme].map(([programme, shares]) => ({ programme, shares: shares.toSorted(byShare) }));
    wanted.sort((a, b) => byShare(a.shares[0], b.shares[0]));
    return wanted.slice(0, protocol.sharing.atMostProgrammes).map(({ programme, shares }) => {
      const doers: Person[] = [];
      const leftOut: LeftOut[] = [];
      for (const person of members) {
        const reason = reasonToLeaveOut(person, programme);
        if (reason === undefined) doers.push(person);
        else leftOut.push({ person, reason });
      }
      return { team, programme, shares, doers, leftOut };
    });
  });
}

const byShare = (a: ShareFacts, b: ShareFacts): number =>
  round9(b.share) - round9(a.share) || b.flagged - a.flagged || a.rule.index - b.rule.index;

function sharesByTeam(
  { columns, length }: Cohort,
  season: number,
  protocol: Protocol,
): Map<string, Map<Programme, ShareFacts[]>> {
  const rules = new Map(protocol.rules.map((rule): [string, Rule] => [rule.name, rule]));
  const questioned = questionedRules({ columns, length }, season, protocol.sharing.minTested);
  const teams = new Map<string, Map<Programme, ShareFacts[]>>();
  for (let row = 0; row < length; row++) {
    if (columns.season.get(row) !== season || columns.group_kind.get(row) !== 'team') continue;
    const rule = rules.get(columns.rule.get(row) ?? '');
    const programme = protocol.programmes.get(rule?.programme ?? '');
    if (columns.decision.get(row) !== 'shared' || rule === undefined || programme?.shared === undefined) continue;
    const team = columns.group.get(row) ?? '';
    const byProgramme = teams.get(team) ?? new Map<Programme, ShareFacts[]>();
    teams.set(team, byProgramme);
    const facts = {
      rule,
      flagged: columns.flagged.get(row)!,
      tested: columns.tested.get(row)!,
      share: columns.share.get(row)!,
      low: columns.share_low.get(row),
      high: columns.share_high.get(row),
      isQuestioned: questioned.has(rule.name),
    };
    byProgramme.set(programme, [...(byProgramme.get(programme) ?? []), facts]);
  }
  return teams;
}

/** Rules that flag more than half of everybody. */
function questionedRules(
  { columns, length }: Pick<Cohort, 'columns' | 'length'>,
  season: number,
  minTested: number,
): ReadonlySet<string> {
  const rules = new Set<string>();
  for (let row = 0; row < length; row++) {
    if (columns.season.get(row) !== season || columns.group_kind.get(row) !== 'all') continue;
    const counts = { tested: columns.tested.values[row], flagged: columns.flagged.values[row] };
    if (counts.tested >= minTested && flagsMost(counts)) rules.add(columns.rule.get(row) ?? '');
  }
  return rules;
}

/** Finds the shared programme that answers a finding; undefined: it is the athlete's own. */
export function coverReader(shared: readonly SharedProgramme[]): (finding: PlanFinding) => SharedProgramme | undefined {
  const doing = new Map<string, SharedProgramme>();
  for (const one of shared) {
    for (const { athleteId } of one.doers) {
      const key = `${one.programme.name}\n${athleteId}`;
      if (!doing.has(key)) doing.set(key, one);
    }
  }
  return (finding) => {
    const { grade, spec, programme, athleteId } = finding;
    if (spec === undefined || programme === undefined || !spec.share || grade === 'refer') return undefined;
    if (comparesSides(finding) || isPain(finding)) return undefined;
    return doing.get(`${programme.name}\n${athleteId}`);
  };
}

/** A line for each programme of each team, and one behind it for each athlete who does not join in. */
export function sharedLines(
  shared: readonly SharedProgramme[],
  coveredBy: (one: SharedProgramme) => readonly PlanFinding[],
  desk: Desk,
  { sharing }: Protocol,
): Ranked[] {
  return shared.flatMap((one) => {
    const findings = coveredBy(one);
    const { team, programme, shares, leftOut } = one;
    const common = { group: team, programme: programme.name, owner: programme.owner, side: 'none' as const };
    const begun = begunBy(one, findings, desk);
    const start = begun.first ?? desk.on;
    const tested = Math.min(...findings.map(({ day }) => day), desk.on);
    const retestBy = programme.retestDays === undefined ? null : (begun.first ?? tested) + programme.retestDays;
    const line: Line = {
      ...common,
      scope: 'shared',
      athleteId: null,
      team,
      rules: [...new Set([...shares.map(({ rule }) => rule.name), ...rulesOf(findings)])],
      grade: highestGrade([...shares.map(({ rule }) => rule.grade), ...findings.map(({ grade }) => grade)]),
      reason: [...shares.map((facts) => shareWords(facts, sharing.fromShare)), ...joinWords(one, begun)].join(' '),
      instruction:
        (shares.every(({ isQuestioned }) => isQuestioned) ? TEST_IN_DOUBT : '') +
        programmeWords(programme.label, programme.shared),
      start,
      retestBy,
      findings,
    };
    const without = leftOut.map(
      ({ person, reason }): Line => ({
        ...common,
        scope: 'left_out',
        athleteId: person.athleteId,
        team: person.team,
        rules: [],
        grade: null,
        reason,
        instruction: `Leave out of ${programme.label} with the team.`,
        start: desk.on,
        retestBy: null,
        findings: [],
      }),
    );
    return [line, ...without].map((each) => ({ stage: 'team', line: each }));
  });
}

/** Those who have started it since the first of the findings behind it, and have not given it up. */
interface Begun {
  readonly count: number;
  /** days since 1970-01-01; null: nobody has, or nobody wrote the day */
  readonly first: number | null;
}

function begunBy({ programme, doers }: SharedProgramme, findings: readonly PlanFinding[], desk: Desk): Begun {
  const from = findings.reduce((first, { day }) => Math.min(first, day), desk.on);
  const rows = doers
    .flatMap(({ athleteId }) => desk.work(athleteId, programme.name, from) ?? [])
    .filter((row) => !isStopped(row, desk.on));
  const started = rows.flatMap((row) => row.started ?? []);
  return { count: rows.length, first: started.length === 0 ? null : Math.min(...started) };
}

/** Who does it and who does not; why somebody does not stands in a line of its own, for medical staff. */
function joinWords({ doers, leftOut }: SharedProgramme, { count, first }: Begun): string[] {
  const words = [`${doers.length} of the team do it.`];
  if (count > 0 && first !== null) words.push(`${count} of them have started, the first on ${isoDay(first)}.`);
  if (leftOut.length > 0) words.push(`Left out: ${leftOut.map(({ person }) => person.athleteId).join(', ')}.`);
  return words;
}
