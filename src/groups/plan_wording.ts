import type { ReferralState, Standing } from '../athletes/desk.ts';
import type { WorkRow } from '../athletes/work.ts';
import { formatBeside } from '../findings/format_beside.ts';
import { CHECK_THE_TEST_FIRST } from '../findings/wording.ts';
import type { Comparator, Programme, Rule, Urgency } from '../protocol/types.ts';
import { round9 } from '../stats/round9.ts';
import { grouped } from '../tables/grouped.ts';
import { isoDay } from '../units/days.ts';
import { withUnit } from '../units/unit_text.ts';
import type { Limits } from './limits.ts';
import { highestGrade, type PlanFinding } from './plan_findings.ts';
import type { Current } from './plan_triage.ts';

const SEEN: Record<Urgency, string> = {
  now: 'Medical staff see the athlete now.',
  before_training: 'Medical staff see the athlete before training.',
  routine: 'Medical staff see the athlete routinely.',
};

/** Stands before work that has to wait until an athlete was seen. */
export const SEEN_FIRST = 'After medical staff have seen the athlete: ';

/** Stands before work that was given up: nobody goes on by themselves. */
export const DECIDE_FIRST = 'Decide whether to go on: ';

export const NO_PROGRAMME = 'No programme in the protocol: staff decide.';

/** Who sees an athlete and when, with what the programme of the finding says. */
export function referInstruction(urgency: Urgency, programme: Programme | undefined): string {
  const own = programme?.individual;
  return own === undefined ? SEEN[urgency] : `${SEEN[urgency]} ${programme!.label}: ${own}`;
}

/**
 * That nothing is done with an athlete for now.
 * @param urgency of a referral among the findings; undefined: there is none
 */
export function holdInstruction({ isWhole, parts }: Limits, urgency: Urgency | undefined): string {
  const what = isWhole ? 'no training' : `no work on ${[...parts].join(', ')}`;
  return urgency === undefined ? `Hold: ${what} until medical staff say so.` : `Hold: ${what}. ${SEEN[urgency]}`;
}

/** Why an athlete does not take part in all, for medical staff. */
export function standingWords({ availability, why }: Standing): string {
  if (why !== '') return why;
  return availability === 'held' ? 'not cleared' : 'limited by medical staff';
}

/** What is held beyond the limited parts of the body, and why; '' where nothing is. */
export function limitWords({ isWhole, unplaced }: Limits, hasUnplacedFinding: boolean): string {
  if (unplaced.length > 0) {
    const named = unplaced.map((part) => JSON.stringify(part)).join(', ');
    const are = unplaced.length === 1 ? `The region ${named} is` : `The regions ${named} are`;
    return `${are} none of the protocol, so everything is held.`;
  }
  return hasUnplacedFinding && !isWhole ? 'Findings that the protocol gives no region are held too.' : '';
}

/** Text with a capital first letter and a full stop. */
export function sentence(text: string): string {
  const whole = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.?]$/.test(whole) ? whole : `${whole}.`;
}

/** Since when a referral is open, and whether there is a newer reading. */
export function openWords({ finding, referral, again }: Current, { availability, since }: Standing): string {
  const words = [referralWords(referral, finding.day)];
  if (again !== undefined) words.push(`measured again on ${isoDay(again)}, and still open`);
  if (availability === 'full' && since !== null && since > finding.day) words.push(`cleared on ${isoDay(since)}`);
  return sentence(words.join('; '));
}

function referralWords(referral: ReferralState | undefined, day: number): string {
  if (referral === undefined) return `found on ${isoDay(day)}, no referral written yet`;
  const { since, seenOn, closings, closedBefore } = referral;
  const from = since === null ? 'referred on a day that is not said' : `referred on ${isoDay(since)}`;
  if (closedBefore !== null) return `${from}, closed on ${isoDay(closedBefore)} and read again since`;
  if (closings > 0) return `${from} and closed, for one of several tests: a line is needed for each`;
  return seenOn === null ? `${from}, not yet seen` : `${from}, seen on ${isoDay(seenOn)}, not yet closed`;
}

