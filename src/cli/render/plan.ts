import { PRIORITY_LINES } from '../../groups/plan_priority.ts';
import { UNPLANNED_KINDS, type Unplanned, type UnplannedKind } from '../../groups/plan_triage.ts';
import type { Protocol } from '../../protocol/types.ts';
import type { Plan } from '../../tables/schemas.ts';
import { isoDay } from '../../units/days.ts';
import type { Audience } from '../audience.ts';
import type { PlanBy } from '../plan_wanted.ts';
import { CAUTIONS } from './cautions.ts';
import { counted } from './counted.ts';
import { type PlanRow, type PlanSection, planSections } from './plan_sections.ts';
import { printable } from './printable.ts';
import { heading, type Setting, wrapped } from './text.ts';

/** What a text says besides the lines. */
export interface PlanFacts {
  readonly season: number | null;
  /** days since 1970-01-01 */
  readonly on: number;
  readonly by: PlanBy | undefined;
  readonly audience: Audience;
  readonly names: ReadonlyMap<string, string>;
  /** whether there is a clearance file */
  readonly knowsClearance: boolean;
  /** athletes of whom an existing clearance file says nothing */
  readonly withoutClearance: readonly string[];
  readonly unplanned: readonly Unplanned[];
  /** lines of the whole plan that this audience sees */
  readonly total: number;
  readonly protocol: Protocol;
}

/** Athletes of one sentence who are named. */
const MOST_NAMED = 20;
const INDENT = 5;

/** The work list for the eye: by what kind of work it is, or by athlete or programme. */
export function planText(plan: Plan, facts: PlanFacts, setting: Setting): string {
  const { season, on, by, audience, total, protocol } = facts;
  const isCoach = audience === 'coach';
  // That there is nobody is said of the whole plan only. A coach sees nobody who is sent to medical staff as such.
  const isWhole = plan.length === total && !isCoach;
  const sections = planSections(plan, by, protocol).filter(
    ({ rows, none }) => rows.length > 0 || (isWhole && none !== undefined),
  );
  const when = season === null ? '' : ` of season ${season}, looked at from ${isoDay(on)}`;
  const count = plan.length === total ? counted(total, 'line') : `${plan.length} of ${counted(total, 'line')}`;
  return (
    wrapped(`Work list${when}: ${count}`, setting) +
    wrapped(isCoach ? COACH_ORDER : PRIORITY_LINES.join(' '), setting) +
    clearanceText(facts, setting) +
    sections.map((section) => sectionText(section, facts, setting)).join('') +
    (isCoach ? '' : unplannedText(facts, setting)) +
    heading('Cautions', setting) +
    (isCoach ? COACH_CAUTIONS : CAUTIONS).map((caution) => wrapped(`- ${caution}`, setting, 0, 2)).join('')
  );
}

const COACH_ORDER = 'The number before each line is the order in which staff act.';
const COACH_CAUTIONS = [
  'Whoever is not on this list is not cleared by that: medical staff decide who is available.',
  'Questions about an athlete go to strength or medical staff.',
];

/** That nobody is held, or of whom nothing says that they are cleared; '' where all is known. */
export function clearanceText(
  { knowsClearance, withoutClearance }: Pick<PlanFacts, 'knowsClearance' | 'withoutClearance'>,
  setting: Setting,
): string {
  if (!knowsClearance) {
    return wrapped('There is no clearance.csv: nobody is known to be cleared, and nobody is held back.', setting);
  }
  if (withoutClearance.length === 0) return '';
  const who = list(withoutClearance);
  const verb = withoutClearance.length === 1 ? 'has' : 'have';
  return wrapped(
    `${counted(withoutClearance.length, 'athlete')} ${verb} no line in clearance.csv, so nothing says that they are cleared: ${who}.`,
    setting,
  );
}

function list(ids: readonly string[]): string {
  const left = ids.length - MOST_NAMED;
  return ids.slice(0, MOST_NAMED).map(printable).join(', ') + (left > 0 ? ` and ${left} more` : '');
}

function sectionText({ title, rows, none }: PlanSection, facts: PlanFacts, setting: Setting): string {
  const lines = rows.filter(({ scope }) => scope !== 'left_out').length;
  const head = heading(printable(lines === 0 ? title : `${title}: ${lines}`), setting);
  if (rows.length === 0) return head + wrapped(none ?? '', setting);
  return head + rows.map((row) => entryText(row, facts, setting)).join('');
}

function entryText(row: PlanRow, facts: PlanFacts, setting: Setting): string {
  const parts = [row.instruction, row.reason === null ? null : `Why: ${row.reason}`, datesOf(row)];
  return (
    numbered(row.priority ?? 0, headOf(row, facts), setting) +
    parts.map((part) => (part === null ? '' : wrapped(printable(part), setting, INDENT))).join('')
  );
}

/** Numbers stand right, the text behind them one under the other. */
function numbered(number: number, text: string, setting: Setting): string {
  return wrapped(`${number}  ${text}`, setting, Math.max(0, INDENT - 2 - String(number).length), INDENT);
}

function headOf(row: PlanRow, { names, protocol }: PlanFacts): string {
  const { athlete_id, group, team, programme, side, owner, scope } = row;
  const name = names.get(athlete_id ?? '');
  const who = [athlete_id, name].filter((part) => part !== null && part !== undefined).join(' ');
  const label = protocol.programmes.get(programme ?? '')?.label;
  const work = [label ?? '', sideWords(side)].filter((part) => part !== '').join(', ');
  const whose = owner === null ? '' : ` (${owner} staff)`;
  const words = [who === '' ? (group ?? '') : `${who}${teamWords(group ?? team)}`, work + (work === '' ? '' : whose)];
  const prefix = scope === 'left_out' ? 'Without ' : '';
  return printable(prefix + words.filter((part) => part !== '').join(': '));
}

const teamWords = (team: string | null): string => (team === null ? '' : `, ${team.replaceAll(';', ', ')}`);

function sideWords(side: string | null): string {
  if (side === null || side === 'none') return '';
  return side === 'both' ? 'both sides' : side;
}

/** Work that lasts has its days. */
function datesOf({ start, retest_by, scope }: PlanRow): string | null {
  if (scope !== 'shared' && scope !== 'individual') return null;
  const until = retest_by === null ? '' : ` Test again by ${retest_by}.`;
  return start === null ? until.trim() || null : `From ${start}.${until}`;
}

const UNPLANNED_WORDS: Record<UnplannedKind, string> = {
  earlier_season: 'of an earlier season',
  left_team: 'of athletes who left the team',
  closed: 'referred, and the referral is closed',
  measured_again: 'measured again since',
  watched: 'watched only: grade watch alone brings no work',
  too_many_programmes: 'waiting: the athlete has as many programmes as the protocol allows',
};

function unplannedText({ unplanned }: PlanFacts, setting: Setting): string {
  const head = heading(`Findings without a line: ${unplanned.length}`, setting);
  if (unplanned.length === 0) return `${head}None.\n`;
  const lines = UNPLANNED_KINDS.map((kind): [string, number] => [
    UNPLANNED_WORDS[kind],
    unplanned.filter((one) => one.kind === kind).length,
  ]).filter(([, count]) => count > 0);
  return (
    head +
    lines.map(([words, count]) => numbered(count, words, setting)).join('') +
    wrapped('Each of them with its reason: --uncovered FILE.', setting)
  );
}
