import type { Measure } from '../protocol/types.ts';
import { round9 } from '../stats/round9.ts';
import { median } from '../stats/simple.ts';
import { MARK } from '../tables/schemas.ts';
import { SIDES } from '../units/sides.ts';
import { OBSERVATION_STATUSES } from '../units/statuses.ts';
import { STATUS_BIT } from './statuses.ts';
import type { TrialStore } from './trials.ts';

const code = (status: (typeof OBSERVATION_STATUSES)[number]): number => OBSERVATION_STATUSES.indexOf(status);
const PAIN = code('pain');
const UNABLE = code('unable');
const REFUSED = code('refused');
const NOT_TESTED = code('not_tested');
const HELD = code('held');
const LEFT = SIDES.indexOf('left');
const RIGHT = SIDES.indexOf('right');
/** Above so many attempts a set finds repeats faster than comparing each with each. */
const FEW = 16;

/** What one side of one measure comes to on one occasion. Reused from call to call: read it before the next. */
export interface Kept {
  /** kept score, NaN: none */
  score: number;
  /** measured attempts */
  count: number;
  least: number;
  most: number;
  /** 100·(max − min)/mean of the attempts, NaN where undefined */
  spreadPct: number;
  /** STATUS_BIT of what the attempts say */
  statuses: number;
  /** MARK bits */
  marks: number;
}

const values: number[] = [];
const seen: number[] = [];

function isRepeat(store: TrialStore, trial: number, seenKeys: Set<string> | undefined): boolean {
  const { day, trial: number, value, status } = store;
  if (seenKeys) {
    const key = `${day[trial]} ${number[trial]} ${value[trial]} ${status[trial]}`;
    if (seenKeys.has(key)) return true;
    seenKeys.add(key);
    return false;
  }
  for (const other of seen) {
    if (
      value[other] === value[trial] &&
      number[other] === number[trial] &&
      day[other] === day[trial] &&
      status[other] === status[trial]
    ) {
      return true;
    }
  }
  seen.push(trial);
  return false;
}

/** By day, number and appearance. Most attempts stand in order already, and looking is cheaper than sorting. */
function inTrialOrder(store: TrialStore, trials: number[]): number[] {
  const { day, trial: number } = store;
  const compare = (a: number, b: number): number => day[a] - day[b] || number[a] - number[b] || a - b;
  for (let at = 1; at < trials.length; at++) if (compare(trials[at - 1], trials[at]) > 0) return trials.sort(compare);
  return trials;
}

function scoreOf({ better, trials: { keep } }: Measure, kept: Kept, sum: number): number {
  switch (keep) {
    case 'best':
      return better === 'lower' ? kept.least : kept.most;
    case 'mean':
      return sum / kept.count;
    case 'median':
      return median(values)!;
    case 'first':
      return values[0];
    case 'last':
      return values[values.length - 1];
  }
}

/**
 * Reduces the attempts of one side. A painful attempt with a value counts; an equal repeat of the same attempt (day,
 * number, value) counts once; void attempts count as nothing.
 * @param trials indices into the store, of one measure and side
 */
export function keep(store: TrialStore, measure: Measure, side: number, trials: number[], into: Kept): void {
  values.length = 0;
  seen.length = 0;
  into.score = Number.NaN;
  into.count = 0;
  into.least = Number.NaN;
  into.most = Number.NaN;
  into.spreadPct = Number.NaN;
  into.statuses = 0;
  into.marks = 0;
  if (trials.length === 0) return;
  const ordered = trials.length > 1 ? inTrialOrder(store, trials) : trials;
  const keys = trials.length > FEW ? new Set<string>() : undefined;
  let sum = 0;
  for (const trial of ordered) {
    const status = store.status[trial];
    if (status === PAIN) into.marks |= side === LEFT ? MARK.painLeft : side === RIGHT ? MARK.painRight : MARK.painOther;
    else if (status === UNABLE) {
      into.marks |= side === LEFT ? MARK.unableLeft : side === RIGHT ? MARK.unableRight : MARK.unableOther;
      into.statuses |= STATUS_BIT.unable;
    } else if (status === REFUSED) into.statuses |= STATUS_BIT.refused;
    else if (status === NOT_TESTED) into.statuses |= STATUS_BIT.not_tested;
    else if (status === HELD) into.statuses |= STATUS_BIT.held;
    const value = store.value[trial];
    if (Number.isNaN(value)) continue;
    if (ordered.length > 1 && isRepeat(store, trial, keys)) {
      into.statuses |= STATUS_BIT.repeated_row;
      continue;
    }
    values.push(value);
    sum += value;
    if (!(value >= into.least)) into.least = value;
    if (!(value <= into.most)) into.most = value;
  }
  if (into.marks & (MARK.painLeft | MARK.painRight | MARK.painOther)) {
    into.statuses |= side === LEFT ? STATUS_BIT.pain_left : side === RIGHT ? STATUS_BIT.pain_right : STATUS_BIT.pain;
  }
  into.count = values.length;
  if (into.count === 0) return;
  into.score = scoreOf(measure, into, sum);
  const average = sum / into.count;
  if (into.count >= 2 && into.least >= 0 && average > 0) into.spreadPct = (100 * (into.most - into.least)) / average;
  if (into.count < measure.trials.expect) into.statuses |= STATUS_BIT.few_trials;
  const { spreadPct } = measure.trials;
  if (spreadPct !== undefined && round9(into.spreadPct) > round9(spreadPct)) into.statuses |= STATUS_BIT.wide_spread;
}

export function emptyKept(): Kept {
  return { score: Number.NaN, count: 0, least: Number.NaN, most: Number.NaN, spreadPct: Number.NaN, statuses: 0, marks: 0 };
}
