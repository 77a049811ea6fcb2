import { isoDay } from '../units/days.ts';
import { type ClearanceRow, clearancesOn } from './clearance.ts';
import type { ReferralRow } from './referrals.ts';
import { isNotSaid } from './side_cells.ts';
import type { WorkRow } from './work.ts';

/** full: nothing is said against it. held: not cleared, or nobody can say. limited: some regions only. */
export type Availability = 'full' | 'limited' | 'held';

/** How an athlete stands with medical staff on a day. */
export interface Standing {
  readonly availability: Availability;
  /** regions of a limited athlete, as written; '' the whole athlete */
  readonly regions: readonly string[];
  /** days since 1970-01-01 of the decision; null: not said */
  readonly since: number | null;
  /** why, in words for medical staff; '' where nothing stands against it */
  readonly why: string;
}

/** What became of sending an athlete to medical staff for a finding. */
export interface ReferralState {
  readonly state: 'open' | 'closed';
  /** days since 1970-01-01; null: not said */
  readonly since: number | null;
  readonly seenOn: number | null;
  readonly closedOn: number | null;
  /** as written, for medical staff alone */
  readonly outcome: string;
  /** how many referrals of the rule are closed that may answer the finding; one row speaks of one test */
  readonly closings: number;
  /** day on which it was closed before the finding was read again, so that it does not answer; null: it was not */
  readonly closedBefore: number | null;
}

/** What clearance.csv, referrals.csv and work.csv say on a day. */
export interface Desk {
  /** days since 1970-01-01: the day on which everything is looked at */
  readonly on: number;
  /** whether there is a clearance file: without one nobody is known to be cleared, and nobody is held */
  readonly knowsClearance: boolean;
  standing(athleteId: string): Standing;
  /**
   * The referral that answers a finding: of the same athlete and rule, written on or after its first day. It counts as
   * closed only if it was closed on its last day or later: nobody can have settled what was not read yet.
   * @param first first day of the occasion of the finding, in days since 1970-01-01
   * @param last last day on which it was read; default the first
   */
  referral(athleteId: string, rule: string, first: number, last?: number): ReferralState | undefined;
  /** The newest row of work.csv on a programme that was started on or after a day; undefined: none. */
  work(athleteId: string, programme: string, from: number): WorkRow | undefined;
}

/** Rows of the side files that the desk is made of. */
export interface DeskRows {
  readonly clearance: readonly ClearanceRow[];
  readonly referrals: readonly ReferralRow[];
  readonly work: readonly WorkRow[];
}

/**
 * @param on days since 1970-01-01 of the day on which it is looked at; what was written later counts for nothing
 * @param knowsClearance whether there is a clearance file, be it one without a line
 */
export function desk(
  { clearance, referrals, work }: DeskRows,
  on: number,
  knowsClearance: boolean = clearance.length > 0,
): Desk {
  const referred = byAthlete(referrals);
  const worked = byAthlete(work);
  const cleared = byAthlete(clearance);
  return {
    on,
    knowsClearance,
    standing: (athleteId) => standingOf(clearancesOn(cleared.get(athleteId) ?? [], athleteId, on), on),
    referral: (athleteId, rule, first, last = first) =>
      referralOf(referred.get(athleteId) ?? [], { rule, first, last, on }),
    work(athleteId, programme, from) {
      const rows = (worked.get(athleteId) ?? []).filter(
        (row) => row.programme === programme && row.started !== null && row.started >= from && row.started <= on,
      );
      return rows.toSorted((a, b) => b.started! - a.started!)[0];
    },
  };
}

function byAthlete<R extends { readonly athleteId: string }>(rows: readonly R[]): ReadonlyMap<string, readonly R[]> {
  const known = new Map<string, R[]>();
  for (const row of rows) {
    const own = known.get(row.athleteId);
    if (own) own.push(row);
    else known.set(row.athleteId, [row]);
  }
  return known;
}