/** The messages of findings, one after the other; of one number those of the strictest grade. */
export function messagesOf(findings: readonly PlanFinding[]): string {
  const numberOf = ({ measure, side, day, field }: PlanFinding): string => `${measure.name} ${side} ${day} ${field}`;
  const strictest = new Map(
    [...grouped(findings, numberOf)].map(([number, own]) => [number, highestGrade(own.map(({ grade }) => grade))]),
  );
  const told = findings.filter((finding) => strictest.get(numberOf(finding)) === finding.grade);
  return [...new Set(told.map(({ message }) => message))].join(' ');
}

/** What work.csv says of work that goes on. */
export function workWords({ started, planned, done }: WorkRow): string {
  const words = [started === null ? 'started' : `started ${isoDay(started)}`];
  if (done !== null) words.push(`${sessionWords(done, planned)} done`);
  return sentence(words.join(', '));
}

/** That work was given up. Why stands in work.csv, and may be for medical staff alone. */
export function stoppedWords({ line, planned, done, stopped }: WorkRow): string {
  const after = done === null ? '' : ` after ${sessionWords(done, planned)}`;
  return `Stopped on ${isoDay(stopped!)}${after}, see work.csv, line ${line}.`;
}

function sessionWords(done: number, planned: number | null): string {
  const last = planned ?? done;
  return `${planned === null ? done : `${done} of ${planned}`} session${last === 1 ? '' : 's'}`;
}

/** Label and text of a programme. */
export function programmeWords(label: string, text: string | undefined): string {
  return text === undefined ? sentence(label) : `${label}: ${text}`;
}

/** Work of one athlete, after medical staff have seen the athlete if that comes first. */
export function waiting(instruction: string, isSeenFirst: boolean): string {
  return isSeenFirst ? SEEN_FIRST + instruction : instruction;
}

const LIMIT: Record<Comparator, (limit: string) => string> = {
  below: (limit) => `below ${limit}`,
  at_most: (limit) => `${limit} or less`,
  above: (limit) => `above ${limit}`,
  at_least: (limit) => `${limit} or more`,
};

/** A rule in plain words: "Hip adduction strength below 150 N". */
export function ruleWords({ measure, field, comparator, limit, status }: Rule): string {
  if (comparator === undefined || limit === undefined) return `${measure.label}: ${status}`;
  const unit = field.endsWith('_pct') ? '%' : measure.unit.code;
  const what = field === 'value' ? measure.label : `${measure.label}, ${FIELD_WORDS[field] ?? field}`;
  return `${what} ${LIMIT[comparator](withUnit(String(limit), unit))}`;
}

const FIELD_WORDS: Readonly<Record<string, string>> = {
  worse: 'worse side',
  deficit_pct: 'side-to-side deficit',
  gap: 'side-to-side gap',
  difference: 'right minus left',
  direction_pct: 'right minus left',
  dominance_pct: 'dominant minus other side',
  dominance_gap: 'dominant minus other side',
};

/** How many of a team break a rule. */
export interface ShareFacts {
  readonly rule: Rule;
  readonly flagged: number;
  readonly tested: number;
  /** 0 to 1, with its 95 % interval */
  readonly share: number;
  readonly low: number | null;
  readonly high: number | null;
  /** more than half of everybody break it: likelier the test is off than the athletes */
  readonly isQuestioned: boolean;
}

/** "9 of 20 tested (45 %, 95 % interval 26 to 66 %): …" */
export function shareWords(
  { rule, flagged, tested, share, low, high, isQuestioned }: ShareFacts,
  fromShare: number,
): string {
  const percent = (part: number): string => String(Math.round(100 * part));
  const exact = formatBeside(100 * round9(share), 100 * fromShare);
  const interval = low === null || high === null ? '' : `, 95 % interval ${percent(low)} to ${percent(high)} %`;
  const doubt = isQuestioned ? ` More than half of everybody: ${CHECK_THE_TEST_FIRST}.` : '';
  return `${flagged} of ${tested} tested (${exact} %${interval}): ${ruleWords(rule)}.${doubt}`;
}

/** Stands before work that may be owed to the test and not to the athletes. */
export const TEST_IN_DOUBT = `First of all ${CHECK_THE_TEST_FIRST.replace(' first', '')}. `;
