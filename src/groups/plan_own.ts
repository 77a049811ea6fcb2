import type { Desk } from '../athletes/desk.ts';
import { isStopped, type WorkRow } from '../athletes/work.ts';
import type { Measure, Protocol } from '../protocol/types.ts';
import { isVitalSign } from '../sheets/row_cells.ts';
import { grouped } from '../tables/grouped.ts';
import type { Care } from './plan_care.ts';
import { comparesSides, highestGrade, type PlanFinding, sideOf } from './plan_findings.ts';
import { type Line, rulesOf } from './plan_line.ts';
import type { Person } from './plan_people.ts';
import { compareKeys, needKeys, type Ranked, type RegionCounter } from './plan_priority.ts';
import type { Unplanned } from './plan_triage.ts';
import {
  DECIDE_FIRST,
  messagesOf,
  NO_PROGRAMME,
  programmeWords,
  stoppedWords,
  waiting,
  workWords,
} from './plan_wording.ts';

/** What single athletes do, and what is left of their findings. */
export interface OwnWork {
  readonly ranked: readonly Ranked[];
  readonly unplanned: readonly Unplanned[];
}

interface Context {
  readonly care: Care;
  readonly desk: Desk;
  readonly protocol: Protocol;
  readonly inRegion: RegionCounter;
}

/**
 * Repeats of tests and programmes of single athletes, from findings of grades watch and act that no team covers. What is
 * watched gives no work of its own, and joins a programme that the athlete has anyway.
 */
export function ownWork(
  findings: readonly PlanFinding[],
  people: ReadonlyMap<string, Person>,
  context: Context,
): OwnWork {
  const ranked: Ranked[] = [];
  const unplanned: Unplanned[] = [];
  for (const [athleteId, own] of grouped(findings, (finding) => finding.athleteId)) {
    const person = people.get(athleteId)!;
    const watched = own.filter(({ grade }) => grade === 'watch');
    const repeats = own.filter((finding) => finding.grade === 'act' && finding.certainty === 'within_error');
    const acts = own.filter((finding) => finding.grade === 'act' && finding.certainty !== 'within_error');
    const lines = [...grouped(repeats, ({ measure }) => measure)].map(([measure, group]) =>
      repeatLine(person, measure, group, context),
    );
    const programmes = programmesOf(acts, context);
    const most = context.protocol.sharing.atMostProgrammes;
    for (const group of programmes.slice(most)) {
      for (const finding of group) unplanned.push(tooMany(finding, most));
    }
    const taken = new Set<string>();
    for (const group of programmes.slice(0, most)) {
      const { name } = group[0].programme!;
      taken.add(name);
      const joined = watched.filter(({ programme }) => programme?.name === name);
      lines.push(programmeLine(person, [...group, ...joined], context));
    }
    for (const finding of watched) {
      if (!taken.has(finding.programme?.name ?? '')) {
        unplanned.push({ finding, kind: 'watched', reason: 'watched only' });
      }
    }
    const without = acts.filter(({ programme }) => programme === undefined);
    for (const group of grouped(without, ({ rule, measure }) => `${rule}\n${measure.name}`).values()) {
      lines.push(staffLine(person, group, context));
    }
    for (const line of lines) ranked.push({ stage: 'own', line });
  }
  return { ranked, unplanned };
}

/** Findings with a programme, by programme, those that ask for it most first. */
function programmesOf(acts: readonly PlanFinding[], { inRegion, protocol }: Context): PlanFinding[][] {
  const order = [...protocol.programmes.keys()];
  const groups = [...grouped(acts, ({ programme }) => programme)].filter(([programme]) => programme !== undefined);
  const keyed = groups.map(([programme, group]) => ({
    group,
    keys: [...needKeys(group, inRegion), order.indexOf(programme!.name)],
  }));
  return keyed.sort((a, b) => compareKeys(a.keys, b.keys)).map(({ group }) => group);
}

function tooMany(finding: PlanFinding, most: number): Unplanned {
  const reason = `no more than ${most} programmes at once: ${finding.programme!.label} waits`;
  return { finding, kind: 'too_many_programmes', reason };
}