/** @param rows what stands on the day, the most careful first */
function standingOf(rows: readonly ClearanceRow[], on: number): Standing {
  if (rows.length === 0)
    return { availability: 'full', regions: [], since: null, why: 'no line in the clearance file' };
  const holding = rows.find((row) => isHolding(row, on));
  if (holding) return { availability: 'held', regions: [], since: holding.day, why: whyOf(holding, on) };
  const limits = rows.filter(({ status }) => status === 'limited');
  if (limits.length === 0) return { availability: 'full', regions: [], since: clearedWhole(rows), why: '' };
  return {
    availability: 'limited',
    regions: limits.map(({ region }) => (isNotSaid(region) ? '' : region)),
    since: limits[0].day,
    why: limits.map((row) => whyOf(row, on)).join('; '),
  };
}

/** Not cleared, or nobody can say: also where only one region is meant, and where a clearance has run out. */
function isHolding(row: ClearanceRow, on: number): boolean {
  return row.status === 'cleared' ? hasRunOut(row, on) : row.status !== 'limited';
}

const hasRunOut = ({ until }: ClearanceRow, on: number): boolean => until !== null && until < on;

const STATUS_WORDS = { not_cleared: 'not cleared', pending: 'clearance pending', limited: 'limited' } as const;

function whyOf(row: ClearanceRow, on: number): string {
  const { status, region, side, day, until } = row;
  const part = isNotSaid(region) ? '' : ` (${[side, region].filter((word) => word !== null).join(' ')})`;
  if (status === 'cleared') return `clearance${part} ran out on ${isoDay(until!)}`;
  if (status === null) return `the clearance${part}${day === null ? '' : ` of ${isoDay(day)}`} cannot be read`;
  const said = STATUS_WORDS[status];
  const since = day === null ? '' : ` since ${isoDay(day)}`;
  if (until === null) return `${said}${part}${since}`;
  return hasRunOut(row, on)
    ? `${said}${part}${since}, to be looked at again by ${isoDay(until)}, which has passed`
    : `${said}${part}${since}, until ${isoDay(until)}`;
}

/** The day on which the whole athlete was cleared; the clearance of a region says nothing of the rest. */
function clearedWhole(rows: readonly ClearanceRow[]): number | null {
  return rows.find(({ status, region }) => status === 'cleared' && isNotSaid(region))?.day ?? null;
}

interface Asked {
  readonly rule: string;
  /** days since 1970-01-01: of the finding, and of the day that is looked at */
  readonly first: number;
  readonly last: number;
  readonly on: number;
}

/** The newest referral that may answer a finding of a day; one whose own day cannot be read closes nothing. */
function referralOf(rows: readonly ReferralRow[], { rule, first, last, on }: Asked): ReferralState | undefined {
  const answering = rows.filter(
    (row) => row.rule === rule && (row.day === null || (row.day >= first && row.day <= on)),
  );
  const states = answering.map((row) => {
    const isClosed = row.day !== null && row.closedOn !== null && row.closedOn <= on && row.closedOn >= last;
    const closedOn = isClosed ? row.closedOn : null;
    const seenOn = row.seenOn !== null && row.seenOn <= on ? row.seenOn : null;
    const outcome = seenOn === null && closedOn === null ? '' : row.outcome;
    const state = closedOn === null ? ('open' as const) : ('closed' as const);
    const isKnown = row.day !== null && row.closedOn !== null && row.closedOn <= on;
    const closedBefore = isKnown && !isClosed ? row.closedOn : null;
    return { state, since: row.day, seenOn, closedOn, outcome, closedBefore };
  });
  const before = (a: (typeof states)[number], b: (typeof states)[number]): number =>
    (b.since ?? Number.NEGATIVE_INFINITY) - (a.since ?? Number.NEGATIVE_INFINITY) ||
    Number(a.state === 'closed') - Number(b.state === 'closed');
  const newest = states.toSorted(before)[0];
  return newest && { ...newest, closings: states.filter(({ state }) => state === 'closed').length };
}
