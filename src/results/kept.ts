import type { Measure } from '../protocol/types.ts';
import { round9 } from '../stats/round9.ts';
import { median } from '../stats/simple.ts';
import { MARK } from '../tables/schemas.ts';
import { SIDES } from '../units/sides.ts';
import { OBSERVATION_STATUSES } from '../units/statuses.ts';
import { STATUS_BIT } from './statuses.ts';
import { NO_NUMBER, type TrialStore } from './trials.ts';

const code = (status: (typeof OBSERVATION_STATUSES)[number]): number => OBSERVATION_STATUSES.indexOf(status);
const MEASURED = code('measured');
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

/** Attempts of one measure and side on one occasion: the first `count` of `trials`, indices into the store. */
export interface Slot {
  readonly trials: number[];
  /** Set to 0 to use the slot anew: emptying the array itself would give its memory away, millions of times. */
  count: number;
}

/** Attempts of the slot at hand that count, as far as `Kept.count`. */
const counted: number[] = [];

/** Whether the same reading stands twice. Attempts without a number are told apart by nothing and all count. */
function isRepeat(store: TrialStore, trial: number, count: number, seenKeys: Set<string> | undefined): boolean {
  const { day, trial: number, value, status } = store;
  if (number[trial] === NO_NUMBER) return false;
  if (seenKeys !== undefined) {
    const key = `${day[trial]} ${number[trial]} ${value[trial]} ${status[trial]}`;
    if (seenKeys.has(key)) return true;
    seenKeys.add(key);
    return false;
  }
  for (let at = 0; at < count; at++) {
    const other = counted[at];
    if (
      value[other] === value[trial] &&
      number[other] === number[trial] &&
      day[other] === day[trial] &&
      status[other] === status[trial]
    ) {
      return true;
    }
  }
  return false;
}

/** By day, number and appearance. Most attempts stand in order already, and looking is cheaper than sorting. */
function sortAttempts({ day, trial: number }: TrialStore, { trials, count }: Slot): void {
  const compare = (a: number, b: number): number => day[a] - day[b] || number[a] - number[b] || a - b;
  let at = 1;
  while (at < count && compare(trials[at - 1], trials[at]) <= 0) at++;
  if (at >= count) return;
  trials.length = count;
  trials.sort(compare);
}

function scoreOf(
  { value }: TrialStore,
  { better, trials }: Measure,
  { count, least, most }: Kept,
  sum: number,
): number {
  switch (trials.keep) {
    case 'best':
      return better === 'lower' ? least : most;
    case 'mean':
      return sum / count;
    case 'median':
      return median(counted.slice(0, count).map((trial) => value[trial]))!;
    case 'first':
      return value[counted[0]];
    case 'last':
      return value[counted[count - 1]];
  }
}

/**
 * Reduces the attempts of one side. A painful attempt with a value counts; an equal repeat of the same attempt (day,
 * number, value and status) counts once; void attempts count as nothing.
 */
export function keep(store: TrialStore, measure: Measure, side: number, slot: Slot, into: Kept): void {
  into.score = Number.NaN;
  into.count = 0;
  into.least = Number.NaN;
  into.most = Number.NaN;
  into.spreadPct = Number.NaN;
  into.statuses = 0;
  into.marks = 0;
  if (slot.count === 0) return;
  if (slot.count > 1) sortAttempts(store, slot);
  const keys = slot.count > FEW ? new Set<string>() : undefined;
  let sum = 0;
  for (let at = 0; at < slot.count; at++) {
    const trial = slot.trials[at];
    const status = store.status[trial];
    if (status === PAIN) into.marks |= side === LEFT ? MARK.painLeft : side === RIGHT ? MARK.painRight : MARK.painOther;
    else if (status === UNABLE) {
      into.marks |= side === LEFT ? MARK.unableLeft : side === RIGHT ? MARK.unableRight : MARK.unableOther;
      into.statuses |= STATUS_BIT.unable;
    } else if (status === REFUSED) into.statuses |= STATUS_BIT.refused;
    else if (status === NOT_TESTED) into.statuses |= STATUS_BIT.not_tested;
    else if (status === HELD) into.statuses |= STATUS_BIT.held;
    const value = store.value[trial];
    if (Number.isNaN(value) || (status !== MEASURED && status !== PAIN)) continue;
    if (slot.count > 1 && isRepeat(store, trial, into.count, keys)) {
      into.statuses |= STATUS_BIT.repeated_row;
      continue;
    }
    counted[into.count++] = trial;
    sum += value;
    if (!(value >= into.least)) into.least = value;
    if (!(value <= into.most)) into.most = value;
  }
  if (into.marks & (MARK.painLeft | MARK.painRight | MARK.painOther)) {
    into.statuses |= side === LEFT ? STATUS_BIT.pain_left : side === RIGHT ? STATUS_BIT.pain_right : STATUS_BIT.pain;
  }
  if (into.count === 0) return;
  into.score = scoreOf(store, measure, into, sum);
  const average = sum / into.count;
  if (into.count >= 2 && into.least >= 0 && average > 0) into.spreadPct = (100 * (into.most - into.least)) / average;
  if (into.count < measure.trials.expect) into.statuses |= STATUS_BIT.few_trials;
  const { spreadPct } = measure.trials;
  if (spreadPct !== undefined && round9(into.spreadPct) > round9(spreadPct)) into.statuses |= STATUS_BIT.wide_spread;
}

export function emptyKept(): Kept {
  return {
    score: Number.NaN,
    count: 0,
    least: Number.NaN,
    most: Number.NaN,
    spreadPct: Number.NaN,
    statuses: 0,
    marks: 0,
  };
}