/** Whether an athlete waits for medical staff before working on some measures. */
function waits({ athleteId }: Person, measures: readonly Measure[], { care }: Context): boolean {
  return care.seenFirst(athleteId) !== undefined || care.pain(athleteId, measures) !== undefined;
}

function lineOf(
  person: Person,
  findings: readonly PlanFinding[],
  context: Context,
): Omit<Line, 'scope' | 'instruction'> {
  return {
    group: null,
    athleteId: person.athleteId,
    team: person.team,
    programme: null,
    owner: ownerOf(findings),
    side: sideOf(findings),
    rules: rulesOf(findings),
    grade: highestGrade(findings.map(({ grade }) => grade)),
    reason: messagesOf(findings),
    start: context.desk.on,
    retestBy: null,
    findings,
  };
}

/** Who does it where no programme says so: medical staff look after vital signs and after what could not be done. */
function ownerOf(findings: readonly PlanFinding[]): string {
  const written = findings.find(({ owner }) => owner !== null)?.owner;
  const isMedical = findings.some(
    ({ measure, rule, spec }) => isVitalSign(measure) || rule === 'unable' || spec?.status !== undefined,
  );
  return written ?? (isMedical ? 'medical' : 'strength');
}

function repeatLine(
  person: Person,
  measure: Measure,
  findings: readonly PlanFinding[],
  context: Context,
): Ranked['line'] {
  const parts =
    measure.derivation === undefined ? '' : ` (${measure.derivation.parts.map(({ label }) => label).join(', ')})`;
  const side = findings.some(comparesSides) ? 'both' : sideOf(findings);
  const sides = side === 'none' ? '' : side === 'both' ? ', both sides' : `, ${side}`;
  const instruction = `Repeat the test: ${measure.label}${parts}${sides}.`;
  return {
    ...lineOf(person, findings, context),
    scope: 'repeat',
    instruction: waiting(instruction, waits(person, [measure], context)),
  };
}

function programmeLine(person: Person, findings: readonly PlanFinding[], context: Context): Line {
  const { desk } = context;
  const programme = findings[0].programme!;
  const since = findings.reduce((first, { day }) => Math.min(first, day), Number.POSITIVE_INFINITY);
  const row = desk.work(person.athleteId, programme.name, since);
  const stopped = row !== undefined && isStopped(row, desk.on) ? row : undefined;
  const start = stopped === undefined ? (row?.started ?? desk.on) : desk.on;
  // As coverage asks for it: from the test on, as long as nobody has begun, so that it does not move from day to day.
  const tested = Math.min(...findings.filter(({ grade }) => grade !== 'watch').map(({ day }) => day));
  const counted = stopped === undefined ? (row?.started ?? tested) : tested;
  const line = lineOf(person, findings, context);
  const own = programmeWords(programme.label, programme.individual ?? programme.shared);
  const instruction = stopped === undefined ? own : DECIDE_FIRST + own;
  const measures = findings.map(({ measure }) => measure);
  return {
    ...line,
    scope: 'individual',
    programme: programme.name,
    owner: programme.owner,
    reason: reasonWith(line.reason, row, desk.on),
    instruction: waiting(instruction, waits(person, measures, context)),
    start,
    retestBy: programme.retestDays === undefined ? null : counted + programme.retestDays,
  };
}

/** Work that was given up is said first. */
function reasonWith(reason: string, row: WorkRow | undefined, on: number): string {
  if (row === undefined) return reason;
  return isStopped(row, on) ? `${stoppedWords(row)} ${reason}` : `${reason} ${workWords(row)}`;
}

const STAFF_INSTRUCTIONS: Readonly<Record<string, string>> = {
  one_side: 'Test the other side, or find out why it was left out.',
  unable: 'Find out why the test could not be done, then test again.',
};

/** A finding for which the protocol prescribes nothing. */
function staffLine(person: Person, findings: readonly PlanFinding[], context: Context): Line {
  const { rule, measure, spec } = findings[0];
  const instruction = (spec === undefined ? STAFF_INSTRUCTIONS[rule] : undefined) ?? NO_PROGRAMME;
  return {
    ...lineOf(person, findings, context),
    scope: 'individual',
    instruction: waiting(instruction, waits(person, [measure], context)),
  };
}
