import { sooner, urgencyOf } from '../findings/urgency.ts';
import type { Protocol } from '../protocol/types.ts';
import { grouped } from '../tables/grouped.ts';
import { highestGrade, type PlanFinding, sideOf } from './plan_findings.ts';
import { rulesOf } from './plan_line.ts';
import { isHeldFor, type Person } from './plan_people.ts';
import { byStrictness, type Ranked, type UrgencyOf } from './plan_priority.ts';
import type { Current } from './plan_triage.ts';
import {
  holdInstruction,
  limitWords,
  messagesOf,
  openWords,
  referInstruction,
  sentence,
  standingWords,
} from './plan_wording.ts';

/** What medical staff decide about, and what is left to plan for others. */
export interface MedicalWork {
  readonly ranked: readonly Ranked[];
  readonly left: readonly PlanFinding[];
}

/**
 * One line an athlete who is held, or limited in the region of findings, and one an athlete and measure that is referred.
 * @param regionsOf parts of the body that a finding is about
 * @param on days since 1970-01-01
 */
export function medicalWork(
  current: readonly Current[],
  people: ReadonlyMap<string, Person>,
  regionsOf: (finding: PlanFinding) => readonly string[],
  protocol: Protocol,
  on: number,
): MedicalWork {
  const personOf = ({ finding }: Current): Person => people.get(finding.athleteId)!;
  const urgency: UrgencyOf = ({ rule, measure }) => urgencyOf(rule, measure, protocol);
  const isHeld = (one: Current): boolean => isHeldFor(personOf(one), regionsOf(one.finding));
  const held = grouped(current.filter(isHeld), personOf);
  // Whoever is held is so without any finding too.
  for (const person of people.values()) {
    if (person.limits.isWhole && person.leftOn === null && !held.has(person)) held.set(person, []);
  }
  const others = current.filter((one) => !isHeld(one));
  const referred = others.filter(({ finding }) => finding.grade === 'refer');
  const byTest = grouped(referred, ({ finding }) => `${finding.athleteId}\n${finding.measure.name}`);
  const ranked = [
    ...[...held].map(([person, group]) => holdLine(person, group, { regionsOf, urgency, on })),
    ...[...byTest.values()].map((group) => referLine(personOf(group[0]), group, urgency, on)),
  ];
  return { ranked, left: others.map(({ finding }) => finding).filter(({ grade }) => grade !== 'refer') };
}

function referLine(person: Person, group: readonly Current[], urgency: UrgencyOf, on: number): Ranked {
  const findings = group.map(({ finding }) => finding);
  const [strictest] = byStrictness(findings, urgency);
  const { programme } = strictest;
  const soon = urgency(strictest);
  return {
    stage: 'refer',
    urgency: soon,
    line: {
      scope: 'refer',
      group: null,
      athleteId: person.athleteId,
      team: person.team,
      programme: programme?.name ?? null,
      owner: 'medical',
      side: sideOf(findings),
      rules: rulesOf(findings),
      grade: 'refer',
      reason: referReason(group, urgency, person),
      instruction: referInstruction(soon, programme),
      start: on,
      retestBy: null,
      findings,
    },
  };
}

/** What was judged: a reading that is referred needs no word of its milder limits. */
const placeOf = ({ measure, side, day }: PlanFinding): string => `${measure.name} ${side} ${day}`;

/** Of each reading the strictest finding, and since when that is open. */
function referReason(group: readonly Current[], urgency: UrgencyOf, { standing }: Person): string {
  const byFinding = new Map(group.map((one) => [one.finding, one]));
  const told = new Map<string, PlanFinding>();
  for (const finding of byStrictness([...byFinding.keys()], urgency)) {
    if (!told.has(placeOf(finding))) told.set(placeOf(finding), finding);
  }
  return [...told.values()]
    .map((finding) => `${finding.message} ${openWords(byFinding.get(finding)!, standing)}`)
    .join(' ');
}

interface HoldContext {
  readonly regionsOf: (finding: PlanFinding) => readonly string[];
  readonly urgency: UrgencyOf;
  readonly on: number;
}

function holdLine(person: Person, group: readonly Current[], { regionsOf, urgency, on }: HoldContext): Ranked {
  const { standing, limits } = person;
  const findings = group.map(({ finding }) => finding);
  const referred = group.filter(({ finding }) => finding.grade === 'refer');
  const soon = referred.length === 0 ? undefined : referred.map(({ finding }) => urgency(finding)).reduce(sooner);
  const told = new Set(referred.map(({ finding }) => placeOf(finding)));
  const others = findings.filter((finding) => !told.has(placeOf(finding)));
  const reasons = [
    sentence(standingWords(standing)),
    limitWords(
      limits,
      findings.some((finding) => regionsOf(finding).length === 0),
    ),
    referred.length === 0 ? '' : referReason(referred, urgency, person),
    messagesOf(others),
  ];
  return {
    stage: soon === undefined ? 'hold' : 'refer',
    urgency: soon,
    line: {
      scope: 'hold',
      group: null,
      athleteId: person.athleteId,
      team: person.team,
      programme: null,
      owner: 'medical',
      side: 'none',
      rules: rulesOf(findings),
      grade: highestGrade(findings.map(({ grade }) => grade)),
      reason: reasons.filter((text) => text !== '').join(' '),
      instruction: holdInstruction(limits, soon),
      start: on,
      retestBy: null,
      findings,
    },
  };
}
